"""Amounts in a list, looked at together: names before their amounts ("shoyu one cup, brown sugar one cup"), and the
size of each of several tins ("two tins of tomatoes, the 400 gram ones")."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, ends_name, thing_before
from pipeline.film.spoken.words import CONTAINERS
from pipeline.measure.record import replace

# Words of a name that the table does not know, at most, and pieces between tins and their size.
_LONGEST, _APART = 3, 6
_EACH = word_set("each ones one apiece")
_SPEAKS = word_set("and the a an each it's that's about each they're of at")


def listed(found: Sequence[Found], atoms: Sequence[Atom], larder: Larder) -> list[Found]:
    """The statements with what can be told only from those beside them."""
    result: list[Found] = []
    for one in found:
        if result and (whole := _each(result[-1], one, atoms)) is not None:
            result[-1] = whole
        else:
            result.append(one)
    for n in range(len(result) - 2, -1, -1):
        _names_first(result, n, atoms, larder)
    return result


def _each(last: Found, one: Found, atoms: Sequence[Atom]) -> Found | None:
    """ "Two tins of tomatoes, 400 grams each": two tins and eight hundred grams."""
    if not isinstance(last.said, Said) or not isinstance(one.said, Said) or one.start - last.end > _APART:
        return None
    if len(last.said.amounts) > 1 or last.said.amounts[0].unit.name not in CONTAINERS:
        return None
    size = one.said.amounts[0]
    if len(one.said.amounts) > 1 or size.unit.kind not in ("mass", "volume") or one.said.article:
        return None
    between = [atom.text for atom in atoms[last.end : one.start]]
    if any(atom.stop == "." for atom in atoms[last.end - 1 : one.start]) or _other_thing(between):
        return None
    stopped = bool(atoms[one.own_end - 1].stop)
    told = not stopped and text_at(atoms, one.own_end) in _EACH
    the = between[-1:] == ["the"] and (told or stopped or one.own_end >= len(atoms))
    if not (the or (told and all(word in _SPEAKS for word in between))):
        return None
    count = last.said.amounts[0]
    if count.low != count.high:
        return None
    end = one.own_end + told
    said = replace(
        last.said, amounts=(count, replace(size.scaled(count.low), text=said_words(atoms, one.start, end))), end=end
    )
    return last._replace(said=said, end=max(last.end, end), own_end=end)


def _other_thing(between: Sequence[str]) -> bool:
    """Whether words speak of another thing: "and" does, but not in "two cans, and they're the small ones"."""
    if between[:1] == ["and"] and between[1:2] and between[1] in ("they're", "it's", "these", "that's"):
        return False
    return bool({"and", "plus", "or"} & set(between))


def _names_first(found: list[Found], n: int, atoms: Sequence[Atom], larder: Larder) -> None:
    """Names before amounts: where the name between two amounts ends right before the second, the second has none behind
    it, and one stands before the first, too."""
    one, other = found[n], found[n + 1]
    between = one.thing
    if not (_measured(one) and _measured(other)) or between is None or between.start < one.own_end:
        return
    if text_at(atoms, one.own_end) in ("of", "each") or between.end != other.start:
        return
    if other.thing is not None and other.thing.start >= other.own_end:
        return
    if any(atom.stop == "." for atom in atoms[max(one.start - 1, 0) : other.start]):
        return
    begin = found[n - 1].own_end if n else 0
    mine = _named_before(atoms, begin, one.start, larder)
    if mine is None:
        return
    found[n] = one._replace(thing=mine, end=one.own_end)
    found[n + 1] = other._replace(thing=between)


def _measured(one: Found) -> bool:
    return isinstance(one.said, Said | Counted)


def _named_before(atoms: Sequence[Atom], begin: int, start: int, larder: Larder) -> Thing | None:
    """What is named right before ``start``, known or not."""
    known = thing_before(atoms, begin, start, larder, back=5)
    if known is not None and known.end == start:
        return known
    at = start
    while at > max(begin, start - _LONGEST) and not ends_name(atoms, at - 1) and atoms[at - 1].text.isalpha():
        if at < start and atoms[at - 1].stop:
            break
        at -= 1
    if at == start or start - at == _LONGEST:
        return None
    return Thing(at, start, " ".join(atom.text for atom in atoms[at:start]), None)
