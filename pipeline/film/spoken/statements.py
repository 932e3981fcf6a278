"""Statements: each single thing measured that is said, before those that belong together are joined."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.film.spoken.amounts import LAST, MISHEARD, Said, amount_at
from pipeline.film.spoken.atoms import Atom, word_set
from pipeline.film.spoken.counts import Counted, Sized, count_at, needs_name, of_a_vessel, sides_at
from pipeline.film.spoken.heats import SaidHeat, heat_at
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.short import short_amount_at, short_heat_at, short_time_at
from pipeline.film.spoken.things import INEDIBLE, Larder, Thing, thing_before, thing_behind
from pipeline.film.spoken.times import SaidTime, time_at
from pipeline.film.spoken.words import CONTAINERS, FIRST_QUALIFIERS, STIRRED, says, text_at
from pipeline.measure.numbers import GLYPHS

# Weights that a person loses or a shop takes, and rates: "120 grams per cup".
_NO_FOOD = word_set("cost costs lost lose losing gained gain")
_TOOLS = word_set("measure measures measuring scoop scoops sterling note spoon")
_HOLDS = word_set("grab with fetch using")
_ALONE = CONTAINERS | {"stick", "clove", "packet"}


# Only from these words, and from figures, is anything begun; the rest of a film is passed over at once.
_FIRST = (
    FIRST_WORDS
    | FIRST_QUALIFIERS
    | MISHEARD.keys()
    | frozenset((*LAST, "gas", "fan", "convection", "between", "overnight", "over", "minus", "negative"))
)


class Found(NamedTuple):
    """A statement: ``said`` from ``start`` to ``own_end``; ``thing`` its ingredient, ``end`` behind its name
    where that follows."""

    said: Said | Counted | Sized | SaidHeat | SaidTime
    start: int
    end: int
    own_end: int
    thing: Thing | None = None


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
    return _with_recalled(result, atoms)


def _statement(atoms: Sequence[Atom], i: int, larder: Larder, before: Sequence[Found]) -> Found | None:
    """What begins at ``i``. Heats before times before amounts, so that "350 for 20 minutes" falls apart
    rightly."""
    text = atoms[i].text
    if not (text in _FIRST or text[0].isdecimal() or text in GLYPHS):
        return None
    if text_at(atoms, i - 1) in ("$", "€", "£") and atoms[i].glued:
        return None
    if (sides := sides_at(atoms, i)) is not None:
        return Found(sides, sides.start, sides.end, sides.end)
    last = before[-1].said if before else None
    heat = heat_at(atoms, i) or short_heat_at(atoms, i, last if isinstance(last, SaidHeat) else None)
    if heat is not None:
        return Found(heat, heat.start, heat.end, heat.end)
    if (time := time_at(atoms, i)) is not None:
        return Found(time, time.start, time.end, time.end)
    if (said := amount_at(atoms, i)) is not None:
        return _amount(atoms, said, larder, before)
    beside = bool(before) and i - before[-1].end <= 4 and isinstance(before[-1].said, Said | Counted)
    begin = before[-1].end if before else 0
    if (counted := count_at(atoms, i, begin, beside, larder)) is not None:
        return Found(counted, counted.start, counted.thing.end, counted.end, counted.thing)
    if (time := short_time_at(atoms, i, last)) is not None:
        return Found(time, time.start, time.end, time.end)
    told = [f.said for f in before[-5:] if isinstance(f.said, Said)]
    if (short := short_amount_at(atoms, i, told, larder)) is not None:
        thing = thing_behind(atoms, short.end, larder)
        return Found(short, short.start, thing.end if thing else short.end, short.end, thing)
    return None


def _amount(atoms: Sequence[Atom], said: Said, larder: Larder, before: Sequence[Found]) -> Found | None:
    amount = said.amounts[0]
    ahead, after = text_at(atoms, said.start - 1), text_at(atoms, said.end)
    stopped = bool(atoms[said.end - 1].stop)
    if amount.unit.kind == "length" or (amount.unit.kind == "volume" and of_a_vessel(atoms, said.end)):
        return Found(Sized(said.start, said.end, said.amounts), said.start, said.end, said.end)
    if not stopped and (after in _TOOLS or after == "time" or says(atoms, said.end, "at", "a", "time")):
        return None
    if any(atom.text in _NO_FOOD for atom in atoms[max(said.start - 3, 0) : said.start]) or (
        said.article and (ahead == "per" or says(atoms, said.start - 2, "most", "of"))
    ):
        return None
    thing = thing_behind(atoms, said.end, larder)
    if said.article and ahead == "in" and (thing is None or text_at(atoms, said.start - 2) not in STIRRED):
        return None  # "serve it in a cup"; but "stir in a cup of sugar"
    if said.article and thing is None and ahead in _HOLDS and amount.unit.kind == "volume" and len(said.amounts) == 1:
        return None  # "grab a teaspoon and taste"
    if thing is not None and says(atoms, thing.end, "at", "a", "time") and not atoms[thing.end - 1].stop:
        return None
    if needs_name(amount, said.article) and len(said.amounts) == 1:
        if not _is_named(atoms, said, thing) and not _stands_alone(atoms, said, larder, before):
            return None
        if said.article and after in ("more", "less"):
            return None  # "a drop more water"
    if said.article and thing is not None and thing.words in ("tea", "coffee"):
        return None
    end = thing.end if thing else said.end
    return Found(said, said.start, end, said.end, thing)


def _is_named(atoms: Sequence[Atom], said: Said, thing: Thing | None) -> bool:
    """Whether a loose unit ("a piece") is one of something, and of something to eat where the words are
    weak."""
    if thing is None:
        return False
    if thing.match is not None:
        return True
    if thing.words.split()[-1] in INEDIBLE or thing.words.split()[0] in INEDIBLE:
        return False
    weak = said.article or said.amounts[0].unit.name in ("piece", "ball", "drop", "knob")
    return not weak and text_at(atoms, said.end) == "of"


def _stands_alone(atoms: Sequence[Atom], said: Said, larder: Larder, before: Sequence[Found]) -> bool:
    """Whether a loose unit without a name is an amount all the same: "two cans," or "one packet, seven
    grams"."""
    name = said.amounts[0].unit.name
    ahead = text_at(atoms, said.start - 1)
    if not said.article and name in _ALONE and (atoms[said.end - 1].stop or ahead in ("that's", "or")):
        return True
    begin = before[-1].start if before else 0
    if name == "stick" and not said.article and thing_before(atoms, begin, said.start, larder, back=16):
        return True
    more = amount_at(atoms, said.end)
    return more is not None and more.amounts[0].unit.kind in ("mass", "volume")


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
        heat = short_heat_at(atoms, i, None, known, times)
        if heat is not None and not taken & set(range(heat.start, heat.end)):
            result.append(Found(heat, heat.start, heat.end, heat.end))
            taken |= set(range(heat.start, heat.end))
    return sorted(result, key=lambda f: f.start)
