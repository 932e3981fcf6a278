"""How well slips of the tongue are caught: recall of the planted slips and false alarms a film, on the marked films.

A slip is caught where a remark of any weight stands on its words. An alarm is false where no slip stands there; errors,
warnings and notes are counted apart, as ``levelcup check`` would print them. Captions by hand and by machine are told
apart, machine ones over several seeds.

``python tests/film/score_compare.py [--apart] [-v]`` prints a line a film and kind of captions.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from marked import Film, films
from noise import MACHINE, Form, spared, write

from pipeline.film.captions import read_captions
from pipeline.film.compare import Remark, said_against
from pipeline.measure.lookup import load
from pipeline.proof.saying import severity
from pipeline.recipe.read import read

BY_HAND: tuple[Form, ...] = ("vtt", "srt", "timed")
SEEDS = (1, 2, 3)
# ms by which a caption's words may stand beside the script's: times inside a caption are spread by letters.
NEAR = 6_000


@dataclass(frozen=True, slots=True)
class Score:
    """``caught`` of ``slips``; ``false`` alarms by severity; ``missed`` and ``wrong`` say which."""

    film: str
    form: str
    slips: int
    caught: int
    false: dict[str, int]
    missed: tuple[str, ...]
    wrong: tuple[str, ...]


def score(film: Film, form: Form, seed: int = 0) -> Score:
    recipe = read(film.recipe)
    with tempfile.TemporaryDirectory() as folder:
        transcript = read_captions(write(film, form, Path(folder), seed))
    remarks = said_against(recipe, transcript, load())
    false = dict.fromkeys(("error", "warning", "note"), 0)
    wrong: list[str] = []
    found: set[int] = set()
    for remark in remarks:
        hits = [n for n, slip in enumerate(film.slips) if _on(remark, slip.time)]
        found.update(hits)
        if not hits:
            false[severity(remark)] += 1
            wrong.append(f"{severity(remark)} {remark.kind} {remark.weight}: {told(remark)}")
    missed = tuple(f"{slip.words} ({slip.recipe})" for n, slip in enumerate(film.slips) if n not in found)
    return Score(film.name, form, len(film.slips), len(found), false, missed, tuple(wrong))


def _on(remark: Remark, time: int) -> bool:
    said = remark.spoken
    return said is not None and said.start - NEAR <= time <= said.end + NEAR


def told(remark: Remark) -> str:
    return f"{remark.at} {remark.name}: said {remark.said!r}, written {remark.written!r} in {remark.words!r}"


def scores(apart: bool, machine: bool) -> Iterator[Score]:
    for film in films(apart):
        for form in MACHINE[:1] if machine else BY_HAND:
            for seed in SEEDS if machine else (0,):
                yield score(film, form, seed)


def reached(apart: bool) -> tuple[int, int]:
    """Of all slips in machine captions, how many have all their words there; and how many there are."""
    found = [
        whole
        for film in films(apart)
        for seed in SEEDS
        for said, whole in spared(film, MACHINE[0], seed)
        if said.time in {slip.time for slip in film.slips}
    ]
    return sum(found), len(found)


@dataclass(frozen=True, slots=True)
class Sum:
    films: int
    slips: int
    caught: int
    errors: float
    warnings: float
    notes: float

    @property
    def recall(self) -> float:
        return self.caught / self.slips if self.slips else 1.0

    def __str__(self) -> str:
        return (
            f"{self.caught} of {self.slips} slips caught ({self.recall:.0%}); false alarms a film: "
            f"{self.errors:.2f} errors, {self.warnings:.2f} warnings, {self.notes:.2f} notes"
        )


def summed(every: Iterable[Score]) -> Sum:
    all_ = list(every)
    n = len(all_)
    false = {kind: sum(s.false[kind] for s in all_) / n for kind in ("error", "warning", "note")}
    return Sum(
        n, sum(s.slips for s in all_), sum(s.caught for s in all_), false["error"], false["warning"], false["note"]
    )


def main(arguments: list[str]) -> None:
    apart, loud = "--apart" in arguments, "-v" in arguments
    for machine in (False, True):
        every = list(scores(apart, machine))
        if loud:
            for one in every:
                print(f"{one.film} {one.form}: {one.caught}/{one.slips} {one.false}")
                for text in one.missed:
                    print(f"    missed: {text}")
                for text in one.wrong:
                    print(f"    {text}")
        print(f"{'machine' if machine else 'by hand'}: {summed(every)}")
        if machine:
            whole, every_slip = reached(apart)
            print(f"         of those slips, all words of {whole} of {every_slip} reached the captions unharmed")


if __name__ == "__main__":
    main(sys.argv[1:])
