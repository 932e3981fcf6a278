"""Statements joined into things said: two that say one amount in two measures are one; each gets its
ingredient."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.ahead import ahead_of, scale_ahead
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import VESSELS, Counted, Sized
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.heats import SaidHeat
from pipeline.film.spoken.joins import Bond, bond, new_family, unpunctuated
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.scales import other_scale
from pipeline.film.spoken.stated import Said
from pipeline.film.spoken.things import INEDIBLE, Larder, Thing, ends_name, thing_before
from pipeline.film.spoken.times import SaidTime
from pipeline.measure.amount import Amount
from pipeline.measure.record import replace

# Words that speak of what was named before: "it's a 15 ounce can", "mine was 110 grams".
_BACK = word_set("it's it its mine that's that they there has them which total all those these the")
_NEAR, _LONGEST_WAY = 8, 12


def joined(found: Sequence[Found], atoms: Sequence[Atom], larder: Larder) -> list[list[Found]]:
    """Statements in groups that say one thing, in the order said."""
    groups: list[list[Found]] = []
    flat = unpunctuated(atoms)
    for one in found:
        if groups and _goes_with(groups[-1], one, atoms, larder, flat):
            groups[-1].append(one)
            continue
        if len(groups) > 1 and _turns_back(groups[-2], groups[-1], one, atoms):
            groups[-2].append(one)
            continue
        if groups:
            _name_before(groups, atoms, larder)
        groups.append([one])
    if groups:
        _name_before(groups, atoms, larder)
    return groups


def kind_of(found: Found) -> str:
    """ "heat", "time", "size" or "amount"."""
    if isinstance(found.said, SaidHeat):
        return "heat"
    if isinstance(found.said, SaidTime):
        return "time"
    return "size" if isinstance(found.said, Sized) else "amount"


def amounts_of(found: Found) -> tuple[Amount, ...]:
    """The amounts of one statement; none for a heat or a time."""
    if isinstance(found.said, Counted):
        return (found.said.amount,)
    return found.said.amounts if isinstance(found.said, Said | Sized) else ()


def thing_of(group: Sequence[Found]) -> Thing | None:
    """The first ingredient named in a group."""
    return next((part.thing for part in group if part.thing is not None), None)


def _goes_with(group: Sequence[Found], one: Found, atoms: Sequence[Atom], larder: Larder, flat: bool) -> bool:
    last = group[-1]
    kind = kind_of(one)
    if kind != kind_of(last) or kind == "size":
        return False
    how = "says" if _named_ahead(atoms, last, one) else bond(atoms, last.end, one.start, flat)
    if how is None:
        return False
    if kind == "heat":
        return _heats_go(group, one, how)
    if kind == "time":
        return _times_go(last, one, how, [atom.text for atom in atoms[last.end : one.start]])
    return _amounts_go(group, one, how, atoms, larder)


def _named_ahead(atoms: Sequence[Atom], last: Found, one: Found) -> bool:
    """Whether the measure of a statement is named right behind the one before: "one cup, and in grams it's fifteen"."""
    if isinstance(one.said, Said) and not one.said.guessed:
        return False
    ahead = ahead_of(atoms, one.start)
    if isinstance(one.said, SaidHeat) and scale_ahead(atoms, one.start) is not None:
        return True
    return ahead is not None and last.end <= ahead.at <= last.end + _LONGEST_WAY


def _amounts_go(group: Sequence[Found], one: Found, how: Bond, atoms: Sequence[Atom], larder: Larder) -> bool:
    last, mine, thing = group[-1], thing_of(group), one.thing
    if _speaks_on(mine, atoms, last.end, one.start, larder):
        return False
    if thing is not None and mine is not None and not _one_thing(mine, thing):
        # "two tablespoons of zest, which will be two oranges"
        return how == "says" and isinstance(one.said, Counted) and mine.words.split()[-1] in ("juice", "zest")
    told = [a for part in group for a in amounts_of(part)]
    if any(not new_family(told, a) for a in amounts_of(one)):
        # "a kilo, in other words a thousand grams": the same family only where the words say so
        if any(a.unit == b.unit and (a.high < b.low or b.high < a.low) for a in told for b in amounts_of(one)):
            return False  # "a teaspoon in each, so that's twelve teaspoons"
        if thing is not None or "or" in (atom.text for atom in atoms[last.end : one.start]) or how == "aside":
            return False
        return (how == "says" and one.start > last.end) or _equal(told[-1], amounts_of(one)[0])
    if how == "says":
        return True
    if how in ("beside", "short") and isinstance(one.said, Counted) and text_at(atoms, one.own_end - 1) == "ones":
        return True  # "1.2 kilos of potatoes, about five big ones"
    if how == "beside":
        return thing is None or mine is None  # side by side: the second must not be the amount of something else
    if thing is not None or any(a.unit.kind not in ("mass", "volume") for a in amounts_of(one)):
        return False
    if how == "aside":
        named = thing_before(atoms, last.end, one.start, larder)
        return named is None or (mine is not None and _one_thing(mine, named))
    return True


# Between one thing and the next: "a bay leaf and the rest of the salt, that's one teaspoon".
_AND_THE = word_set("and plus then the rest remaining last other remainder of our your my some more a")


def _speaks_on(mine: Thing | None, atoms: Sequence[Atom], start: int, end: int, larder: Larder) -> bool:
    """Whether something else is named behind "and" before the next statement, so that this is of that."""
    if text_at(atoms, start) not in ("and", "plus", "then"):
        return False
    named = thing_before(atoms, start, end, larder)
    if named is None or (mine is not None and _one_thing(mine, named)):
        return False
    return all(atom.text in _AND_THE for atom in atoms[start : named.start])


def _turns_back(group: Sequence[Found], between: Sequence[Found], one: Found, atoms: Sequence[Atom]) -> bool:
    """ "Three seventy five for forty minutes, that's one ninety Celsius": the other scale's number, behind the time."""
    last, said = group[-1].said, one.said
    if not (isinstance(last, SaidHeat) and isinstance(said, SaidHeat) and isinstance(between[0].said, SaidTime)):
        return False
    told = text_at(atoms, one.start - 1) in ("that's", "thats", "is") and one.start - between[-1].end <= 2
    return told and said.sure and len(group) == 1 and not last.sure and other_scale(said.heat, last.heat)


