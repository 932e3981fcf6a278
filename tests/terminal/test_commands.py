"""The commands as a cook runs them: what they print, what they write, and their exit codes."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.cli import main

ROOT = Path(__file__).parents[2]
BREAD = "overnight-dimpled-bread"


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with the demo's content in it."""
    shutil.copytree(ROOT / "content", tmp_path / "content")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    def command(*words: str) -> tuple[int, str, str]:
        try:
            code = main(words)
        except SystemExit as stop:
            code = int(stop.code or 0)
        out, err = capsys.readouterr()
        return code, out, err

    return command


Run = Callable[..., tuple[int, str, str]]


def test_an_empty_folder_says_what_to_do_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, _ = run()
    assert code == 0 and "levelcup draft --blank" in out
    code, _, err = run("check")
    assert code == 2 and "levelcup draft --blank" in err
    code, out, _ = run("draft", "--blank", "Sunday flatbread")
    assert code == 0 and Path("content/recipes/sunday-flatbread/recipe.yaml").is_file()
    assert run("check")[0] == 0
    before = Path("content/recipes/sunday-flatbread/recipe.yaml").read_bytes()
    assert run("draft", "--blank", "Sunday flatbread")[0] == 2
    assert Path("content/recipes/sunday-flatbread/recipe.yaml").read_bytes() == before


@pytest.mark.parametrize("title", ["Very " * 60 + "long buns", "x" * 300, "Crème " * 50])
def test_a_title_of_any_length_starts_a_recipe(
    title: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run
) -> None:
    monkeypatch.chdir(tmp_path)
    code, _, err = run("draft", "--blank", title)
    assert code == 0, err
    (made,) = Path("content/recipes").glob("*/recipe.yaml")
    assert len(made.parent.name) <= 80 and not made.parent.name.endswith("-")
    assert run("check")[0] == 0
    page = tmp_path / "page.html"
    recipe = {"@type": "Recipe", "name": f"Old {title}", "recipeIngredient": ["1 cup water"]}
    page.write_text(f"<html><script type='application/ld+json'>{json.dumps(recipe)}</script></html>", "utf-8")
    code, _, err = run("draft", str(page))
    assert code == 0, err


@pytest.mark.parametrize(
    "question,code,said",
    [
        ("3 cups bread flour", 0, "410 g"),
        ("200 g or 3/4 cup sourdough starter", 0, "agrees"),
        ("300 g or 1 1/2 cups water", 1, "300 g or 1 1/4 cups"),
        ("450 F", 0, "230 °C"),
        ("450 C or 230 F", 1, "450 F or 230 C"),
        ("1 cup moon dust", 1, "the table has no moon dust"),
        ("350 degrees", 2, "350 F"),
        ("bake at 350 degrees", 2, "350 F"),
        ("180 degrees fan", 0, "180 °C fan"),
        ("245 F or 118 C candy", 0, "agrees"),
        ("fridge 40 F or 8 C", 1, "40 F or 4 C"),
        ("moderate oven", 0, "350–375 °F"),
        ("30 minutes or 1/2 hour", 0, "agrees"),
        ("simmer 20 min or 1/2 h", 1, "20 min"),
        ("overnight", 0, "8 to 12"),
        ("2 c flour", 0, "250 g"),
        ("20 c flour", 0, "2.5 kg"),
        ("salt & pepper, to taste", 0, "black pepper, ground"),
        ("unobtainium and pepper", 1, "the table has no unobtainium"),
        ("2 eggs + 1 yolk", 0, "egg yolk"),
        ("1/0 cup flour", 2, "is no number"),
        ("500ml/18fl oz whole milk", 0, "515 g"),
        ("1 packet or 8 g chocolate chips", 0, "a packet comes in any size"),
        ("1 packet chocolate chips", 0, "say what it weighs: `1 packet (100 g) chocolate chips`"),
        ("one 28-ounce can whole peeled tomatoes", 0, "what you say of it counts, `28-ounce`"),
    ],
)
def test_weigh(question: str, code: int, said: str, run: Run) -> None:
    got, out, err = run("weigh", question)
    assert got == code
    assert said in out + err


def test_a_pinch_says_what_it_is_and_nothing_of_rounding(run: Run) -> None:
    out = run("weigh", "1 pinch salt")[1]
    assert "1/16 tsp" in out and "rounding" not in out


def test_the_audiences_cup_is_a_setting(run: Run) -> None:
    assert "237 g" in run("weigh", "1 cup water")[1]
    assert "250 g" in run("weigh", "--cup", "metric", "1 cup water")[1]


def test_check_has_three_forms(kitchen: Path, run: Run) -> None:
    code, out, _ = run("check", "content/recipes/cocoa-oat-squares")
    assert code == 1 and "^" in out
    code, lines, _ = run("check", "--format", "line", "content/recipes/cocoa-oat-squares")
    assert code == 1 and all(": " in line and "[" in line for line in lines.splitlines())
    code, text, _ = run("check", "--format", "json", "content/recipes/cocoa-oat-squares")
    assert code == 1 and json.loads(text)["version"] == 1
    assert len(lines.splitlines()) == sum(len(r["findings"]) for r in json.loads(text)["recipes"])
    assert run("check", f"content/recipes/{BREAD}")[0] == 0
    (kitchen / "content/recipes/broken.yaml").write_text("title: [", encoding="utf-8")
    assert run("check", "content/recipes/broken.yaml")[0] == 2


