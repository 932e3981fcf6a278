"""Statements: each single thing measured that is said, before those that belong together are joined."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.amounts import amount_at
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.carried import answer_at, carried_at, same_at
from pipeline.film.spoken.corrected import corrected_at
from pipeline.film.spoken.counts import Counted, count_at, sides_at
from pipeline.film.spoken.dropped import BARE_UNITS, dropped_at, shared
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.heats import SaidHeat, heat_at
from pipeline.film.spoken.hotter import hotter
from pipeline.film.spoken.later import more_at, time_again_at
from pipeline.film.spoken.measures import LAST, MISHEARD
from pipeline.film.spoken.name_first import name_first_at
from pipeline.film.spoken.numbers import FIRST_WORDS, value_at
from pipeline.film.spoken.of_food import amount_found
from pipeline.film.spoken.short_amounts import short_amount_at
from pipeline.film.spoken.short_heats import short_heat_at, told_twice
from pipeline.film.spoken.short_times import short_time_at
from pipeline.film.spoken.stated import Said
from pipeline.film.spoken.things import Larder, same_kind, thing_behind
from pipeline.film.spoken.times import SaidTime, time_at
from pipeline.film.spoken.twice import told_twice_at
from pipeline.film.spoken.unknown import unknown_at
from pipeline.film.spoken.words import FIRST_QUALIFIERS, says
from pipeline.measure.numbers import GLYPHS

# Only from these words, and from figures, is anything begun; the rest of a film is passed over at once.
_FIRST = (
    FIRST_WORDS
    | FIRST_QUALIFIERS
    | MISHEARD.keys()
    | BARE_UNITS
    | LAST
    | word_set("gas mark regulo fan convection between overnight over all within every same last final minus negative")
)


# Pieces behind which a heat is forgotten.
_LONG_AGO = 24


def statements(atoms: Sequence[Atom], larder: Larder) -> list[Found]:
    """All statements in the order said; none overlap."""
    result: list[Found] = []
    i = 0
    while i < len(atoms):
        one = _statement(atoms, i, larder, result)
        if one is None:
            i += 1
            continue
        result.append(one)
        i = max(one.end, i + 1)
        if text_at(atoms, one.own_end) == "each" and isinstance(one.said, Said):
            for thing in shared(atoms, one.own_end, larder)[1:]:
                result.append(Found(one.said, thing.start, thing.end, thing.end, thing))
                i = max(thing.end, i)
    return _with_recalled(_counted_aloud(result), atoms)


def _counted_aloud(found: Sequence[Found]) -> list[Found]:
    """ "One egg, two eggs, three eggs" are three."""
    result: list[Found] = []
    for one in found:
        last = result[-1] if result else None
        if last is not None and isinstance(one.said, Counted) and isinstance(last.said, Counted):
            names = {found.thing.match.row.name for found in (last, one) if found.thing and found.thing.match}
            next_one = one.said.amount.value == last.said.amount.value + 1
            if len(names) == 1 and next_one and one.start == last.end:
                result.pop()
        result.append(one)
    return result


def _statement(atoms: Sequence[Atom], i: int, larder: Larder, before: Sequence[Found]) -> Found | None:
    """What begins at ``i``. Heats before times before amounts, so that "350 for 20 minutes" falls apart
    rightly."""
    text = atoms[i].text
    if not (text in _FIRST or text[0].isdecimal() or text in GLYPHS):
        return None
    if text_at(atoms, i - 1) in ("$", "€", "£") and atoms[i].glued:
        return None
    if text_at(atoms, i - 1) == "take" and says(atoms, i - 3, "give", "or", "take"):
        return None  # "give or take five degrees"
    at = i - (text != "minus")
    if text_at(atoms, at) == "minus" and text_at(atoms, at - 1) in ("plus", "or"):
        return None  # "plus minus five degrees"
    if (sides := sides_at(atoms, i)) is not None:
        return Found(sides, sides.start, sides.end, sides.end)
    last = before[-1].said if before else None
    gone = i - before[-1].end if before else i
    longer = value_at(atoms, i - 1) if i and not atoms[i - 1].stop else None
    inside = longer is not None and longer.end > i and longer.form != "article"  # the end of a number that was none
    heat = None if inside else told_twice(atoms, i)
    heat = heat or heat_at(atoms, i) or short_heat_at(atoms, i, last, gone, earlier=_earlier(before, i))
    if heat is not None:
        heat = hotter(atoms, heat)
        return Found(heat, heat.start, heat.end, heat.end)
    if (time := time_at(atoms, i)) is not None:
        return Found(time, time.start, time.end, time.end)
    if (said := amount_at(atoms, i) or dropped_at(atoms, i, larder)) is not None:
        return amount_found(atoms, said, larder, before)
    if inside:
        return None
    if (twice := told_twice_at(atoms, i, before, larder)) is not None:
        return twice
    begin = before[-1].end if before else 0
    if (corrected := corrected_at(atoms, i, last, gone)) is not None:
        return Found(corrected, i, corrected.end, corrected.end, before[-1].thing)
    if (named := name_first_at(atoms, i, begin, last, larder)) is not None:
        return Found(named.said, i, named.said.end, named.said.end, named.thing)
    if (
        taken := same_at(atoms, i, before, larder) or carried_at(atoms, i, before) or answer_at(atoms, i, larder)
    ) is not None:
        return taken
    beside = bool(before) and i - before[-1].end <= 4 and isinstance(before[-1].said, Said | Counted)
    if (counted := count_at(atoms, i, begin, beside, larder)) is not None:
        return Found(counted, counted.start, counted.thing.end, counted.end, counted.thing)
    if (more := more_at(atoms, i, before)) is not None:
        return more
    if (time := short_time_at(atoms, i, last, gone) or time_again_at(atoms, i, before)) is not None:
        return Found(time, time.start, time.end, time.end)
    told = [f.said for f in before[-5:] if isinstance(f.said, Said)]
    if (short := short_amount_at(atoms, i, told, larder)) is not None:
        thing = next(iter(shared(atoms, short.end, larder)), None) or thing_behind(atoms, short.end, larder)
        if (thing is None or thing.match is None) and before and before[-1].thing is not None:
            thing = same_kind(atoms, short.end, before[-1].thing, larder) or thing
        return Found(short, short.start, thing.end if thing else short.end, short.end, thing)
    return unknown_at(atoms, i, before, larder)


def _earlier(before: Sequence[Found], i: int) -> SaidHeat | None:
    """The last heat said, if it was said not long ago."""
    said = next((found for found in reversed(before[-3:]) if isinstance(found.said, SaidHeat)), None)
    return said.said if said is not None and i - said.own_end <= _LONG_AGO and isinstance(said.said, SaidHeat) else None


def _with_recalled(found: list[Found], atoms: Sequence[Atom]) -> list[Found]:
    """Adds the heats of a recap: a bare number that was a heat elsewhere in the film, before a time or on its
    own."""
    known = {f.said.heat.low: f.said for f in found if isinstance(f.said, SaidHeat) and f.said.heat.low >= 100}
    if not known:
        return found
    taken = {n for f in found for n in range(f.start, f.end)}
    times = {f.start for f in found if isinstance(f.said, SaidTime)}
    result = list(found)
    for i in range(len(atoms)):
        if i in taken:
            continue
        heat = short_heat_at(atoms, i, None, i, known, times)
        if heat is not None and not taken & set(range(heat.start, heat.end)):
            result.append(Found(heat, heat.start, heat.end, heat.end))
            taken |= set(range(heat.start, heat.end))
    return sorted(result, key=lambda f: f.start)
