"""Bare numbers that say an amount once more in a measure that is named ahead of them or behind: "one cup, and in grams
it's fifteen", "three quarters of a cup. A hundred and fifty by weight"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.ahead import measure_ahead, unit_of
from pipeline.film.spoken.atoms import Atom
from pipeline.film.spoken.counts import Counted
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.groups import amounts_of
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, thing_before
from pipeline.film.spoken.words import qualifiers_at, says
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import Unit

# How far back the amount may end that is said once more.
_BACK = 20
_BEHIND = (
    (("by", "weight"), "weight"), (("on", "the", "scale"), "weight"), (("on", "the", "scales"), "weight"),
    (("in", "metric"), "metric"), (("on", "the", "page"), "metric"), (("on", "the", "paper"), "metric"),
    (("on", "my", "paper"), "metric"), (("on", "the", "list"), "metric"), (("on", "the", "card"), "metric"),
)  # fmt: skip


def told_twice_at(atoms: Sequence[Atom], i: int, before: Sequence[Found], larder: Larder) -> Found | None:
    """The bare number at ``i`` whose measure is named apart from it."""
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague:
        return None
    last = before[-1] if before and i - before[-1].own_end <= _BACK else None
    if last is not None and not isinstance(last.said, Said | Counted):
        last = None
    thing = _thing(atoms, before, larder) if last is not None else None
    told = amounts_of(last)[-1] if last is not None else None
    match = thing.match if thing is not None else None
    end, which = value.end, None
    if (ahead := measure_ahead(atoms, at, value.end, value.single, told, match)) is not None:
        which = ahead[0]
    elif last is not None:
        which, end = _behind(atoms, value, last, thing)
    if which is None:
        return None
    amount = amount_of(value.number, which, said_words(atoms, i, end), qualifier)
    return Found(Said(i, end, (amount,), guessed=True), i, end, end)


def _behind(atoms: Sequence[Atom], value: Value, last: Found, thing: Thing | None) -> tuple[Unit | None, int]:
    for words, word in _BEHIND:
        if says(atoms, value.end, *words):
            match = thing.match if thing is not None else None
            return unit_of(word, value.single, amounts_of(last)[-1], match), value.end + len(words)
    return None, value.end


def _thing(atoms: Sequence[Atom], before: Sequence[Found], larder: Larder) -> Thing | None:
    """What the last amount is of."""
    last = before[-1]
    begin = before[-2].end if len(before) > 1 else 0
    return last.thing or thing_before(atoms, begin, last.start, larder)
