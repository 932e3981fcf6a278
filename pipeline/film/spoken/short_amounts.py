"""Amounts whose unit went unsaid because it was plain: "two hundred of lentils", "two teaspoons of coriander, one of
cumin", "a third of a cup, sixty seven"."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pipeline.film.spoken.ahead import ends
from pipeline.film.spoken.amounts import amount_at
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.dropped import grams_before, shared
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import Larder, Thing, thing_behind
from pipeline.film.spoken.unknown import NO_FOOD
from pipeline.film.spoken.words import CONTAINERS, says
from pipeline.measure.amount import Amount
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import Unit, factor, find_unit, unit

# How far back (in pieces) the unit that goes on may have been said.
_BACK = 14
# From here on a number "of" a food can only be grams.
_GRAMS = 30
# Behind a bare number that is a weight.
_WEIGHED = (
    ("on", "the", "scale"),
    ("on", "the", "scales"),
    ("by", "the", "scale"),
    ("if", "you're", "weighing"),
    ("if", "you", "weigh"),
)
_THEY = frozenset(("that's", "they're", "it's", "is", "about", "are"))
_SPOONS = frozenset(("tablespoon", "teaspoon"))
_POUNDS = frozenset(("pound", "ounce", "pint", "quart", "fluid ounce"))
# Grams a millilitre between which all that is measured by the cup weighs: leaves to honey. Common practice, no source.
_LIGHTEST, _HEAVIEST = Fraction(1, 4), Fraction(3, 2)
# From here on so many "of" something are grams, where grams are spoken of and where not.
_FEW_GRAMS, _MANY_GRAMS = 20, 100
_THEM = word_set("them those these this you us it a an which what people")
# The least that is weighed in whole grams behind a cup.
_FEWEST = 10


def short_amount_at(atoms: Sequence[Atom], i: int, before: Sequence[Said], larder: Larder) -> Said | None:
    """The amount at ``i`` whose unit went unsaid; ``before``: the last statements of amounts."""
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.vague:
        return None
    last = before[-1] if before else None
    broken = value.single.denominator != 1
    if broken:
        # Cups may go on behind another unit: "two cups of flour, one stick of butter and three quarters of buttermilk"
        last = next((said for said in reversed(before) if said.amounts[-1].unit.name == "cup"), last)
    told = last.amounts[-1] if last is not None and i - last.end <= _BACK else None
    gone = i - last.end if last is not None else i
    which: Unit | None = None
    in_grams = any(amount.unit.name == "gram" for said in before for amount in said.amounts)
    if not atoms[value.end - 1].stop:
        if text_at(atoms, value.end) == "each" and told is not None and gone <= 5 and value.number.high <= 3:
            measured = told.unit.name in (*_SPOONS, "cup", "ounce", "pound")
            if measured and shared(atoms, value.end, larder):
                which = told.unit  # "two tablespoons of cream and one each of mustard and honey"
        elif text_at(atoms, value.end) == "of":
            which = _of_a_thing(atoms, i, value, told, gone, larder)
        elif not broken and grams_before(atoms, i, value.end, value.number, larder, in_grams) is not None:
            which = unit("gram")
    if which is None and told is not None and value.number.low == told.low and says(atoms, i - 2, "same", "again"):
        which = told.unit
    if which is None and told is not None and broken and told.unit.name == "cup" and value.single > 1:
        ends = value.end >= len(atoms) or atoms[value.end - 1].stop == "."
        which = told.unit if ends else None  # "two cups, when you thought you had one and a half."
    if which is None and not broken and value.number.low == value.number.high and _turned_behind(atoms, value):
        which = unit("gram")
    if which is None and told is not None:
        which = _said_again(atoms, i, value, told, gone)
    if which is None:
        return None
    about = "about" if text_at(atoms, i - 1) in ("about", "around", "roughly") and not atoms[i - 1].stop else ""
    amount = amount_of(value.number, which, said_words(atoms, i, value.end), about)
    return Said(i, value.end, (amount,), guessed=True)


def _of_a_thing(
    atoms: Sequence[Atom], i: int, value: Value, told: Amount | None, gone: int, larder: Larder
) -> Unit | None:
    """The unit of "ninety of whole wheat" in a list of grams, or of "one of cumin" behind teaspoons."""
    follows = text_at(atoms, value.end + 1)
    metric = told is not None and told.unit.name in ("gram", "milliliter") and gone <= _BACK
    thing = thing_behind(atoms, value.end, larder)
    known = thing is not None and thing.match is not None and thing.match.how != "spelling"
    if value.single >= (_FEW_GRAMS if metric else _MANY_GRAMS) and _weighs(atoms, value, thing, known or metric):
        return told.unit if told is not None and metric else unit("gram")
    if follows in ("the", "my", "your", "our", "them", "those", "these", "this", "you", "us", "it"):
        return None
    if thing is None or not known:
        return None
    if (spoons := _spoons_told(atoms, i)) is not None and value.number.high <= 12:
        return spoons
    name = told.unit.name if told is not None else ""
    listed = i > 0 and (bool(atoms[i - 1].stop) or text_at(atoms, i - 1) == "and")
    listed = listed or _named_up_to(atoms, i, gone, larder)
    few = value.number.high <= (3 if name == "cup" else 12) and follows not in ("a", "an")
    if told is not None and name in (*_SPOONS, "cup", "ounce", "pound") and gone <= 5 and listed and few:
        return told.unit  # "two teaspoons of coriander, one of cumin"
    if value.single.denominator != 1:
        return told.unit if told is not None and name == "cup" and value.single != Fraction(1, 2) else None
    if told is not None and name in ("gram", "milliliter"):
        return told.unit
    near_by = gone <= 4 and follows not in ("a", "an") and not thing.words.endswith("s")
    if told is not None and name in (*_SPOONS, "cup") and near_by and 2 <= value.single <= 12:
        return told.unit
    return unit("gram") if value.single >= _GRAMS else None


def _weighs(atoms: Sequence[Atom], value: Value, thing: Thing | None, plain: bool) -> bool:
    """Whether so many "of" something are grams: "two hundred and forty of the white", "six hundred of thighs"."""
    if value.single.denominator > 1 or value.number.low != value.number.high:
        return False
    at = value.end + 1
    articles = ("the", "my", "your", "our", "that")
    at += text_at(atoms, at) in articles
    if not text_at(atoms, at).isalpha() or text_at(atoms, at) in _THEM or find_unit(text_at(atoms, at)):
        return False
    if thing is not None and any(word in NO_FOOD for word in thing.words.split()):
        return False
    end = thing.end if thing is not None else at + 1
    ended = ends(atoms, end) or text_at(atoms, end) in ("to", "in", "with")
    return plain or (value.single % 25 == 0 and text_at(atoms, at - 1) not in articles and ended)


def _named_up_to(atoms: Sequence[Atom], i: int, gone: int, larder: Larder) -> bool:
    """Whether the name of the amount that ended ``gone`` pieces ago ends right before ``i``: lists without a stop."""
    thing = thing_behind(atoms, i - gone, larder)
    return thing is not None and thing.match is not None and thing.end == i


def _spoons_told(atoms: Sequence[Atom], i: int) -> Unit | None:
    """ "And then it's the teaspoons, two of cumin and one of pepper"."""
    for at in range(i - 1, max(i - 6, 0), -1):
        if atoms[at].stop == ".":
            return None
        if atoms[at].text in ("teaspoons", "tablespoons", "cups") and atoms[at - 1].text == "the":
            return unit(atoms[at].text.removesuffix("s"))
    return None


def _said_again(atoms: Sequence[Atom], i: int, value: Value, told: Amount, gone: int) -> Unit | None:
    """The unit of a bare number that says an amount once more: "227" behind "half a pound of pork", "sixty seven"
    behind "a third of a cup of sugar"."""
    end = value.end
    weighed = any(says(atoms, end, *words) for words in _WEIGHED)
    alone = end >= len(atoms) or bool(atoms[end - 1].stop) or weighed
    whose = text_at(atoms, i - 1) in ("your", "my", "our", "the") and text_at(atoms, i - 2) == "that's"
    begins = whose or (i > 0 and (atoms[i - 1].stop == "," or text_at(atoms, i - 1) in ("that's", "or", *_THEY)))
    far = 10 if told.unit.name in ("gram", "milliliter") else 8 if weighed else 5
    if not alone or not begins or gone > far or value.number.low != value.number.high:
        return None
    if told.low != told.high or value.single.denominator != 1:
        return None
    if told.unit.name in CONTAINERS:  # "a tin of tomatoes, that's four hundred"
        small = value.single % 5 == 0 and 40 <= value.single <= 1000 and text_at(atoms, i - 1) in _THEY
        return unit("gram") if small else None
    if told.unit.kind not in ("mass", "volume"):
        return None
    metric = told.stated().middle()
    if told.unit.name in ("gram", "milliliter") and (whose or text_at(atoms, i - 1) == "that's"):
        by = value.single / told.low if told.low else Fraction(0)  # "a hundred grams a person, so that's three hundred"
        return told.unit if by.denominator == 1 and 2 <= by <= 12 else None
    if told.unit.name in _POUNDS:
        if gone > 4 or abs(value.single - metric) > metric / 16:
            return None
        return unit("gram" if told.unit.kind == "mass" else "milliliter")
    if told.unit.kind != "volume" or factor(told.unit) == 1 or value.single < _FEWEST:
        return None
    if not weighed and value.single % 25 == 0 and 300 <= value.single <= 500:
        return None  # "four cups of cheese, three seventy five": the oven's, as likely as not
    return unit("gram") if metric * _LIGHTEST <= value.single <= metric * _HEAVIEST else None


def _turned_behind(atoms: Sequence[Atom], value: Value) -> bool:
    """Whether a bare number is the grams of what is told right behind it in another measure: "two fifty, nine ounces",
    "Two fifty. That is one cup."."""
    end = value.end
    if end >= len(atoms) or not atoms[end - 1].stop or value.single < _FEWEST:
        return False
    said = next((words for words in (("that's",), ("that", "is"), ("it's",)) if says(atoms, end, *words)), ())
    other = amount_at(atoms, end + len(said)) if said or atoms[end - 1].stop == "," else None
    if other is None or other.article or other.amounts[0].low != other.amounts[0].high:
        return False
    amount = other.amounts[0]
    metric = amount.stated().middle() if amount.unit.kind in ("mass", "volume") else Fraction(0)
    if amount.unit.name in _POUNDS and amount.unit.kind == "mass":
        return abs(value.single - metric) * 16 <= metric
    return bool(said) and amount.unit.name == "cup" and metric * _LIGHTEST <= value.single <= metric * _HEAVIEST