def _times_go(last: Found, one: Found, how: Bond, between: Sequence[str]) -> bool:
    assert isinstance(last.said, SaidTime) and isinstance(one.said, SaidTime)
    x, y = last.said.time, one.said.time
    if how == "says":
        if "or" in between:
            # "45 minutes, or an hour if you have it" are two; "30 minutes or half an hour" are one
            return abs(x.low - y.low) * 7 <= max(x.low, y.low)
        return between[:1] in (["so"], ["that's"], ["which"])
    return how == "beside" and last.end == one.start and x.low <= y.high and y.low <= x.high


def _heats_go(group: Sequence[Found], one: Found, how: Bond) -> bool:
    """Two heats are one where they are on two scales, or one is for a fan oven."""
    mine = [part.said for part in group if isinstance(part.said, SaidHeat)]
    said = one.said
    assert isinstance(said, SaidHeat)
    if how == "aside":  # "seventy two in the middle, a hundred and sixty if yours talks Fahrenheit"
        fits = other_scale(said.heat, mine[-1].heat)
        return said.sure and fits and len(mine) == 1 and mine[0].heat.scale != (said.heat.scale if mine[0].sure else "")
    if any(h.heat.low == said.heat.low and h.heat.fan == said.heat.fan for h in mine):
        return False  # "three hundred fifty, three fifty": the same again
    if mine[-1].heat.fan and not said.heat.fan and not said.sure and how in ("says", "beside"):
        return mine[-1].heat.low < said.heat.low <= mine[-1].heat.low * Fraction(5, 4)  # "180 fan, 200 if it's not"
    if said.heat.fan and not any(h.heat.fan for h in mine):
        return how != "short"
    if said.sure:
        return (said.heat.scale, said.heat.fan) not in {(h.heat.scale, h.heat.fan) for h in mine if h.sure}
    # A bare number behind a sure one is its other scale only if it can be: "350 F or 180".
    return len(mine) == 1 and mine[0].sure and other_scale(mine[0].heat, said.heat)


def _equal(a: Amount, b: Amount) -> bool:
    """ "A thousand grams, a kilo": the same in another unit of the same family."""
    if a.unit == b.unit or a.unit.kind == "count" or a.unit.kind != b.unit.kind:
        return False
    return a.stated().meets(b.stated())


def _one_thing(a: Thing, b: Thing) -> bool:
    if a.match and b.match:
        return a.match.row.name == b.match.row.name
    return a.words == b.words or a.words.split()[-1] == b.words.split()[-1]


