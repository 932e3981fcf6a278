"""Counted things ("two onions", "half a lemon", "three garlic cloves") and sizes that are no ingredient."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import said_words
from pipeline.film.spoken.things import Larder, Thing, ends_name, thing_before, thing_behind
from pipeline.film.spoken.upper import upper_at
from pipeline.film.spoken.words import GO_ON, LOOSE, SIZES, qualifiers_at, says
from pipeline.measure.amount import Amount
from pipeline.measure.numbers import Number
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, find_unit, unit

# "the size of an egg", "like a lemon", "makes 24 cookies", "serves six"
_LIKENESS = word_set("like as makes make yields serves into size of for than")
# "A lemon-sized ball of tamarind", "a walnut-size piece".
_LIKENED = word_set("sized size shaped")
_PANS = word_set(
    "pan pans tin tins dish skillet tray mold mould ring springform pie round square baking cake loaf rectangle circle "
    "sheet rectangular"
)
VESSELS = word_set(
    "pot pan saucepan dish bowl jug pitcher jar container casserole mixer kettle slow dutch stockpot bottle tub "
    "capacity ramekin ramekins mug glass"
)


# Counted although the table knows them by the spoon.
_GRAINS = word_set("cardamom cardamoms peppercorns juniper berries pods stars blades threads")


class Counted(NamedTuple):
    start: int
    end: int
    amount: Amount
    size: str
    thing: Thing


# "An egg" is counted where something is done with it, or in a list: not in "salt an aubergine and leave it".
_TAKES = word_set(
    "add need want take grab crack chop use get peel throw toss in got has have plus squeeze of beat slice dice"
)
# More of one thing is counted in no home kitchen.
_MOST = 24
_OF_A_FRUIT = word_set("juice zest rind peel")
# What comes out of the oven is no ingredient by the piece: "you get twenty four cookies".
_MADE = word_set(
    "cookies cookie bread cake pie muffins muffin rolls buns pancakes biscuits biscuit crackers cracker pizza "
    "sandwiches sandwich brownies waffles bagels scones croissants cupcakes doughnuts"
)


def count_at(atoms: Sequence[Atom], i: int, begin: int, beside: bool, larder: Larder) -> Counted | None:
    """A count of something that the table knows by the piece, or None. ``begin``: where the statement before
    ended; ``beside``: it was an amount, and right before this."""
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is not None and text_at(atoms, i - 1) in ("are", "they're", "them") and atoms[value.end - 1].stop:
        return _they_are(atoms, i, begin, value, larder)
    if value is None or atoms[value.end - 1].stop or (value.vague and value.number.low != value.number.high):
        return None
    before = text_at(atoms, i - 1)
    peeled = before == "of" and text_at(atoms, i - 2) in _OF_A_FRUIT
    made = before in ("make", "makes") and text_at(atoms, i - 2) in ("i", "we", "you")
    if (
        before in _LIKENESS
        and not peeled
        and not made
        and (value.form == "article" or before not in ("of", "for", "into"))
    ):
        return None
    begins = value.form == "article" and (i == 0 or atoms[i - 1].stop == ".")
    if value.form == "article" and not (begins or beside or before in _TAKES or says(atoms, i - 2, "in", "goes")):
        named = thing_before(atoms, begin, i, larder) if i and atoms[i - 1].stop == "," else None
        if named is None or named.end != i:
            return None  # but "milk, butter, flour, a lemon"
    if (many := _of_the_ones(atoms, i, begin, value, qualifier, larder)) is not None:
        return many
    if says(atoms, value.end, "of", "them") or says(atoms, value.end, "of", "those"):
        return _of_them(atoms, i, begin, value, larder)
    at = value.end
    if value.number.high < 1 and text_at(atoms, at) in ("a", "an", "of", "the"):
        if says(atoms, at, "of", "a") or says(atoms, at, "of", "an"):
            at += 1  # "a quarter of a cucumber"
        elif text_at(atoms, at) in ("of", "the"):
            return None  # "half the onion" is a part of one that was counted before
        at += 1
    inner, at = qualifiers_at(atoms, at)
    size = SIZES.get(text_at(atoms, at), "")
    if size:
        at += 1
    elif says(atoms, at, "extra", "large"):
        size, at = "extra large", at + 2
    at += text_at(atoms, at) == "sized"  # "four good sized potatoes"
    if text_at(atoms, at) == "of":
        return _of_the_named(atoms, i, at, value, inner or qualifier, larder)
    of_them = next((n for n in range(at, at + 3) if text_at(atoms, n) == "ones"), at)
    if of_them > at and not any(
        ends_name(atoms, n) or atoms[n].stop or find_unit(atoms[n].text) for n in range(at, of_them)
    ):
        at = of_them  # "two long English ones"
    if text_at(atoms, at) == "ones":
        return _ones(atoms, i, at, begin, value, inner or qualifier, size, larder)
    thing = thing_behind(atoms, at, larder)
    if thing is None or thing.match is None or thing.match.how == "spelling":
        thing = None if value.form == "article" else _headed(atoms, at, larder)
    if thing is None or any(word in _LIKENED for word in (text_at(atoms, thing.end), *thing.words.split())):
        return None
    if begins and not beside and not (says(atoms, thing.end, "and") and not atoms[thing.end - 1].stop):
        return None  # "an onion and two carrots" begins a list
    if thing.words.endswith("'s") or (value.number.high < 1 and thing.words.endswith("s")):
        return None  # of "a pound and a quarter of parsnips" the middle was lost
    if value.number.high == 1 and value.form != "article" and thing.words.endswith("s") and not size:
        return None  # "a big one, leeks again"
    if thing.words in _MADE or text_at(atoms, thing.end) in _MADE or text_at(atoms, at) == "very":
        return None
    if before == "not" and value.number.high == 1:
        return None
    if says(atoms, thing.end, "at", "a", "time") or value.loose or value.number.high > 100:
        return None
    words = thing.words.split()
    unit_ = EACH
    last = find_unit(words[-1])
    own = thing.match is not None and thing.match.row.name.endswith((words[-1], last.plural if last else "-"))
    if last is not None and not own and last.kind == "count" and len(words) > 1 and (of := larder.find(words[:-1])):
        unit_ = last
        thing = Thing(thing.start, thing.end, " ".join(words[:-1]), of)
    elif thing.match is not None and not by_the_piece(thing) and words[-1] not in _GRAINS:
        peppery = words[-1] in ("pepper", "chili", "chilli")
        plural = larder.find([*words[:-1], f"{words[-1]}s"]) if peppery and value.form != "article" else None
        if plural is None or plural.how == "spelling" or words[-1].endswith("s"):
            return None
        thing = thing._replace(match=plural)  # "one pepper" is none of the ground sort
        if not by_the_piece(thing):
            return None
    about = inner or qualifier or ("about" if value.vague else "")  # "two good eggs" are two
    number, end = value.number, thing.end
    if number.low == number.high and (up := upper_at(atoms, end, number.low, _again(atoms, thing))) is not None:
        number, end = Number(number.low, up[0]), up[1]  # "two onions, three if they're small"
        thing = thing._replace(end=end)
    amount = amount_of(number, unit_, said_words(atoms, i, end), "" if about == "more" else about)
    return Counted(i, end if end > thing.start and number != value.number else at, amount, size, thing)


def _again(atoms: Sequence[Atom], thing: Thing) -> Callable[[int], int | None]:
    """Where the name of what is counted ends if it is said again."""
    last = thing.words.split()[-1].removesuffix("s")
    return lambda i: i + 1 if text_at(atoms, i).removesuffix("s") == last else None


def _of_them(atoms: Sequence[Atom], i: int, begin: int, value: Value, larder: Larder) -> Counted | None:
    """ "Eggs next, one at a time. Four of them." """
    thing = thing_before(atoms, begin, i, larder, back=14)
    if value.form == "article" or value.single < 2 or thing is None or not by_the_piece(thing):
        return None
    if not thing.words.endswith("s"):
        return None  # "a cabbage. Eleven people came, and I knew eight of them"
    end = value.end + 2
    amount = amount_of(value.number, EACH, said_words(atoms, i, end))
    return Counted(i, end, amount, "", Thing(i, end, thing.words, thing.match))


def _of_the_ones(
    atoms: Sequence[Atom], i: int, begin: int, value: Value, qualifier: str, larder: Larder
) -> Counted | None:
    """ "That's about three of the big shiny ones"."""
    if not (says(atoms, value.end, "of", "the") or says(atoms, value.end, "of", "those")):
        return None
    at = next((n for n in range(value.end + 2, value.end + 6) if text_at(atoms, n) == "ones"), None)
    if at is None or any(atom.stop == "." or find_unit(atom.text) for atom in atoms[value.end + 2 : at]):
        return None
    size = next((SIZES[a.text] for a in atoms[value.end + 2 : at] if a.text in SIZES), "")
    return _ones(atoms, i, at, begin, value, qualifier, size, larder)


def _of_the_named(
    atoms: Sequence[Atom], i: int, at: int, value: Value, qualifier: str, larder: Larder
) -> Counted | None:
    """ "Two of the long red chillies", "sixteen of the chocolate biscuits"."""
    if text_at(atoms, at + 1) not in ("the", "those", "these", "my", "your", "our") or value.form == "article":
        return None
    thing = thing_behind(atoms, at + 2, larder) or _headed(atoms, at + 2, larder)
    if thing is None or thing.match is None or thing.match.how == "spelling" or not by_the_piece(thing):
        return None
    if not thing.words.endswith("s") or value.vague or value.loose or not 1 < value.single <= _MOST:
        return None
    if " " not in thing.words and thing.end - at == 3:
        return None  # "two of the onions" were counted before
    amount = amount_of(value.number, EACH, said_words(atoms, i, thing.end), qualifier)
    return Counted(i, thing.end, amount, "", thing)


def _they_are(atoms: Sequence[Atom], i: int, begin: int, value: Value, larder: Larder) -> Counted | None:
    """ "The eggs are four." """
    thing = thing_before(atoms, begin, i, larder, back=4)
    if value.form == "article" or value.single < 2 or value.single > 24 or thing is None or not by_the_piece(thing):
        return None
    if not thing.words.endswith("s"):
        return None
    amount = amount_of(value.number, EACH, said_words(atoms, i, value.end))
    return Counted(i, value.end, amount, "", Thing(i, value.end, thing.words, thing.match))


def _ones(
    atoms: Sequence[Atom], i: int, at: int, begin: int, value: Value, qualifier: str, size: str, larder: Larder
) -> Counted | None:
    """ "A kilo of potatoes, about five big ones": counted by what was named before."""
    thing = thing_before(atoms, max(begin - 4, 0), i, larder, back=16)
    if value.form == "article" or value.single < 2 or thing is None or not by_the_piece(thing):
        return None
    end = at + 1
    amount = amount_of(value.number, EACH, said_words(atoms, i, end), qualifier)
    return Counted(i, end, amount, size, Thing(i, end, thing.words, thing.match))


def by_the_piece(thing: Thing) -> bool:
    assert thing.match is not None
    return any(key in ("", "small", "medium", "large", "extra large", "jumbo") for key in thing.match.row.counts)


def _headed(atoms: Sequence[Atom], i: int, larder: Larder) -> Thing | None:
    """ "three dessert apples": a describing word that the table does not know, before a plural that it
    knows."""
    if i >= len(atoms) or atoms[i].stop:
        return None
    head = thing_behind(atoms, i + 1, larder)
    if head is None or head.match is None or head.start != i + 1:
        return None
    pieces = head.words.split()[-1] in _GRAINS
    if not (head.words.endswith("s") or pieces):
        return None
    if not text_at(atoms, i).isalpha() or ends_name(atoms, i):
        return None
    whole = f"{text_at(atoms, i)} {head.words}"
    return Thing(i, head.end, whole, head.match) if pieces or by_the_piece(head) else None


class Sized(NamedTuple):
    start: int
    end: int
    amounts: tuple[Amount, ...]


def sides_at(atoms: Sequence[Atom], i: int) -> Sized | None:
    """Two or three sides: "13 by 9 inches", "9 x 13 pan" (inches, where a pan follows and no unit is
    said)."""
    values: list[Value] = []
    at = i
    while (value := number_at(atoms, at)) and value.form != "article" and len(values) < 3:
        values.append(value)
        at = value.end
        found = find_unit(text_at(atoms, at)) if text_at(atoms, at) not in ("in", "x", "by") else None
        if found is not None and found.kind == "length":
            at += 1
        if text_at(atoms, at) not in ("by", "x", "×") or atoms[at - 1].stop:
            break
        at += 1
    if len(values) < 2:
        return None
    told = (find_unit(atom.text) for atom in atoms[i:at] if atom.text not in ("in", "x", "by", "×"))
    length = next((found for found in told if found is not None and found.kind == "length"), None)
    if length is None or length.kind != "length":
        pan = text_at(atoms, at) in _PANS and not atoms[at - 1].stop
        if not pan and not _of_a_pan(atoms, i, at, values):
            return None
        sides = [v.single for v in values]
        length = unit("inch" if min(sides) <= 14 and max(sides) <= 20 else "centimeter")
    words = said_words(atoms, i, at)
    return Sized(i, at, tuple(amount_of(v.number, length, words) for v in values))


_ROLLED = word_set("roll rolled rolling pat stretch rectangle")
# Before the sides of a pan that is not named: "my trusty nine by thirteen", "mine's 23 by 33".
_PAN_BEFORE = word_set("the my your our a an this that it's mine's that's is mine")


def _of_a_pan(atoms: Sequence[Atom], start: int, end: int, values: Sequence[Value]) -> bool:
    """Whether two bare numbers are a pan's sides: as large as a pan's, and said as a pan's or near one."""
    if not all(v.single.denominator <= 2 and 4 < v.single <= 45 for v in values):
        return False
    if any(atom.text in _PANS or atom.text in _ROLLED for atom in atoms[max(start - 8, 0) : start]):
        return True
    stopped = end >= len(atoms) or bool(atoms[end - 1].stop)
    if stopped and all(v.single.denominator == 1 and v.single >= 6 for v in values):
        return True  # "at the club they're eighteen by twelve"
    ends = stopped or text_at(atoms, end) in GO_ON | {"like", "because", "which"}
    return ends and any(atom.text in _PAN_BEFORE for atom in atoms[max(start - 2, 0) : start])


def of_a_vessel(atoms: Sequence[Atom], end: int) -> bool:
    """Whether a pot or bowl follows an amount: "a three quart saucepan" holds, but is no amount of food."""
    if end >= len(atoms) or atoms[end - 1].stop:
        return False
    return text_at(atoms, end) in VESSELS or (
        text_at(atoms, end + 1) in VESSELS
        and text_at(atoms, end) not in ("of", "in", "into", "to", "and", "or", "for", "from")
    )


def needs_name(amount: Amount, article: bool) -> bool:
    """Whether an amount is one only of something named: "a piece", "a pinch", "two can"."""
    return amount.unit.name in LOOSE or (article and amount.unit.name in ("pinch", "dash", "pound"))
