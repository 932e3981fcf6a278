"""`levelcup chapters` as a cook runs it: asked about, counted, moved, and refused in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from pipeline.cli import main

RECIPE = """title: Garlic Bread
yield: 1 loaf
ingredients:
  - 1 baguette
  - 115 g or 1/2 cup butter, soft
  - 3 cloves garlic
  - 2 tbsp parsley, chopped
steps:
  - title: Spread   # the best part
    text: Mash {butter}, {garlic} and {parsley} together, and spread it on {baguette}.
  - title: Sing
    text: Sing something.
  - title: Bake
    text: Wrap it in foil and bake at {400 F or 200 C} for {15 min}.
video: {address: "https://video.example/bread", length: "1:10", captions: captions.txt}
"""
FILM = """[0:00] Hello, this is garlic bread.

[0:12] Soft butter, half a cup, that's 115 grams, with three cloves of garlic and two tablespoons of parsley.
Mash it up, slice the baguette, and spread it.

[0:40] Wrap it in foil. Four hundred degrees, two hundred Celsius, fifteen minutes.
"""
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def source(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "content" / "recipes" / "garlic-bread"
    folder.mkdir(parents=True)
    (folder / "recipe.yaml").write_text(RECIPE, encoding="utf-8")
    (folder / "captions.txt").write_text(FILM, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return folder / "recipe.yaml"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def command(*words: str) -> tuple[int, str, str]:
        code = main(("chapters", "garlic-bread", *words))
        out, err = capsys.readouterr()
        return code, out, err

    return command


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Callable[[list[str | type[BaseException]]], None]:
    """What the cook types, a line a question; an exception is a key that ends it."""

    def type_(lines: list[str | type[BaseException]]) -> None:
        left: Iterator[str | type[BaseException]] = iter(lines)

        def answer(_: str) -> str:
            line = next(left)
            if isinstance(line, str):
                return line
            raise line

        monkeypatch.setattr("builtins.input", answer)

    return type_


def test_a_review_writes_what_is_confirmed_and_with_write_the_sure_ones_too(
    source: Path, run: Run, typed: Callable[..., None]
) -> None:
    typed(["2:00", "soon", "0:30"])
    code, out, err = run("--review")
    assert code == 0
    assert "the film's last words are at" in out and "'soon' is no time" in out
    assert "1 confirmed moment written" in err and "`--write` puts in the 2 that are sure" in err
    assert source.read_text(encoding="utf-8") == RECIPE.replace("- title: Sing\n", "- title: Sing\n    at: 0:30\n")
    code, _, err = run("--review", "--write")
    assert code == 0 and "nothing to ask" in err and "2 moments written" in err
    assert source.read_text(encoding="utf-8").count("at: ") == 3


@pytest.mark.parametrize("key", [EOFError, KeyboardInterrupt])
def test_a_review_that_is_broken_off_keeps_the_rest_as_it_was(
    key: type[BaseException], source: Path, run: Run, typed: Callable[..., None]
) -> None:
    typed([key])
    code, _, err = run("--review")
    assert code == 0 and "0 confirmed moments" in err
    assert source.read_text(encoding="utf-8") == RECIPE


def test_a_number_of_chapters_is_kept_or_said_why_not(source: Path, run: Run) -> None:
    assert run("--write")[0] in (0, 1)
    (source.parent / "captions.txt").unlink()  # the moments are in the source: no film is needed to count them
    code, out, err = run("--count", "3")
    assert code == 0 and len(out.splitlines()) == 3
    code, out, err = run("--count", "9")
    assert code == 0 and "3 chapters, not 9" in err
    code, _, err = run("--count", "0")
    assert code == 2 and "one chapter or more" in err


def test_two_jobs_at_once_are_refused(source: Path, run: Run) -> None:
    code, _, err = run("--shift", "0:05", "--retime", "a.vtt", "b.vtt")
    assert code == 2 and "--retime and --shift are two jobs" in err


def test_there_must_be_something_to_move(source: Path, run: Run) -> None:
    code, _, err = run("--shift", "0:05", "--write")
    assert code == 2 and "levelcup chapters garlic-bread --write" in err
    assert source.read_text(encoding="utf-8") == RECIPE


def test_moments_do_not_fall_together_at_the_films_start(source: Path, run: Run) -> None:
    run("--write")
    written = source.read_text(encoding="utf-8")
    code, _, err = run("--shift", "-0:45", "--write")
    assert code == 2 and "2 moments (up to 0:40)" in err and "--retime" in err
    assert source.read_text(encoding="utf-8") == written
    assert run("--shift", "-0:05", "--write")[0] in (0, 1)
    assert run("--shift", "0:05", "--write")[0] in (0, 1)
    assert source.read_text(encoding="utf-8") == written
