"""Amounts of what comes out, goes away, is eaten or holds something: of no ingredient."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from pipeline.film.draft.alike import CONTAINERS
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.measure.units import EACH

# "It makes about four cups" is no ingredient.
_MAKES = word_set("makes make yields yield gives serves fills feeds")
_GIVES = word_set("gives makes yields feeds serves fills")
_HEAVY = word_set("heavy weight weights weigh weighted")
_ACROSS = word_set("inch inches centimetre centimetres centimeter centimeters cm across wide deep round square")
_WILL = word_set("you'll you've you'd it'll it's they'll they're that'll i'd")
# What a packet says of itself.
_PACKED = word_set("tin can packet bag jar bottle box carton tub block pot crate basin cup bowl jug tray dish")
_IS_SO = word_set("is was holds has says are weighs")
# "You get six tablespoons", "you're left with a cup".
_GETS = word_set("you you'll you'd we'll we'd you're we're i'm")
_GOT = (("get",), ("should", "get"), ("end", "up", "with"), ("left", "with"), ("lose",), ("losing",))
# What is poured off does not go in.
_TAKES_OFF = word_set("pour pours poured drain drains drained skim skims skimmed spoon boil ladle tip squeeze wring")
_OFF = word_set("off away out")
# Words by which an amount tells how much there is, and not what to do.
_THERE_IS = word_set("be it's that's is was like about get got there's")
# A vessel holds an amount: "a two pound tin".
_VESSELS = word_set("tin tins pan pans pot pots bowl bowls jug jugs jar jars mould mold dish basin loaf saucepan")
_IF_HAVING = word_set("you you've you'd have got has there's there any happen to know want")
_BEFORE = 14


def is_made(said: Spoken, plain: Sequence[str], ends: Sequence[bool], flat: bool) -> bool:
    """Whether it is what comes out, or a measure of something else: "that makes four cups", "the size of two eggs", "a
    cup of rice feeds two", "a two pound tin". ``ends``: a stop or a comma behind a word; ``flat``: there are none."""
    first, last = said.first, said.last
    if plain[first].endswith(("-pot", "-pan", "-bowl", "-tray")):
        return True  # "one-pot chicken"
    led, behind = plain[max(first - 2, 0) : first], plain[last : last + 3]
    if _GIVES & {*plain[first + 1 : last], *(behind[:1] if not ends[last - 1] else ())}:
        return True  # "one coconut gives you about three cups"
    if said.amounts[0].unit.name in CONTAINERS and (_weighs_down(plain, first) or _ACROSS & {*plain[last : last + 3]}):
        return True  # "weight on it. Two cans of tomatoes", "three tins, eight inches across"
    packed = led[:1] if led[-1:] != ["says"] else plain[max(first - 5, 0) : first]
    if len(led) > 1 and _PACKED & {*packed} and led[-1] in _IS_SO:
        return True  # "the tin is thirteen and a half ounces", "the bag of rice says five hundred grams"
    if led[-1:] and (led[-1] in _MAKES or (led[0] in _MAKES and led[-1] not in ("that", "it"))):
        return True
    if behind[:1] == ["one"] and ends[last] and not ends[last - 1]:
        return True  # "the preserving pan, it's a nine litre one"
    if led in (["size", "of"], ["weight", "of"]) or behind[:1] == ["feeds"]:
        return True
    if (not first or ends[first - 1]) and not ends[last - 1] and _would_be(plain, last):
        return True
    return _gone(said, plain) or _eaten(said, plain, ends, flat) or _holds(said, plain, ends) or _perhaps(said, plain)


def _weighs_down(plain: Sequence[str], first: int) -> bool:
    """Whether what is spoken of is to press on something: "on the board something heavy … two cartons of milk"."""
    return bool(_HEAVY & {*plain[max(first - _BEFORE, 0) : first]})


def _would_be(plain: Sequence[str], last: int) -> bool:
    """ "Two tablespoons and you will be making something else", "four and it'll be soup"."""
    after = plain[last : last + 3]
    return len(after) > 2 and after[0] in ("and", "or") and (after[1] in _WILL or after[2] in ("will", "would", "have"))


def _gone(said: Spoken, plain: Sequence[str]) -> bool:
    """ "I got six tablespoons of water off of one cucumber", "pour off the fat, it'll be like a quarter cup"."""
    first, last = said.first, said.last
    if list(plain[last : last + 2]) in (["off", "of"], ["off", "the"], ["comes", "out"], ["came", "out"]):
        return True
    led = plain[max(first - 4, 0) : first]
    for phrase in _GOT:
        n = len(phrase)
        if any(led[i - 1] in _GETS and tuple(led[i : i + n]) == phrase for i in range(1, len(led) - n + 1)):
            return True
    since = plain[max(first - _BEFORE, 0) : first]
    off = any(a in _TAKES_OFF and b in _OFF for a, b in pairwise(since))
    return off and bool(since) and since[-1] in _THERE_IS


def _eaten(said: Spoken, plain: Sequence[str], ends: Sequence[bool], flat: bool) -> bool:
    """ "A cup of rice each", "three grams a bagel", "two spoons per person"."""
    first, last = said.first, said.last
    alone = len(said.amounts) == 1 and said.amounts[0].unit.kind != "count"
    of = "of" in plain[first:last] or {*plain[max(first - 3, 0) : first]} & {"they're", "they", "them", "it"}
    if alone and plain[last : last + 1] == ["each"] and not ends[last - 1] and of:
        return plain[last + 1 : last + 2] != ["of"]
    if flat or said.amounts[0].unit.kind == "count":
        return False
    own = said.ingredient.split()
    at = next((i for i in range(first + 1, last + 2) if own and list(plain[i : i + len(own)]) == own), 0)
    return bool(at) and plain[at - 1] in ("a", "an", "per") and not any(ends[first : at - 1])


def _holds(said: Spoken, plain: Sequence[str], ends: Sequence[bool]) -> bool:
    """ "It's an ordinary two pound tin"."""
    if said.amounts[-1].unit.kind not in ("mass", "volume") or "of" in plain[said.first : said.last]:
        return False
    last = said.last
    return plain[last : last + 1] != [] and not ends[last - 1] and plain[last] in _VESSELS


def _perhaps(said: Spoken, plain: Sequence[str]) -> bool:
    """ "A squeeze of lime, if you've got a lime"."""
    if said.amounts[0].unit is not EACH or plain[said.first] not in ("a", "an"):
        return False
    at = said.first - 1
    while at > 0 and plain[at] in _IF_HAVING:
        at -= 1
    return at < said.first - 1 and plain[at] == "if"
