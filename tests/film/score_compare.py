"""How well slips of the tongue are caught: recall of the planted slips and false alarms a film, on the marked films.

A slip is caught where a remark of any weight stands on its words. An alarm is false where no slip stands there; errors,
warnings and notes are counted apart, as ``levelcup check`` would print them: with the steps' moments that it finds
itself. Captions by hand and by machine are told apart, machine ones over several seeds; of slips in those only the ones
whose every word reached the captions unharmed can be asked for.

``python tests/film/score_compare.py [--apart] [-v]`` prints a line a film and kind of captions.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from marked import Film, films
from noise import MACHINE, Form, spared, write

from pipeline.film.align import align
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
    """``caught`` of ``slips``, ``clean`` of the ``whole`` ones, whose words are all in the captions; ``false`` alarms
    by severity; ``missed`` and ``wrong`` say which."""

    film: str
    form: str
    slips: int
    caught: int
    whole: int
    clean: int
    false: dict[str, int]
    missed: tuple[str, ...]
    wrong: tuple[str, ...]


def score(film: Film, form: Form, seed: int = 0) -> Score:
    recipe = read(film.recipe)
    with tempfile.TemporaryDirectory() as folder:
        transcript = read_captions(write(film, form, Path(folder), seed))
    remarks = said_against(recipe, transcript, load(), marks=align(recipe, transcript, load()))
    unharmed = {said.time for said, whole in spared(film, form, seed) if whole}
    false = dict.fromkeys(("error", "warning", "note"), 0)
    wrong: list[str] = []
    found: set[int] = set()
    for remark in remarks:
        hits = [n for n, slip in enumerate(film.slips) if _on(remark, slip.time)]
        found.update(hits)
        if not hits:
            false[severity(remark)] += 1
            wrong.append(f"{severity(remark)} {remark.kind} {remark.weight}: {told(remark)}")
    missed = tuple(
        f"{slip.words} ({slip.recipe}){'' if slip.time in unharmed else ' harmed'}"
        for n, slip in enumerate(film.slips)
        if n not in found
    )
    whole = {n for n, slip in enumerate(film.slips) if slip.time in unharmed}
    return Score(
        film.name, form, len(film.slips), len(found), len(whole), len(whole & found), false, missed, tuple(wrong)
    )


def _on(remark: Remark, time: int) -> bool:
    said = remark.spoken
    return said is not None and said.start - NEAR <= time <= said.end + NEAR


def told(remark: Remark) -> str:
    return f"{remark.at} {remark.name}: said {remark.said!r}, written {remark.written!r} in {remark.words!r}"


def scores(apart: bool, machine: bool, by_hand: Sequence[Form] = BY_HAND) -> Iterator[Score]:
    for film in films(apart):
        for form in MACHINE[:1] if machine else by_hand:
            for seed in SEEDS if machine else (0,):
                yield score(film, form, seed)


@dataclass(frozen=True, slots=True)
class Sum:
    films: int
    slips: int
    caught: int
    whole: int
    clean: int
    errors: float
    warnings: float
    notes: float

    @property
    def recall(self) -> float:
        return self.caught / self.slips if self.slips else 1.0

    @property
    def recall_of_whole(self) -> float:
        return self.clean / self.whole if self.whole else 1.0

    def __str__(self) -> str:
        return (
            f"{self.caught} of {self.slips} slips caught ({self.recall:.0%}), {self.clean} of the {self.whole} that "
            f"reached the captions unharmed ({self.recall_of_whole:.0%}); false alarms a film: "
            f"{self.errors:.2f} errors, {self.warnings:.2f} warnings, {self.notes:.2f} notes"
        )


def summed(every: Iterable[Score]) -> Sum:
    all_ = list(every)
    n = len(all_)
    false = {kind: sum(s.false[kind] for s in all_) / n for kind in ("error", "warning", "note")}
    slips, caught = sum(s.slips for s in all_), sum(s.caught for s in all_)
    whole, clean = sum(s.whole for s in all_), sum(s.clean for s in all_)
    return Sum(n, slips, caught, whole, clean, false["error"], false["warning"], false["note"])


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


if __name__ == "__main__":
    main(sys.argv[1:])
