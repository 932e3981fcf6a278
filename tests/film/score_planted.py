"""How well slips are caught that are planted in the page: what a cook says rightly in a film, the page is made to
have otherwise, one number at a time.

The marked slips (``score_compare.py``) are few and chosen; these are all that the films say rightly, in every voice. A
planted slip is caught where a remark stands on the words that said the number rightly before.

``python tests/film/score_planted.py [-v] [--machine] [FILM…]`` prints a line a film, by hand or in machine captions.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from marked import Film, films
from noise import MACHINE, write

from pipeline.film.align import align
from pipeline.film.captions import read_captions
from pipeline.film.compare import Remark, said_against
from pipeline.film.compare.choosing import chosen_lines
from pipeline.film.compare.film import lay_beside
from pipeline.film.compare.page_marks import marks_of
from pipeline.film.compare.times import _same
from pipeline.film.mark import Mark
from pipeline.film.transcript import Transcript
from pipeline.measure.lookup import load
from pipeline.measure.pair_heat import compare_heat
from pipeline.recipe.model import Recipe
from pipeline.recipe.problem import SourceError
from pipeline.recipe.read import read, read_text
from pipeline.recipe.span import Span

FACTORS = (Fraction(2), Fraction(1, 2), Fraction(3, 2))
# In the other direction of a kitchen's commonest slip.
SPOONS = {"tsp": "tbsp", "tbsp": "tsp"}
_NUMBER = re.compile(r"\d+ \d/\d|\d/\d|\d+(?:\.\d+)?")


class Planted(NamedTuple):
    """What is changed (``old`` to ``new`` at ``spans``) and the ms at which the film says the old number."""

    kind: str
    old: str
    new: str
    spans: tuple[tuple[Span, str], ...]
    at: frozenset[int]


def times_as_much(text: str, by: Fraction) -> str:
    """Every number of a text, so many times as much."""

    def put(found: re.Match[str]) -> str:
        value = sum((Fraction(part) for part in found.group().split()), Fraction(0)) * by
        whole, rest = divmod(value, 1)
        if rest and rest.denominator > 8:
            return str(round(float(value)))
        return " ".join(str(part) for part in (whole if whole or not rest else "", rest if rest else "") if part != "")

    return _NUMBER.sub(put, text)


def other_heat(text: str, by: int) -> str:
    """A heat so many steps of 20 °C away, in both scales."""
    return re.sub(r"\d{2,3}", lambda m: str(int(m.group()) + by * (35 if int(m.group()) > 260 else 20)), text)


def planted(film: Film, recipe: Recipe, transcript: Transcript, marks: tuple[Mark, ...]) -> Iterator[Planted]:
    """One change for each ingredient line, heat and time that the film says as it is written."""
    dice = random.Random(film.name)
    beside = lay_beside(recipe, transcript, load(), "us", marks)
    said: dict[tuple[int, int], set[int]] = {}
    for index, best in chosen_lines(beside).items():
        utterance = beside.utterances[index]
        if best.rank == 0 and utterance.scope == "use" and best.judged is not None and best.judged.direct:
            said.setdefault(best.candidate.listed.place, set()).add(utterance.said.start)
    for (c, n), at in sorted(said.items()):
        line = recipe.components[c].ingredients[n]
        if not line.item_spans or len(at) > 1:
            continue
        old = [recipe.source[s.start : s.end] for s in line.item_spans]
        unit = next((u for u in SPOONS if len(old) == 1 and re.search(rf"\b{u}\b", old[0])), "")
        if unit and dice.random() < 0.5:
            new = [old[0].replace(unit, SPOONS[unit])]
        else:
            by = dice.choice(FACTORS)
            new = [times_as_much(text, by) for text in old]
        yield Planted(
            "amount", " / ".join(old), " / ".join(new), tuple(zip(line.item_spans, new, strict=True)), frozenset(at)
        )
    for mark in marks_of(beside):
        at = {
            u.said.start
            for u in beside.utterances
            if u.scope == "use"
            and (
                (
                    mark.times
                    and any(_same(t, w, strict=True) for t in u.said.times for w in mark.times)
                    and beside.course.step(u.said.start) == mark.step
                )
                or (mark.heats and any(compare_heat(h, w).status == "agrees" for h in u.said.heats for w in mark.heats))
            )
        }
        alike = [
            m for m in marks_of(beside) if (mark.heats and m.heats) or (mark.times and m.times and m.step == mark.step)
        ]
        if len(at) != 1 or len(alike) > 1:
            continue
        old_text = str(mark.whole)
        new_text = (
            other_heat(old_text, dice.choice((-2, -1, 1, 2)))
            if mark.heats
            else times_as_much(old_text, dice.choice(FACTORS))
        )
        if new_text == old_text:
            continue  # "overnight"
        kind = "heat" if mark.heats else "time"
        yield Planted(kind, old_text, new_text, ((mark.whole.span, new_text),), frozenset(at))


def changed(recipe: Recipe, change: Planted) -> Recipe | None:
    """The recipe with the change typed in; None where the reader refuses it."""
    source = recipe.source
    for span, new in sorted(change.spans, key=lambda s: -s[0].start):
        source = source[: span.start] + new + source[span.end :]
    try:
        return read_text(source, recipe.path)
    except SourceError:
        return None


def score(film: Film, machine: bool, loud: bool) -> Counter[tuple[str, str]]:
    recipe = read(film.recipe)
    with tempfile.TemporaryDirectory() as folder:
        transcript = read_captions(write(film, MACHINE[0] if machine else "vtt", Path(folder), 1))
    marks = align(recipe, transcript, load())
    before = {r.at for r in said_against(recipe, transcript, load(), marks=marks)}
    count: Counter[tuple[str, str]] = Counter()
    for change in planted(film, recipe, transcript, marks):
        other = changed(recipe, change)
        if other is None:
            continue
        remarks = said_against(other, transcript, load(), marks=align(other, transcript, load()))
        caught = [r for r in remarks if r.spoken is not None and r.spoken.start in change.at]
        count[change.kind, "planted"] += 1
        count[change.kind, "caught"] += bool(caught)
        extra = [r for r in remarks if r.at not in before and r not in caught and r.kind != "unsaid"]
        count[change.kind, "beside"] += len(extra)
        if loud:
            where = " ".join(
                w.text for w in transcript.words if min(change.at) - 5000 < w.start < min(change.at) + 5000
            )
            if not caught:
                print(f"    missed {change.kind}: {change.old} -> {change.new} in “{where}”")
            for r in extra:
                print(f"    beside: {change.old} -> {change.new}: {_told(r)}")
    return count


def _told(remark: Remark) -> str:
    return f"{remark.at} {remark.name}: said {remark.said!r}, written {remark.written!r} ({remark.weight})"


def main(arguments: list[str]) -> None:
    loud, machine = "-v" in arguments, "--machine" in arguments
    names = [a for a in arguments if not a.startswith("-")]
    total: Counter[tuple[str, str]] = Counter()
    for film in films("--apart" in arguments):
        if names and film.name not in names:
            continue
        got = score(film, machine, loud)
        total += got
        print(
            f"{film.name}: {sum(n for (_, what), n in got.items() if what == 'caught')} of "
            f"{sum(n for (_, what), n in got.items() if what == 'planted')}"
        )
    for kind in ("amount", "heat", "time"):
        many = total[kind, "planted"]
        print(
            f"{kind}: {total[kind, 'caught']} of {many} caught ({total[kind, 'caught'] / max(many, 1):.0%}), "
            f"{total[kind, 'beside']} remarks beside"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
