"""Counts of what the table does not know, told in a list of food: "blend four tatashe, two ata rodo and one onion"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.amounts import amount_at
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import VESSELS, Counted, by_the_piece
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import PARTS, TEENS, TENS, goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import INEDIBLE, Larder, Thing, ends_name, thing_behind
from pipeline.film.spoken.words import SIZES, qualifiers_at
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, find_unit

#: Counted in a kitchen or a life, and not eaten.
NO_FOOD = (
    word_set("""
    people persons person guests kids children boys girls friends men women lads sons daughters sisters brothers
    cousins visitors neighbours neighbors mates cats dogs of times time things thing ways way reasons steps step
    turns turn layers layer sides side parts part rounds round batches batch portions servings pans trays tray
    sheets bowls bowl spoons forks knives racks shelves ovens burners hands fingers minutes hours seconds days
    weeks months years degrees degree points stars dollars bucks pounds euros quid pence cents inches inch
    centimetres miles videos episodes viewers comments questions subscribers folds goes lots halves quarters
    thirds eighths percent more of ones one items pieces people's o'clock am pm long wide thick big-ones
    helpings loaves trays tins cases jars cakes pies wee hundred thousand million dozen equal separate other
    different whole large small medium bits lumps balls heads speed stage number page tips tip rules rule
    """)
    | VESSELS
    | INEDIBLE
)
_COLOURS = word_set("red green yellow orange black white brown purple")
_JOINS = word_set("and plus then with a an")
_MOST, _LONGEST, _CHAIN = 24, 3, 3


def unknown_at(atoms: Sequence[Atom], i: int, before: Sequence[Found], larder: Larder) -> Found | None:
    """The count at ``i`` of something unknown, if an amount of food is told right before it or right behind."""
    if text_at(atoms, i) == "only" or text_at(atoms, i - 1) == "only":
        return None
    listed = _listed_before(atoms, i, before)
    if listed and (same := _by_colour(atoms, i, before[-1])) is not None:
        return same
    counted = _count(atoms, i)
    if counted is None:
        return None
    behind = _listed_behind(atoms, counted.thing.end, larder)
    if not (listed and behind):
        # Kitchens without plurals are those of machine captions, mostly.
        stops = any(atom.stop for atom in atoms[max(i - 30, 0) : i + 30])
        plural = counted.thing.words.endswith("s")
        if not (listed or behind) or (counted.amount.high == 1 and not behind) or (stops and not plural):
            return None
    return Found(counted, i, counted.thing.end, counted.end, counted.thing)


def _by_colour(atoms: Sequence[Atom], i: int, last: Found) -> Found | None:
    """ "Three green cardamoms, one black": more of what was counted last, by its colour or size."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or atoms[value.end - 1].stop or value.number.high > _MOST:
        return None
    end = value.end + 1
    if not isinstance(last.said, Counted) or text_at(atoms, value.end) not in _COLOURS:
        return None
    if goes_on(atoms, end) and text_at(atoms, end) != "and":
        return None
    old = [word for word in last.said.thing.words.split() if word not in _COLOURS]
    thing = Thing(i, end, " ".join([text_at(atoms, value.end), *old]), last.said.thing.match)
    amount = amount_of(value.number, last.said.amount.unit, said_words(atoms, i, end))
    return Found(Counted(i, end, amount, "", thing), i, end, end, thing)


def _count(atoms: Sequence[Atom], i: int) -> Counted | None:
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.loose or not 1 <= value.single <= _MOST:
        return None
    if value.number.high > _MOST or value.single.denominator > 1 or atoms[value.end - 1].stop:
        return None
    at = value.end
    size = SIZES.get(text_at(atoms, at), "")
    at += bool(size) and not atoms[at].stop
    words: list[str] = []
    end = at
    while end < len(atoms) and len(words) <= _LONGEST and not ends_name(atoms, end) and number_at(atoms, end) is None:
        words.append(atoms[end].text)
        end += 1
        if atoms[end - 1].stop:
            break
    if not words or len(words) > _LONGEST or not all(word.isalpha() for word in words):
        return None
    if any(word in NO_FOOD or word in PARTS or word in TENS or word in TEENS or find_unit(word) for word in words):
        return None
    if value.number.high == 1 and words[-1].endswith("s"):
        return None
    amount = amount_of(value.number, EACH, said_words(atoms, i, end), qualifier)
    return Counted(i, end, amount, size, Thing(at, end, " ".join(words), None))


def _listed_before(atoms: Sequence[Atom], i: int, before: Sequence[Found]) -> bool:
    """Whether an amount of something named ends right before ``i``."""
    last = before[-1] if before else None
    if last is None or last.thing is None or not isinstance(last.said, Said | Counted):
        return False
    if any(atom.stop == "." for atom in atoms[last.end - 1 : i]) or last.thing.end > last.end:
        return False
    return all(atom.text in _JOINS for atom in atoms[last.end : i])


def _listed_behind(atoms: Sequence[Atom], end: int, larder: Larder, depth: int = 0) -> bool:
    """Whether an amount or a count of something known begins right behind ``end``."""
    if end >= len(atoms) or atoms[end - 1].stop == "." or depth > _CHAIN:
        return False
    at = end
    while text_at(atoms, at) in ("and", "plus", "then"):
        at += 1
    if (said := amount_at(atoms, at)) is not None:
        thing = thing_behind(atoms, said.end, larder)
        return said.amounts[0].unit.kind != "length" and thing is not None and thing.match is not None
    value = number_at(atoms, at)
    if value is None:
        return False
    inner = value.end + (text_at(atoms, value.end) in SIZES)
    thing = thing_behind(atoms, inner, larder)
    if thing is not None and thing.match is not None and by_the_piece(thing):
        return True
    more = _count(atoms, at)
    return more is not None and _listed_behind(atoms, more.thing.end, larder, depth + 1)