@pytest.mark.parametrize(
    "words",
    [("chek",), ("check", "--format", "xml"), ("weigh",), ("chapters", "overnight-bread"), ("check", "nowhere")],
)
def test_wrong_use_is_two_and_says_how(words: tuple[str, ...], kitchen: Path, run: Run) -> None:
    code, out, err = run(*words)
    assert code == 2 and not out and "error" in err


def test_errors_stop_publishing_and_the_last_site_stays(kitchen: Path, run: Run) -> None:
    code, out, _ = run("publish")
    assert code == 0 and "1 draft left out" in out
    before = {p: p.read_bytes() for p in (kitchen / "site_out").rglob("*") if p.is_file()}
    assert not any("cocoa-oat-squares" in str(p) for p in before)
    source = kitchen / "content/recipes/charred-pepper-sauce/recipe.yaml"
    source.write_text(
        source.read_text("utf-8").replace("\ntitle:", "\ntitle_:", 1).replace("title:", "tittle:", 1), "utf-8"
    )
    code, _, err = run("publish")
    assert code == 2 and "nothing was published" in err
    assert {p: p.read_bytes() for p in (kitchen / "site_out").rglob("*") if p.is_file()} == before


def test_a_wrong_word_of_the_pages_stops_publishing_by_its_line(kitchen: Path, run: Run) -> None:
    own = kitchen / "templates" / "words.yaml"
    own.parent.mkdir()
    own.write_text("recipe:\n  metod: How it is done\n", "utf-8")
    told = "templates/words.yaml:2: there is no entry `recipe.metod`; `recipe.method`?"
    code, _, err = run("publish")
    assert code == 2 and told in err and "nothing was published" in err
    assert "cocoa-oat-squares" not in err  # what is wrong with a draft stops nothing
    code, _, err = run("chapters", "overnight-dimpled-bread")
    assert code == 2 and told in err
    own.write_text("post: {intro: Vorspann}\n", "utf-8")
    code, out, _ = run("chapters", "overnight-dimpled-bread")
    assert code == 0 and out.startswith("0:00 Vorspann")


def test_chapters_come_in_three_forms(kitchen: Path, run: Run) -> None:
    code, out, _ = run("chapters", BREAD)
    assert code == 0 and out.startswith("0:00 ")
    assert run("chapters", BREAD, "--format", "webvtt")[1].startswith("WEBVTT")
    assert run("chapters", BREAD, "--format", "ffmetadata")[1].startswith(";FFMETADATA1")


def test_marks_heard_in_the_film_are_written_without_touching_another_byte(kitchen: Path, run: Run) -> None:
    source = kitchen / f"content/recipes/{BREAD}/recipe.yaml"
    whole = source.read_text("utf-8")
    bare = "".join(line for line in whole.splitlines(keepends=True) if not line.strip().startswith("at: "))
    source.write_text(bare, encoding="utf-8")
    code, _, err = run("chapters", BREAD, "--write")
    assert code == 0 and "written into" in err
    after = source.read_text("utf-8")
    assert [x for x in after.splitlines() if not x.strip().startswith("at: ")] == bare.splitlines()
    steps = whole.count("\n    at: ")
    assert after.count("at: ") >= steps - 1
    near = sum(line in after for line in whole.splitlines() if line.strip().startswith("at: "))
    assert near >= steps - 2  # the demo's moments stand at the captions' own, so most come out to the second


def test_all_marks_move(kitchen: Path, run: Run) -> None:
    assert "\n1:14 " in run("chapters", BREAD, "--shift", "0:12")[1]
    old = kitchen / f"content/recipes/{BREAD}/captions.vtt"
    lines = old.read_text("utf-8").split("\n\n")
    import re

    def later(m: re.Match[str]) -> str:
        parts = [float(x) for x in m.group().split(":")]
        total = sum(x * 60**i for i, x in enumerate(reversed(parts))) + 30
        return f"{int(total // 3600):02}:{int(total // 60 % 60):02}:{total % 60:06.3f}"

    new = kitchen / "new.vtt"
    new.write_text("\n\n".join(re.sub(r"(?:\d+:)?\d\d:\d\d\.\d{3}", later, block) for block in lines), "utf-8")
    code, out, err = run("chapters", BREAD, "--retime", str(old), str(new))
    assert code == 0 and "\n1:32 " in out, err


