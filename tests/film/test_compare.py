"""What is said beside what is written: cases a cook could read, and the figures on the marked films."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import score_compare
import yaml
from marked import films

from pipeline.film.align import align
from pipeline.film.captions import read_captions_text
from pipeline.film.compare import Remark, said_against
from pipeline.film.transcript import Transcript
from pipeline.measure.lookup import load
from pipeline.proof.saying import severity
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read, read_text

CASES = Path(__file__).with_name("compare_cases.yaml")
TALKS = Path(__file__).with_name("compare_talks.yaml")


def without_stops(said: str) -> str:
    """The same as machine captions have it: no capitals, no stops."""
    return "\n".join(
        re.sub(r"[^\w\s'\[\]:]", "", line).lower() if line.startswith("[") else line for line in said.splitlines()
    )


@dataclass(frozen=True)
class Case:
    name: str
    line: int
    data: dict[str, Any]

    def __str__(self) -> str:
        return f"{CASES.name}:{self.line} {self.name}"

    def recipe(self) -> Recipe:
        source: dict[str, Any] = {"title": "T", "yield": "serves 4"}
        if "list" in self.data:
            source["ingredients"] = self.data["list"]
        else:
            source["components"] = {
                key: {"title": key, "ingredients": lines} for key, lines in self.data["components"].items()
            }
        source["steps"] = self.data["steps"]
        return read_text(yaml.safe_dump(source, sort_keys=False, allow_unicode=True), Path("recipe.yaml"))

    def remarks(self) -> tuple[Remark, ...]:
        said = self.data["said"]
        if self.data.get("flat"):
            said = without_stops(said)
        return said_against(self.recipe(), read_captions_text(said, "captions.txt"), load())


def cases() -> list[Case]:
    text = CASES.read_text(encoding="utf-8")
    node = yaml.compose(text, Loader=yaml.CSafeLoader)
    found = [
        Case(data["name"], place.start_mark.line + 1, data)
        for data, place in zip(yaml.safe_load(text), node.value, strict=True)
    ]
    assert len(found) > 30
    return found


@pytest.mark.parametrize("case", cases(), ids=str)
def test_case(case: Case) -> None:
    got = [f"{r.kind} {r.weight} {r.name}" for r in case.remarks() if r.kind != "unsaid"]
    assert got == case.data["expect"], [(r.said, r.written, r.words) for r in case.remarks()]


def test_no_slip_by_hand_is_missed_and_no_alarm_is_false() -> None:
    """Captions by hand: nine of ten slips, no more than an error in thirty films and a warning in four. Of films that
    nobody had looked at, seven of ten."""
    got = score_compare.summed(score_compare.scores(apart=False, machine=False, by_hand=("vtt", "timed")))
    assert got.recall >= 0.9, got
    assert got.errors <= 0.03 and got.warnings <= 0.27, got


def test_machine_captions_hide_few_slips_and_raise_few_alarms() -> None:
    got = score_compare.summed(score_compare.scores(apart=False, machine=True))
    assert got.recall >= 0.69 and got.recall_of_whole >= 0.73, got
    assert got.errors <= 0.1 and got.warnings <= 0.5, got


@pytest.mark.parametrize("flat", [False, True], ids=["by hand", "without stops"])
def test_others_numbers_are_no_errors(flat: bool) -> None:
    """Ten talks that are full of other people's numbers: no false error by hand, one at most without stops."""
    talks = yaml.safe_load(TALKS.read_text(encoding="utf-8"))
    found = 0
    wrong: dict[str, list[str]] = {"error": [], "warning": [], "note": []}
    for talk in talks:
        recipe = read_text(talk["recipe"], Path("recipe.yaml"))
        transcript = read_captions_text(without_stops(talk["said"]) if flat else talk["said"], "captions.txt")
        places = [place for slip in talk["slips"] if (place := spoken_at(transcript, slip))]
        assert len(places) == len(talk["slips"]), talk["name"]
        caught: set[int] = set()
        for remark in said_against(recipe, transcript, load(), marks=align(recipe, transcript, load())):
            if remark.spoken is None:
                continue
            hits = [n for n, (a, b) in enumerate(places) if remark.spoken.first < b + 1 and a < remark.spoken.last]
            caught.update(hits)
            if not hits:
                wrong[severity(remark)].append(f"{talk['name']}: {remark.words} ({remark.name})")
        found += len(caught)
    assert len(wrong["error"]) <= flat, wrong["error"]
    assert len(wrong["warning"]) <= 9, wrong["warning"]
    assert found >= 0.8 * sum(len(talk["slips"]) for talk in talks)


def spoken_at(transcript: Transcript, words: str) -> tuple[int, int] | None:
    """The first words of the transcript that are these."""
    wanted = re.findall(r"[\w']+", words.lower())
    pieces = [(w, n) for n, word in enumerate(transcript.words) for w in re.findall(r"[\w']+", word.text.lower())]
    for i in range(len(pieces) - len(wanted) + 1):
        if [w for w, _ in pieces[i : i + len(wanted)]] == wanted:
            return pieces[i][1], pieces[i + len(wanted) - 1][1] + 1
    return None


def test_what_is_said_before_the_first_moment_does_not_fall_over() -> None:
    """Captions without stops, and moments that begin later than the first amount."""
    script = read_captions_text("[0:00] so that is two cups of flour\n[5:00] and now we mix and bake it\n", "c.txt")
    recipe = read_text(
        "title: T\nyield: serves 4\ningredients:\n- 3 cups flour\nsteps:\n- Mix the {flour}.\n- Bake it.\n",
        Path("recipe.yaml"),
    )
    moments = [SimpleNamespace(at=300_000, step=0), SimpleNamespace(at=310_000, step=1)]
    assert isinstance(said_against(recipe, script, load(), marks=moments), tuple)


def film(name: str, **changed: str) -> tuple[Remark, ...]:
    """A marked film's remarks, its script changed: ``old words`` by new ones."""
    one = next(f for f in films() if f.name == name)
    recipe = read(one.recipe)
    script = one.folder.joinpath("script.txt").read_text(encoding="utf-8")
    text = "\n".join(line for line in script.splitlines() if line.startswith("["))
    for old, new in changed.items():
        assert text.count(old) == 1, f"{old!r} stands there {text.count(old)} times"
        text = text.replace(old, new)
    return said_against(recipe, read_captions_text(text, "captions.txt"), load())


PLANTED = yaml.safe_load(Path(__file__).with_name("compare_planted.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("slip", PLANTED, ids=lambda s: f"{s['film']}: {s['said'][:30]}")
def test_a_slip_made_on_purpose_is_found(slip: dict[str, str]) -> None:
    before = {(r.kind, r.name) for r in film(slip["film"])}
    changed = film(slip["film"], **{slip["script"]: slip["said"]})
    after = [r for r in changed if (r.kind, r.name) not in before and r.kind != "unsaid"]
    assert [r.name for r in after] == [slip["of"]], [(r.kind, r.name, r.said, r.written) for r in after]
    assert after[0].weight in ("clear", "doubtful")
