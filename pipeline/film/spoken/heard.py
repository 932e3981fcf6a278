"""Everything measured that is said in a film: one pass finds statements, a second joins those that say one thing twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from pipeline.film.spoken.amounts import Said, amount_at
from pipeline.film.spoken.atoms import Atom, atoms_of
from pipeline.film.spoken.counts import Counted, Sized, count_at, needs_name, of_a_vessel, sides_at
from pipeline.film.spoken.heats import SaidHeat, heat_at, settled
from pipeline.film.spoken.joins import is_same, new_family
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds, Larder, Thing, thing_before, thing_behind
from pipeline.film.spoken.times import SaidTime, time_at
from pipeline.film.spoken.words import says, text_at
from pipeline.film.transcript import Transcript
from pipeline.measure.amount import Amount
from pipeline.measure.heat import Scale


@dataclass(slots=True)
class _Found:
    """A statement in the making; ``thing`` its ingredient, ``end`` behind its name where that follows."""

    said: Said | Counted | Sized | SaidHeat | SaidTime
    start: int
    end: int
    own_end: int
    thing: Thing | None = None
    vessel: bool = False


def heard(transcript: Transcript, table: Finds) -> tuple[Spoken, ...]:
    """Every amount, heat, time and size said, in the order said; see :class:`Spoken`. Never raises.

    ``table`` is the ingredient table (``pipeline.measure.lookup.load()``); anything with its ``find`` will do.
    """
    atoms = atoms_of([word.text for word in transcript.words])
    larder = Larder(table)
    found = _statements(atoms, larder)
    return tuple(_spoken(group, atoms, transcript, _home(found)) for group in _joined(found, atoms, larder))


def _statements(atoms: Sequence[Atom], larder: Larder) -> list[_Found]:
    result: list[_Found] = []
    i = 0
    while i < len(atoms):
        one = _statement(atoms, i, larder)
        if one is None:
            i += 1
            continue
        result.append(one)
        i = max(one.end, i + 1)
    return result


def _statement(atoms: Sequence[Atom], i: int, larder: Larder) -> _Found | None:
    """What begins at ``i``. Heats before times before amounts, so that "350 for 20 minutes" falls apart rightly."""
    text = atoms[i].text
    if not (text[0].isalnum() or text in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"):
        return None
    if text_at(atoms, i - 1) in ("$", "€", "£") and atoms[i].glued:
        return None
    if (sides := sides_at(atoms, i)) is not None:
        return _Found(sides, sides.start, sides.end, sides.end)
    if (heat := heat_at(atoms, i)) is not None:
        return _Found(heat, heat.start, heat.end, heat.end)
    if (time := time_at(atoms, i)) is not None:
        return _Found(time, time.start, time.end, time.end)
    if (said := amount_at(atoms, i)) is not None:
        return _amount(atoms, said, larder)
    if (counted := count_at(atoms, i, larder)) is not None:
        return _Found(counted, counted.start, counted.thing.end, counted.end, counted.thing)
    return None


def _amount(atoms: Sequence[Atom], said: Said, larder: Larder) -> _Found | None:
    amount = said.amounts[0]
    before = text_at(atoms, said.start - 1)
    after = text_at(atoms, said.end)
    stopped = bool(atoms[said.end - 1].stop)
    if amount.unit.kind == "length" or (len(said.amounts) == 1 and of_a_vessel(atoms, said.end)):
        return _Found(Sized(said.start, said.end, said.amounts), said.start, said.end, said.end)
    if not stopped and after in ("measure", "measures", "measuring", "scoop", "scoops", "sterling", "note", "spoon"):
        return None
    if not stopped and (says(atoms, said.end, "at", "a", "time") or after == "time"):
        return None
    if before in ("per", "cost", "costs", "lost", "lose", "gained", "gain", "in") and (
        before in ("cost", "costs", "lost", "lose", "gained", "gain") or said.article
    ):
        return None
    thing = thing_behind(atoms, said.end, larder)
    if needs_name(amount, said.article) and len(said.amounts) == 1:
        if thing is None or (thing.match is None and (said.article or text_at(atoms, said.end) != "of")):
            if not (stopped and not said.article) and not _same_follows(atoms, said):
                return None
        if thing is not None and thing.match is None and amount.unit.name in ("piece", "ball", "drop", "knob"):
            return None
    if thing is not None and says(atoms, thing.end, "at", "a", "time") and not atoms[thing.end - 1].stop:
        return None
    if said.article and thing is not None and thing.words in ("tea", "coffee"):
        return None
    end = thing.end if thing else said.end
    return _Found(said, said.start, end, said.end, thing)


def _same_follows(atoms: Sequence[Atom], said: Said) -> bool:
    """ "one packet seven grams": a loose unit that is told again in grams."""
    more = amount_at(atoms, said.end)
    return more is not None and more.amounts[0].unit.kind in ("mass", "volume")


def _kind(found: _Found) -> str:
    if isinstance(found.said, SaidHeat):
        return "heat"
    if isinstance(found.said, SaidTime):
        return "time"
    return "size" if isinstance(found.said, Sized) else "amount"


def _joined(found: Sequence[_Found], atoms: Sequence[Atom], larder: Larder) -> list[list[_Found]]:
    """Statements in groups that say one thing; amounts without a name behind them look for one before them."""
    groups: list[list[_Found]] = []
    for one in found:
        last = groups[-1] if groups else None
        if last is not None and _goes_with(last, one, atoms):
            last.append(one)
            continue
        if last is not None:
            _name_before(groups, atoms, larder)
        groups.append([one])
    if groups:
        _name_before(groups, atoms, larder)
    return groups


def _goes_with(group: Sequence[_Found], one: _Found, atoms: Sequence[Atom]) -> bool:
    last = group[-1]
    kind = _kind(one)
    if kind != _kind(last) or kind == "size":
        return False
    between = is_same(atoms, last.end, one.start)
    if between is None:
        return False
    if kind == "heat":
        return _heats_go(group, one, atoms, between)
    if kind == "time":
        return (
            between
            and last.end < one.start
            and "or" in _between(atoms, last, one)
            or (between and _between(atoms, last, one)[:1] in (["so"], ["that's"], ["which"]))
            or (not between and _equal_times(last, one))
        )
    if isinstance(one.said, Said) and one.said.whole is not None:
        return False
    mine, thing = _thing(group), one.thing
    if thing is not None and mine is not None and not _one_thing(mine, thing):
        return False
    told = [a for part in group for a in _amounts(part)]
    if any(not new_family(told, a) for a in _amounts(one)):
        # "a kilo, in other words a thousand grams": the same family only where the words say so
        if thing is not None or "or" in _between(atoms, last, one):
            return False
        return (between and one.start > last.end) or _equal(told[-1], _amounts(one)[0])
    if between:
        return True
    # Side by side: the second must not be the amount of something else.
    return thing is None or mine is None


def _between(atoms: Sequence[Atom], last: _Found, one: _Found) -> list[str]:
    return [atom.text for atom in atoms[last.end : one.start]]


def _equal_times(a: _Found, b: _Found) -> bool:
    assert isinstance(a.said, SaidTime) and isinstance(b.said, SaidTime)
    x, y = a.said.time, b.said.time
    return a.end == b.start and x.low <= y.high and y.low <= x.high


def _heats_go(group: Sequence[_Found], one: _Found, atoms: Sequence[Atom], between: bool) -> bool:
    """Two heats are one where they are on two scales, or one is for a fan oven."""
    mine = [part.said for part in group if isinstance(part.said, SaidHeat)]
    said = one.said
    assert isinstance(said, SaidHeat)
    taken = {(h.heat.scale, h.heat.fan) for h in mine if h.sure}
    if said.heat.fan and not any(h.heat.fan for h in mine):
        return True
    if said.sure:
        if (said.heat.scale, said.heat.fan) in taken:
            return False
        return True
    # A bare number behind a sure one is its other scale only if it can be: "350 F or 180".
    return between and len(mine) == 1 and mine[0].sure and _other_scale(mine[0], said)


def _other_scale(sure: SaidHeat, said: SaidHeat) -> bool:
    low, other = float(sure.heat.low), float(said.heat.low)
    turned = (low - 32) / 1.8 if sure.heat.scale == "F" else low * 1.8 + 32
    return abs(turned - other) <= 0.15 * abs(turned)


def _amounts(found: _Found) -> tuple[Amount, ...]:
    if isinstance(found.said, Counted):
        return (found.said.amount,)
    return found.said.amounts if isinstance(found.said, Said | Sized) else ()


def _equal(a: Amount, b: Amount) -> bool:
    """ "A thousand grams, a kilo": the same in another unit of the same family."""
    if a.unit == b.unit or a.unit.kind == "count" or a.unit.kind != b.unit.kind:
        return False
    return a.stated().meets(b.stated())


def _thing(group: Sequence[_Found]) -> Thing | None:
    return next((part.thing for part in group if part.thing is not None), None)


def _one_thing(a: Thing, b: Thing) -> bool:
    if a.match and b.match:
        return a.match.row.name == b.match.row.name
    return a.words == b.words or a.words.split()[-1] == b.words.split()[-1]


def _name_before(groups: list[list[_Found]], atoms: Sequence[Atom], larder: Larder) -> None:
    """Gives the last group the ingredient named before it, if none is named in it."""
    group = groups[-1]
    if _kind(group[0]) != "amount" or _thing(group) is not None:
        return
    begin = groups[-2][-1].end if len(groups) > 1 else 0
    start = group[0].start
    thing = thing_before(atoms, begin, start, larder)
    if thing is not None:
        group[0].thing = thing


def _home(found: Sequence[_Found]) -> Scale | None:
    """The scale that this film says most, or None where it says neither or both alike."""
    said = Counter(
        one.said.heat.scale
        for one in found
        if isinstance(one.said, SaidHeat) and one.said.sure and one.said.heat.scale != "gas"
    )
    if said["F"] == said["C"]:
        return None
    return "F" if said["F"] > said["C"] else "C"


def _spoken(group: Sequence[_Found], atoms: Sequence[Atom], transcript: Transcript, home: Scale | None) -> Spoken:
    first, last = group[0].start, max(part.own_end for part in group)
    thing = _thing(group)
    if thing is not None and first <= thing.start:
        last = max(last, min(thing.end, max(part.end for part in group)))
    low, high = atoms[first].word, atoms[last - 1].word + 1
    words = transcript.words[low:high]
    said = Spoken(
        kind=_kind(group[0]),  # type: ignore[arg-type]
        words=" ".join(word.text for word in words),
        first=low,
        last=high,
        start=words[0].start,
        end=words[-1].end,
        amounts=tuple(a for part in group for a in _amounts(part)),
        ingredient=thing.words if thing else "",
        match=thing.match if thing else None,
    )
    heats = [part.said for part in group if isinstance(part.said, SaidHeat)]
    if heats:
        return replace(said, heats=settled(heats, atoms, home), guessed=not all(h.sure for h in heats))
    times = [part.said.time for part in group if isinstance(part.said, SaidTime)]
    if times:
        return replace(said, times=tuple(times))
    sizes = [part.said.size for part in group if isinstance(part.said, Counted)]
    whole = next((part.said.whole for part in group if isinstance(part.said, Said)), None)
    return replace(said, whole=whole, size=next((s for s in sizes if s), ""))
