"""How well a draft's ingredient lines are what was said: recall and precision on the marked films.

A recipe's line counts for recall where the film says an amount of it at all. A draft's line is right where it names
the same ingredient and every amount in it agrees with the written recipe's or is what the film says of it (a slip of
the tongue is drafted as it was said); each written line is met by one drafted line at most.

``python tests/film/score_draft.py [--apart] [-v]`` prints a line a film and kind of captions.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from marked import Film, films
from noise import FORMS, Form, write

from pipeline.film.captions import read_captions
from pipeline.film.draft import draft_from
from pipeline.film.spoken.atoms import word_set
from pipeline.measure.amount import Amount
from pipeline.measure.grammar import read_statements
from pipeline.measure.ingredients import Row
from pipeline.measure.lookup import Table, load
from pipeline.measure.pair import compare
from pipeline.measure.units import EACH
from pipeline.recipe.model import IngredientLine, Recipe
from pipeline.recipe.read import read, read_text

CLEAN: tuple[Form, ...] = ("vtt", "srt", "timed")
# Words beside a name that make no other ingredient of it. Common practice, no source.
_PALE = word_set("fresh fine plain unsalted salted ground dried dry whole large ripe hot cold warm light dark")


@dataclass(frozen=True, slots=True)
class Score:
    """``found`` of ``said`` lines; ``right`` of ``drafted`` ones; ``missed`` and ``wrong`` say which not."""

    film: str
    form: str
    found: int
    said: int
    right: int
    drafted: int
    missed: tuple[str, ...]
    wrong: tuple[str, ...]

    @property
    def recall(self) -> float:
        return self.found / self.said if self.said else 1.0

    @property
    def precision(self) -> float:
        return self.right / self.drafted if self.drafted else 1.0


@dataclass(frozen=True, slots=True)
class _Expected:
    line: IngredientLine
    component: str
    row: Row | None
    readings: tuple[Amount, ...]
    said: bool


def _row(table: Table, name: str) -> Row | None:
    match = table.find(name)
    return match.row if match else None


def expected(film: Film, recipe: Recipe, table: Table) -> list[_Expected]:
    """The written lines, each with all that the film says of it."""
    result: list[_Expected] = []
    for component in recipe.components:
        for line in component.ingredients:
            told = [
                s
                for s in film.said
                if s.ingredient == str(line.name)
                and (s.component is None or s.component == component.key)
                and s.kind in ("use", "list", "recap", "repeat")
            ]
            reads = [r.amount for s in told for r in _readings(s.reading)]
            uses = any(s.kind in ("use", "list", "recap") for s in told)
            result.append(_Expected(line, component.key, _row(table, str(line.name)), tuple(reads), uses))
    return result


def _readings(text: str) -> list:
    reads = read_statements(text)
    if reads:
        return list(reads)
    from pipeline.measure.grammar import read_amount

    got = read_amount(text, 0, bare=True)
    return [got] if got else []


def _same(a: Amount, b: Amount, row: Row | None, size: str) -> bool:
    if a.unit.kind == b.unit.kind == "count":
        return (a.unit == b.unit or EACH in (a.unit, b.unit)) and (a.low, a.high) == (b.low, b.high)
    return compare(a, b, row, size).status in ("agrees", "loose")


def fits(line: IngredientLine, want: _Expected, table: Table) -> bool:
    """Whether a drafted line is the written one."""
    row = _row(table, str(line.name))
    mine = [w for w in line.key.split() if w not in _PALE]
    theirs = [w for w in want.line.key.split() if w not in _PALE]
    alike = row is not None and want.row is not None and row.name == want.row.name
    if not alike and not (
        mine and theirs and (mine[-1].rstrip("s") == theirs[-1].rstrip("s") or _begins(mine, theirs))
    ):
        return False
    if not line.amounts:
        return not want.line.amounts
    size = line.size or want.line.size
    known = (*want.line.amounts, *want.readings)
    return all(any(_same(a, b, want.row, size) for b in known) for a in line.amounts)


def _begins(mine: list[str], theirs: list[str]) -> bool:
    """Whether two names begin alike; "zest of 2 lemons" are "2 lemons, zest only"."""
    return mine[0] == theirs[0] or (mine[1:] in (["zest"], ["juice"]) and mine[0] == theirs[0].rstrip("s"))


def _same_food(line: IngredientLine, want: _Expected, table: Table) -> bool:
    row = _row(table, str(line.name))
    return row is not None and want.row is not None and row.name == want.row.name


def score(film: Film, form: Form, table: Table, seed: int = 0) -> Score:
    with tempfile.TemporaryDirectory() as folder:
        transcript = read_captions(write(film, form, Path(folder), seed))
    draft = read_text(draft_from(transcript, table))
    wants = expected(film, read(film.recipe), table)
    lines = [line for component in draft.components for line in component.ingredients if line.amounts]
    free = list(wants)
    wrong: list[str] = []
    right = 0
    for line in lines:
        # a line that the film says is met before one that it does not, one of the very food before one that ends alike
        fit = [w for w in free if fits(line, w, table)]
        fit.sort(key=lambda w: (not w.said, not _same_food(line, w, table)))
        if fit:
            free.remove(fit[0])
            right += 1
        else:
            wrong.append(str(line.text))
    missed = tuple(f"{w.component}: {w.line.text}" for w in free if w.said)
    said = sum(w.said for w in wants)
    return Score(film.name, form, said - len(missed), said, right, len(lines), missed, tuple(wrong))


def total(scores: Sequence[Score]) -> tuple[float, float]:
    """(recall, precision) of several films together."""
    return (
        sum(s.found for s in scores) / max(sum(s.said for s in scores), 1),
        sum(s.right for s in scores) / max(sum(s.drafted for s in scores), 1),
    )


def main(arguments: Sequence[str]) -> None:
    table = load()
    chosen = [a for a in arguments if not a.startswith("-")]
    every = [f for f in films("--apart" in arguments) if not chosen or f.name in chosen]
    print(f"{'film':34} {'captions':12} {'recall':>12} {'precision':>14}")
    for form in FORMS:
        scores = [score(film, form, table) for film in every]
        for s in scores:
            print(
                f"{s.film:34} {s.form:12} {s.recall:6.0%} {s.found:2}/{s.said:2}"
                f" {s.precision:7.0%} {s.right:2}/{s.drafted:2}"
            )
            if "-v" in arguments:
                for name in s.missed:
                    print(f"    missed  {name}")
                for name in s.wrong:
                    print(f"    wrong   {name}")
        recall, precision = total(scores)
        print(f"{'all':34} {form:12} {recall:6.1%}       {precision:7.1%}")


if __name__ == "__main__":
    main(sys.argv[1:])
