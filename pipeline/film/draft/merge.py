"""What one more statement makes of a line: the same again, a part of it, one more part, or a doubt."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from pipeline.film.clock import say_moment
from pipeline.film.draft.alike import adds_up, size_of, total_of, with_measures
from pipeline.film.draft.events import Event
from pipeline.film.draft.line import Line, fuller, same_thing, say, without_stray_sticks
from pipeline.film.draft.worth import LOOSE
from pipeline.film.spoken.said import Spoken

#: Two measures that cannot be compared are of one amount when they are said in one breath.
AT_ONCE_MS = 10_000
# A part is taken so soon after the whole was said, where nothing else says that it is one.
_SOON_MS = 15_000
# "… of that goes in": some of what was spoken of.
_IT = frozenset(("that", "it", "this", "those", "them", "these"))
#: The doubt of an amount whose unit was not said.
NO_UNIT = "heard without a unit"
_PART_OR_SLIP = ": a part, or a slip?"


def smaller(line: Line, said: Spoken) -> bool | None:
    """Whether less is said than the line has; None where both differ but cannot be compared."""
    a, b = size_of(line.amounts, line.row), size_of(said.amounts, line.row)
    return b[1] < a[1] if a is not None and b is not None and a[0] == b[0] else None


def merge(line: Line, event: Event, plain: Sequence[str]) -> None:
    said = event.said
    if event.row is not None and not event.guessed_name and fuller(event.name, line.name):
        line.name, line.row = event.name, event.row
    line.size = line.size or said.size
    said = without_stray_sticks(said, line.row)
    if line.agrees(said):
        line.amounts = with_measures(line.amounts, said.amounts)
        if not said.guessed:
            line.doubts = [doubt for doubt in line.doubts if doubt != NO_UNIT]  # said once more, with its unit
        return
    less = smaller(line, said)
    at = say_moment(said.start)
    if all(a.unit.name in LOOSE for a in line.amounts) and all(a.unit.name not in LOOSE for a in said.amounts):
        # "a bottle of apple juice" on the shopping list, "a cup and a quarter" in the pot
        keep = said.start - line.heard[0].start < AT_ONCE_MS
        line.amounts = [*(line.amounts if keep else ()), *said.amounts]
        return
    if less is None and said.start - line.heard[0].start < AT_ONCE_MS:
        line.amounts = with_measures(line.amounts, said.amounts)  # "two lemons … about six tablespoons"
        return
    if "whole" in event.kinds and less is False:
        line.parts_said.setdefault(line.heard[0].first, tuple(line.amounts))
        line.amounts, line.summed = list(said.amounts[-2:]), True
        return
    if line.listed or line.summed:
        if less:
            line.parts_said[said.first] = said.amounts
            if line.listed and not event.kinds & {"part", "more"}:
                line.doubts.append(f"{say(said)} at {at}{_PART_OR_SLIP}")
        else:
            line.doubts.append(f"but {say(said)} at {at}: which is right?")
        return
    if less and event.kinds & {"part"} and _drawn_from(line.heard[0], said, plain):
        line.parts_said[said.first] = said.amounts
        return
    if adds_up([*line.parts_said.values(), said.amounts], line.amounts):
        line.parts_said[said.first] = said.amounts  # "now the other four tablespoons" of the six
        return
    total = total_of(line.amounts, said.amounts)
    if total is not None and event.kinds & {"more", "part"} and not event.guessed_name:
        first = line.heard[0]
        if not line.parts_said:
            line.parts_said[first.first] = tuple(line.amounts)
        line.parts_said[said.first] = said.amounts
        line.amounts = total
        line.doubts.append(f"said in parts: {say(first)} at {say_moment(first.start)}, {say(said)} at {at}")
        return
    line.doubts.append(f"but {say(said)} at {at}: which is right?")


def _drawn_from(whole: Spoken, said: Spoken, plain: Sequence[str]) -> bool:
    """Whether, between two statements, something was taken of the first: "200 grams, and 160 of that goes in"."""
    between = plain[whole.last : said.first]
    return any(a == "of" and b in _IT for a, b in pairwise(between))


def takes_from(line: Line, event: Event) -> bool:
    """Whether an amount that names nothing is a part of what was said right before it ("six tablespoons of butter.
    Two tablespoons go in now"); it is then noted there."""
    said, last = event.said, line.heard[-1]
    named = event.name and (not event.guessed_name or not same_thing(line, event))
    if named or line.listed or len(said.amounts) != 1 or " of " in f" {said.words} ":
        return False
    one = next((a for a in line.amounts if a.unit == said.amounts[0].unit), None)
    if one is None or one.unit.kind == "count" or not 0 <= said.start - last.start < _SOON_MS:
        return False
    if one.low <= said.amounts[0].high:
        return False
    line.heard.append(said)
    line.parts_said[said.first] = said.amounts
    return True


def without_totals(lines: Sequence[Line]) -> list[Line]:
    """The lines without one that says, ahead of them, what the lines of several parts of the dish come to
    ("altogether it's two and a quarter cups of cream")."""
    kept: list[Line] = []
    for line in lines:
        later = [
            tuple(o.amounts)
            for o in lines
            if o.start > line.start and o.row is not None and line.row is not None and o.row.name == line.row.name
        ]
        if not (line.summed and adds_up(later, line.amounts)):
            kept.append(line)
    return kept


def settle_parts(line: Line) -> None:
    """Takes the doubt from parts that add up to the whole."""
    if adds_up(list(line.parts_said.values()), line.amounts):
        line.doubts = [doubt for doubt in line.doubts if not doubt.endswith(_PART_OR_SLIP)]