def test_a_step_whose_scene_was_cut_loses_its_mark(kitchen: Path, run: Run) -> None:
    """Its old moment stood in the file among the new ones, and the next check called it an error."""
    source = kitchen / f"content/recipes/{BREAD}/recipe.yaml"
    before = source.read_text("utf-8")
    old = source.with_name("captions.vtt")
    new = kitchen / "new.vtt"
    cues = old.read_text("utf-8").split("\n\n")
    new.write_text("\n\n".join(c for c in cues if not "00:03:41" <= c < "00:04:48"), "utf-8")
    code, out, err = run("chapters", BREAD, "--retime", str(old), str(new))
    assert "step 4 (Blend the dip): its words at 3:41 were cut" in err and "`--write` empties its `at:`" in err
    assert "Blend the dip" not in out and source.read_text("utf-8") == before
    code, out, err = run("chapters", BREAD, "--retime", str(old), str(new), "--write")
    assert code == 0 and "1 emptied, for its words were cut" in err, err
    changed = [
        (a, b) for a, b in zip(before.splitlines(), source.read_text("utf-8").splitlines(), strict=True) if a != b
    ]
    assert [b.strip() for a, b in changed if "3:41" in a] == ["at: # was 3:41; cut"]
    assert "step 4 has no moment" in run("check", f"content/recipes/{BREAD}")[1]


def test_review_keeps_what_is_confirmed(kitchen: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter(["99", "none"] * 20)
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    source = kitchen / f"content/recipes/{BREAD}/recipe.yaml"
    before = source.read_text("utf-8")
    captions = source.with_name("captions.vtt")
    cues = captions.read_text("utf-8").split("\n\n")
    # The dip's blending was cut out of the film: whatever is said nearest to it is a guess.
    captions.write_text("\n\n".join(c for c in cues if not "00:03:30" < c < "00:04:47"), "utf-8")
    code, out, err = run("chapters", BREAD, "--review", "--anew")
    assert code == 0 and "confirmed moment" in err
    asked = out.count(" of ")
    assert asked
    changed = sum(a != b for a, b in zip(before.splitlines(), source.read_text("utf-8").splitlines(), strict=True))
    assert changed <= asked


def test_the_post_holds_the_marks(kitchen: Path, run: Run) -> None:
    code, out, _ = run("post", BREAD)
    assert code == 0 and len(out.encode()) <= 5000 and "<" not in out
    assert run("chapters", BREAD)[1] in out
    code, out, err = run("post", "cocoa-oat-squares")
    assert code == 1 and not out and "disagree" in err


def test_the_schema_is_json(run: Run, tmp_path: Path) -> None:
    assert json.loads(run("schema")[1])["$schema"].startswith("https://json-schema.org/")
    assert run("schema", "--out", str(tmp_path / "s.json"))[0] == 0
    assert json.loads((tmp_path / "s.json").read_text("utf-8"))


def test_the_checks_explain_themselves(run: Run) -> None:
    code, out, _ = run("checks")
    assert code == 0 and "pair-disagrees" in out


def test_a_draft_from_captions_passes_the_reader_and_is_never_overwritten(kitchen: Path, run: Run) -> None:
    film = kitchen / "captions.vtt"
    shutil.copy(kitchen / f"content/recipes/{BREAD}/captions.vtt", film)
    code, out, _ = run("draft", str(film))
    assert code == 0 and out.startswith("wrote content")
    made = kitchen / out.splitlines()[0].removeprefix("wrote ")
    text = made.read_text("utf-8")
    assert "415 g or 1 3/4 cups water" in text and "draft: true" in text
    assert run("check", str(made))[0] in (0, 1)
    assert run("draft", str(film))[0] == 2
    assert made.read_text("utf-8") == text
    assert run("draft", "nowhere.vtt")[0] == 2
    assert run("draft")[0] == 2


def test_a_page_of_hers_comes_back_as_a_draft(kitchen: Path, run: Run) -> None:
    assert run("publish")[0] == 0
    code, out, _ = run("draft", "site_out/recipes/blueberry-corn-cake.html", "--out", "again.yaml")
    assert code == 0 and "again.yaml" in out
    text = (kitchen / "again.yaml").read_text("utf-8")
    assert "cornmeal" in text and "draft: true" in text


def test_a_draft_of_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--folder", str(tmp_path), "draft", "nothere.vtt"]) == 2
    assert "nothere.vtt: there is no such file" in capsys.readouterr().err


def test_a_process_of_its_own_says_everything_before_it_ends(kitchen: Path) -> None:
    """It ends at once, without the interpreter's own farewell: nothing may be left unsaid."""
    asked = [sys.executable, "-m", "pipeline.cli", "check", "--format", "json"]
    ours = {**os.environ, "PYTHONPATH": str(ROOT)}
    told = subprocess.run(asked, capture_output=True, text=True, cwd=kitchen, env=ours, check=False)
    assert told.returncode == 1 and not told.stderr
    assert json.loads(told.stdout)["recipes"]
    gone = subprocess.Popen(asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=kitchen, env=ours)
    assert gone.stdout is not None and gone.stderr is not None
    gone.stdout.close()  # as `| head -0` does
    assert not gone.stderr.read() and gone.wait() in (0, 1)


def test_the_folder_is_told_before_or_behind_the_command(
    kitchen: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory, run: Run
) -> None:
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    before, behind = run("--folder", str(kitchen), "check"), run("check", "--folder", str(kitchen))
    assert before == behind and "recipes" in before[1]
    assert run("check") != before