def _name_before(groups: list[list[Found]], atoms: Sequence[Atom], larder: Larder) -> None:
    """Gives the last group the ingredient named before it, if none is named in it."""
    group = groups[-1]
    if kind_of(group[0]) != "amount" or thing_of(group) is not None:
        return
    begin = groups[-2][-1].end if len(groups) > 1 else 0
    start = group[0].start
    thing = thing_before(atoms, begin, start, larder)
    if thing is None and len(groups) > 1 and start - begin <= _NEAR and kind_of(groups[-2][0]) == "amount":
        between = [atom.text for atom in atoms[begin:start]]
        if between and any(word in _BACK for word in between) and "and" not in between:
            thing = thing_of(groups[-2])
    if thing is None and len(groups) > 1:
        thing = _carried(groups[-2], group[0], atoms)
    if thing is None:
        thing = _unknown_behind(group, atoms) or _begun_with(group[0], atoms, begin, larder)
    group[0] = replace(group[0], thing=thing)


# "Twelve pounds of flour for the ship, but you and me, we use a pound": more or less of the same.
_SAME = word_set(
    "so that's take can use but no sorry instead or we we're i i'm you another more "
    "make going only just actually wait leave plus"
)
_CARRIED = 14


def _carried(last: Sequence[Found], one: Found, atoms: Sequence[Atom]) -> Thing | None:
    """What an amount is of that is told in the unit of the one before, in the same sentence, with words of another
    measure of the same: "a half cup of cheese, plus another quarter cup for the top"."""
    between = atoms[last[-1].end : one.start + 1]
    if not between or len(between) > _CARRIED or any(a.stop == "." for a in (atoms[last[-1].end - 1], *between[:-1])):
        return None
    if not isinstance(one.said, Said) or not isinstance(last[0].said, Said):
        return None
    units = {a.unit for a in amounts_of(last[0])}
    if not any(a.unit in units for a in amounts_of(one)) or not any(atom.text in _SAME for atom in between):
        return None
    return thing_of(last)


# With these a sentence begins that tells an amount of something else.
_BEGUN = word_set(
    "now then so next okay ok right well oh first second third finally meanwhile today tomorrow yesterday look listen "
    "sorry yeah mm easy friends darling love dear everybody people folks altogether total recap oven hello more "
    "again later anyway always never nothing everything good great perfect lovely done"
)
_LONGEST_FIRST, _FARTHEST_NAME = 3, 9


def _begun_with(one: Found, atoms: Sequence[Atom], begin: int, larder: Larder) -> Thing | None:
    """The words that a sentence begins with, where they are all it says before an amount but how it is: "Skirt, cut
    small, never minced, twelve ounces"."""
    if not isinstance(one.said, Said) or one.said.guessed or one.said.amounts[0].unit.kind == "length":
        return None
    first = next((n + 1 for n in range(one.start - 1, begin - 1, -1) if atoms[n].stop == "."), begin)
    while text_at(atoms, first) in ("the", "and", "then", "our", "my", "your", "now", "also"):
        first += 1
    end = next((n + 1 for n in range(first, one.start) if atoms[n].stop), 0)
    if not 0 < end - first <= _LONGEST_FIRST or one.start - end > _FARTHEST_NAME or not atoms[one.start - 1].stop:
        return None
    words = [atom.text for atom in atoms[first:end]]
    if any(not word.isalpha() or word in _BEGUN | FIRST_WORDS or word.endswith("ly") for word in words):
        return None
    if any(ends_name(atoms, n) or atoms[n].text in VESSELS | INEDIBLE for n in range(first, end)):
        return None
    return Thing(first, end, " ".join(words), larder.find(words))


# Behind an amount these begin no name.
_NO_NAME = word_set(
    "of total dry cooked raw weight each apiece cold hot warm here today tonight tops max more less maybe only enough "
    "ish give too tomorrow yesterday straight flat sharp thick deep wide long across before after"
)
_LONGEST_NAME = 4


def _unknown_behind(group: Sequence[Found], atoms: Sequence[Atom]) -> Thing | None:
    """The words right behind a measure without "of", where they end by themselves: "two hundred grams bee hoon,"."""
    last = group[-1]
    said = last.said
    if not isinstance(said, Said) or said.article or said.amounts[0].unit.kind == "length" or said.guessed:
        return None
    at = end = last.own_end
    if at >= len(atoms) or atoms[at - 1].stop or atoms[at].text in _NO_NAME:
        return None
    while (
        end < len(atoms) and not ends_name(atoms, end) and atoms[end].text.isalpha() and number_at(atoms, end) is None
    ):
        end += 1
        if atoms[end - 1].stop:
            break
    if not 0 < end - at <= _LONGEST_NAME or atoms[end - 1].text.endswith("ly"):
        return None
    return Thing(at, end, " ".join(atom.text for atom in atoms[at:end]), None)
