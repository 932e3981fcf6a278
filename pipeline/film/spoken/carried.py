"""Bare numbers that go on in what was said before: "crush it yourself and take two", "I do six, you do two", and the
answers to a cook's own questions: "How many eggs? Two.", "Pepper. Three."."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted, by_the_piece
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, thing_before
from pipeline.film.spoken.words import qualifiers_at, says
from pipeline.measure.amount import Amount
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, unit

_TAKES = word_set("do use put take add want need using putting take taking throw go try make")
_TAKER = word_set(
    "i you we they he she can could should just to please even or only then people folks yourself i'd you'd"
)
_BEHIND = word_set("if when and but only instead because you i max maximum tops enough or please for")
# How far back (in pieces) the amount may have ended that a bare number goes on from, and how much more or less it is.
_BACK, _FACTOR = 12, 4
# From here on a bare number behind kilos is grams.
_GRAMS = 50
# As many are counted in an answer; a question's words reach so far back.
_MOST, _QUESTION = 24, 12
_TOO_LONG = 4


def carried_at(atoms: Sequence[Atom], i: int, before: Sequence[Found]) -> Found | None:
    """The bare number at ``i`` that somebody takes of what was measured or counted last."""
    ahead, two = text_at(atoms, i - 1), text_at(atoms, i - 2)
    if not before or ahead not in _TAKES or not (two in _TAKER or i == 1 or atoms[i - 2].stop):
        return None
    last = before[-1]
    if i - last.end > _BACK or not isinstance(last.said, Said | Counted):
        return None
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague:
        return None
    end = value.end
    if goes_on(atoms, end) and text_at(atoms, end) not in _BEHIND:
        return None
    old = last.said.amounts[-1] if isinstance(last.said, Said) else last.said.amount
    amount = _in_its_unit(old, value, said_words(atoms, i, end), qualifier)
    if amount is None:
        return None
    thing = None if last.thing is None else replace(last.thing, start=i, end=end)
    if isinstance(last.said, Counted):
        thing = replace(last.said.thing, start=i, end=end)
        return Found(Counted(i, end, amount, "", thing), i, end, end, thing)
    return Found(Said(i, end, (amount,), guessed=True), i, end, end, thing)


def _in_its_unit(old: Amount, value: Value, words: str, qualifier: str) -> Amount | None:
    """So much in the unit of an amount, if it may be."""
    number, which = value.number, old.unit
    if which.name == "kilogram" and number.low >= _GRAMS:
        which = unit("gram")
        fits = Fraction(number.low, 1000) <= old.high * _FACTOR
    else:
        fits = old.low <= number.low * _FACTOR and number.high <= old.high * _FACTOR
    return amount_of(number, which, words, qualifier) if fits else None


def same_at(atoms: Sequence[Atom], i: int, before: Sequence[Found], larder: Larder) -> Found | None:
    """ "Onions, four; carrots, the same." """
    if text_at(atoms, i) != "same" or not before:
        return None
    last, said, end = before[-1], before[-1].said, i + 1
    if not isinstance(said, Said | Counted) or i - last.end > _BACK:
        return None
    if text_at(atoms, i - 1) != "the" or (end < len(atoms) and not atoms[i].stop):
        return None
    thing = thing_before(atoms, last.end, i - 1, larder, back=3)
    if thing is None or thing.match is None or thing.end != i - 1 or atoms[i - 2].stop != ",":
        return None
    if isinstance(said, Counted):
        amount = replace(said.amount, text=said_words(atoms, i, end))
        return Found(Counted(i, end, amount, said.size, thing), i, max(end, thing.end), end, thing)
    amounts = tuple(replace(a, text=said_words(atoms, i, end)) for a in said.amounts)
    return Found(Said(i, end, amounts, guessed=True), i, max(end, thing.end), end, thing)


def answer_at(atoms: Sequence[Atom], i: int, larder: Larder) -> Found | None:
    """A number that is a whole sentence and answers the one before: "How many eggs? Two.", "Peppers. Three."."""
    begins = i
    while begins and atoms[begins - 1].stop != "." and atoms[begins - 1].text in _SAYS:
        begins -= 1  # "Guajillo. That's eight."
    if begins == 0 or atoms[begins - 1].stop != ".":
        return None
    qualifier, at = qualifiers_at(atoms, i)
    value = number_at(atoms, at)
    if value is None or value.form == "article" or value.vague or value.number.high > _MOST or value.single < 1:
        return None
    if goes_on(atoms, value.end):
        return None
    first = next(
        (n + 1 for n in range(begins - 2, max(begins - _QUESTION, 0), -1) if atoms[n].stop == "."),
        max(begins - _QUESTION, 0),
    )
    many = any(says(atoms, n, "how", "many") for n in range(first, begins))
    if many and begins - first == 2:  # "And scotch bonnet. How many? Three."
        first = next((n + 1 for n in range(first - 2, max(first - _QUESTION, 0), -1) if atoms[n].stop == "."), first)
    if not many and begins - first > _TOO_LONG:
        return None
    thing = thing_before(atoms, first, begins, larder, back=_QUESTION)
    if thing is None or thing.match is None:
        return None
    if not by_the_piece(thing):
        plural = larder.find([*thing.words.split()[:-1], f"{thing.words.split()[-1]}s"]) if value.single > 1 else None
        thing = replace(thing, match=plural)  # "Pepper. Three."
        if plural is None or not by_the_piece(thing):
            return None
    if not many and (not _names_only(atoms, first, begins, thing) or value.number.low != value.number.high):
        return None
    amount = amount_of(value.number, EACH, said_words(atoms, i, value.end), qualifier)
    mine = Thing(i, value.end, thing.words, thing.match)
    return Found(Counted(i, value.end, amount, "", mine), i, value.end, value.end, mine)


def _names_only(atoms: Sequence[Atom], first: int, end: int, thing: Thing) -> bool:
    """Whether a sentence says nothing but a name."""
    return all(atom.text in _IDLE for atom in (*atoms[first : thing.start], *atoms[thing.end : end]))


_IDLE = word_set("the and then now so your my our next too also well ok okay right finally")
_SAYS = word_set("well oh about that's it's there's i you we put use take need want have got say just only")
