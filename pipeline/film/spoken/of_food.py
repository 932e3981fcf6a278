"""Whether an amount that was said is one of something to eat, and of what."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.amounts import amount_at
from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.counts import Counted, Sized, needs_name, of_a_vessel
from pipeline.film.spoken.dropped import shared
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.measures import said_again
from pipeline.film.spoken.numbers import FIRST_WORDS
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.stated import Said, said_words
from pipeline.film.spoken.things import INEDIBLE, Larder, Thing, ends_name, thing_before, thing_behind
from pipeline.film.spoken.times import SaidTime
from pipeline.film.spoken.upper import upper_at
from pipeline.film.spoken.words import CONTAINERS, STIRRED, says, unit_at
from pipeline.measure.numbers import Number
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, unit

# Weights that a person loses or a shop takes, and rates: "120 grams per cup".
_NO_FOOD = word_set(
    "cost costs paid pay lost lose losing gained gain carried carry carries lugged hauled dragged lifted"
)
_NUTRIENTS = word_set("protein carbs carbohydrate carbohydrates fibre fiber sodium")
_TOOLS = word_set("measure measures measuring scoop scoops sterling note spoon")
_HOLDS = word_set("grab with fetch using")
_ACROSS = word_set("thick deep wide across long tall slices dice")
_THAT = word_set("this that everything love")
_SOLD_IN = word_set("bags boxes tins cans packs packets sacks tubs bottles")
_NAMED = word_set("that's thats it's is at")
# "It fills five jars."
_FILLED = word_set("fill fills filled makes make made gives yields")
# Words behind a name in which a count of its sprigs or cloves may follow.
_REACH = 6
_ALONE = (CONTAINERS | {"stick", "clove", "packet"}) - {"block"}


def amount_found(atoms: Sequence[Atom], said: Said, larder: Larder, before: Sequence[Found]) -> Found | None:
    """The amount with its ingredient; None where it is a tool, money, a rate or of nothing."""
    amount = said.amounts[0]
    ahead, after = text_at(atoms, said.start - 1), text_at(atoms, said.end)
    stopped = bool(atoms[said.end - 1].stop)
    if amount.unit.name == "milliliter" and not stopped and after in _ACROSS:
        thick = tuple(replace(a, unit=unit("millimeter")) for a in said.amounts)  # "three mil thick"
        return Found(Sized(said.start, said.end, thick), said.start, said.end, said.end)
    if amount.unit.kind == "length" or (amount.unit.kind == "volume" and of_a_vessel(atoms, said.end)):
        return Found(Sized(said.start, said.end, said.amounts), said.start, said.end, said.end)
    if not stopped and (after in _TOOLS or after == "time" or says(atoms, said.end, "at", "a", "time")):
        return None
    if _is_no_food(atoms, said.start) or (
        said.article and (ahead == "per" or says(atoms, said.start - 2, "most", "of"))
    ):
        return None
    if not stopped and ahead == "in" and after in _SOLD_IN:
        return None  # "you can buy it in five kilo bags"
    if not stopped and amount.unit.name == "pound" and after in FIRST_WORDS and after not in ("a", "an", "another"):
        more = number_at(atoms, said.end)
        if more is not None and more.single % 5 == 0 and not unit_at(atoms, more.end, False):
            return None  # money: "three pounds fifty"
    thing = thing_behind(atoms, said.end, larder, mend=True)
    if after == "each" and (several := shared(atoms, said.end, larder)):
        thing = several[0]
    elif stopped and thing is not None and ahead in _NAMED and text_at(atoms, thing.start) != "of":
        begin = before[-1].end if before else 0
        if thing_before(atoms, begin, said.start, larder, back=4) is not None:
            thing = None  # "flour, that's 500 grams, water, that's 350"
    elif stopped and thing is not None and text_at(atoms, thing.start) != "of" and _listed_by_name(atoms, said, thing):
        named = thing_before(atoms, before[-1].end if before else 0, said.start, larder, back=4)
        if named is not None and named.end == said.start:
            return Found(said, said.start, said.end, said.end, named)  # "flour, 500 grams, water, 350 grams"
    if thing is not None and thing.words.split()[0] in _NUTRIENTS:
        return None  # "each serving has eleven grams of protein"
    if said.article and thing is None and len(said.amounts) == 1 and _is_rate(atoms, said, before):
        return None
    if said.article and after == "of" and text_at(atoms, said.end + 1) in _THAT and ends_name(atoms, said.end + 2):
        named = thing_before(atoms, before[-1].end if before else 0, said.start, larder, back=4)
        if named is not None and text_at(atoms, said.end + 1) == "that":
            return Found(
                said, said.start, said.end + 2, said.end + 2, named
            )  # "Celery seed, less. A teaspoon of that."
        return None  # "a cup of this and a cup of that"
    if thing is not None and after != "of" and _named_on(atoms, said, thing):
        named = thing_before(atoms, before[-1].end if before else 0, said.start, larder, back=4)
        if named is not None and named.end == said.start:
            return Found(said, said.start, said.end, said.end, named)  # "flour 500 grams water 350 grams"
        if before and isinstance(before[-1].said, Said) and _right_behind(atoms, before[-1], said):
            thing = None  # "sugar a hundred grams half a cup cornstarch thirty two grams"
    if thing is None and after == "from" and not stopped:
        thing = _from(atoms, said.end, larder)
    known = thing is not None and thing.match is not None and after == "of"
    if (
        said.article
        and ahead == "in"
        and not known
        and (thing is None or text_at(atoms, said.start - 2) not in STIRRED)
    ):
        return None  # "serve it in a cup"; but "stir in a cup of sugar"
    if said.article and thing is None and ahead in _HOLDS and amount.unit.kind == "volume" and len(said.amounts) == 1:
        return None  # "grab a teaspoon and taste"
    if thing is not None and says(atoms, thing.end, "at", "a", "time") and not atoms[thing.end - 1].stop:
        return None
    if needs_name(amount, said.article) and len(said.amounts) == 1:
        if (spice := _cloves(atoms, said, thing)) is not None:
            return Found(spice, said.start, said.end, said.end, spice.thing)
        if (
            not _is_named(atoms, said, thing)
            and not _listed(atoms, said, thing, before)
            and not _stands_alone(atoms, said, larder, before)
        ):
            return None
        if said.article and after in ("more", "less"):
            return None  # "a drop more water"
    if said.article and thing is not None and thing.words in ("tea", "coffee"):
        return None
    end = thing.end if thing else said.end
    if thing is not None and thing.end > said.end and (wider := _maybe_more(atoms, said, thing.end)) is not None:
        return Found(wider[0], said.start, wider[1], wider[1], thing)
    return Found(said, said.start, end, said.end, thing)


def _right_behind(atoms: Sequence[Atom], last: Found, said: Said) -> bool:
    return last.own_end == said.start or (last.own_end == said.start - 1 and text_at(atoms, said.start - 1) == "or")


def _maybe_more(atoms: Sequence[Atom], said: Said, end: int) -> tuple[Said, int] | None:
    """ "A quarter cup of olive oil, maybe a third": the whole range, and where it ends."""
    amount = said.amounts[0]
    if len(said.amounts) > 1 or amount.low != amount.high:
        return None
    up = upper_at(atoms, end, amount.low, said_again(atoms, amount.unit))
    if up is None:
        return None
    number = Number(amount.low, up[0], 0)
    words = said_words(atoms, said.start, up[1])
    whole = amount_of(number, amount.unit, words, "about" if amount.about else "")
    return replace(said, amounts=(whole,)), up[1]


def _is_no_food(atoms: Sequence[Atom], start: int) -> bool:
    """Whether the same sentence speaks of money or of a person's weight right before."""
    for atom in reversed(atoms[max(start - 3, 0) : start]):
        if atom.stop == ".":
            return False
        if atom.text in _NO_FOOD:
            return True
    return False


def _named_on(atoms: Sequence[Atom], said: Said, behind: Thing) -> bool:
    """Whether the name right behind an amount has an amount of its own behind it, so that it may not be of this one."""
    if atoms[said.end - 1].stop or atoms[behind.end - 1].stop:
        return False
    at = behind.end
    if text_at(atoms, at) == "the":  # "ginger the ground stuff one teaspoon"
        at = next((n for n in range(at + 2, at + 4) if amount_at(atoms, n)), at)
    more = amount_at(atoms, at)
    return more is not None and not more.article


def _listed_by_name(atoms: Sequence[Atom], said: Said, behind: Thing) -> bool:
    """Whether names and amounts follow each other between stops, each name before its amount."""
    if not said.start or atoms[said.start - 1].stop != "," or not atoms[behind.end - 1].stop:
        return False
    more = number_at(atoms, behind.end)
    return more is not None and (more.form != "article" or amount_at(atoms, behind.end) is not None)


def _is_rate(atoms: Sequence[Atom], said: Said, before: Sequence[Found]) -> bool:
    """ "Forty grams a litre", "an hour a pound", "six ninety nine a kilo"."""
    if said.start == 0 or atoms[said.start - 1].stop or text_at(atoms, said.start) not in ("a", "an", "the"):
        return False
    if any(
        (value := number_at(atoms, n)) and value.end == said.start for n in range(said.start - 1, said.start - 4, -1)
    ):
        return True
    return bool(before) and before[-1].own_end == said.start and isinstance(before[-1].said, Said | SaidTime)


def _from(atoms: Sequence[Atom], end: int, larder: Larder) -> Thing | None:
    """ "One hundred millilitres from the milk", "fifty grams from our sugar"."""
    at = end + 1 + (text_at(atoms, end + 1) in ("the", "our", "your", "my", "that"))
    thing = thing_behind(atoms, at, larder)
    return thing if thing is not None and thing.match is not None and thing.match.how != "spelling" else None


def _is_named(atoms: Sequence[Atom], said: Said, thing: Thing | None) -> bool:
    """Whether a loose unit ("a piece") is one of something, and of something to eat where the words are
    weak."""
    if thing is None:
        return False
    if thing.words.split()[-1] in INEDIBLE or thing.words.split()[0] in INEDIBLE:
        return False
    if thing.match is not None:
        return True
    weak = said.article or said.amounts[0].unit.name in ("piece", "ball", "drop", "knob")
    return not weak and text_at(atoms, said.end) == "of"


def _cloves(atoms: Sequence[Atom], said: Said, thing: Thing | None) -> Counted | None:
    """ "Four cloves and three cardamoms": the spice, among others and without garlic."""
    amount = said.amounts[0]
    if amount.unit.name != "clove" or thing is not None or said.article:
        return None
    around = {atom.text for atom in atoms[max(said.start - 9, 0) : said.end + 9]}
    if not around & _SPICES or "garlic" in around:
        return None
    count = amount_of(Number(amount.low, amount.high, 0), EACH, amount.text, "about" if amount.about else "")
    return Counted(said.start, said.end, count, "", Thing(said.end - 1, said.end, "cloves", None))


_SPICES = word_set(
    "cardamom cardamoms cinnamon anise peppercorns allspice bay nutmeg mace cassia fennel coriander cumin juniper"
)


def _listed(atoms: Sequence[Atom], said: Said, thing: Thing | None, before: Sequence[Found]) -> bool:
    """Whether a loose unit stands right behind an amount of food: "smoked fish and a handful of crayfish"."""
    if not before or not isinstance(before[-1].said, Said | Counted) or before[-1].thing is None:
        return False
    between = atoms[before[-1].end : said.start]
    if any(a.stop == "." for a in (atoms[before[-1].end - 1], *between)) or not all(a.text in _JOINS for a in between):
        return False
    if thing is not None:
        return thing.words.split()[-1] not in INEDIBLE and thing.words.split()[0] not in INEDIBLE
    name = said.amounts[0].unit.name
    return not said.article and name in _ALONE and text_at(atoms, said.end) not in ("of", "for")


_JOINS = word_set("and plus then with also a the")


def _has_cloves(thing: Thing) -> bool:
    """Garlic is told in cloves; behind "a stick of cinnamon" they are a spice of their own."""
    return thing.match is not None and "clove" in thing.match.row.counts


def _stands_alone(atoms: Sequence[Atom], said: Said, larder: Larder, before: Sequence[Found]) -> bool:
    """Whether a loose unit without a name is an amount all the same: "two cans," or "one packet, seven
    grams"."""
    name = said.amounts[0].unit.name
    ahead = text_at(atoms, said.start - 1)
    if said.article and name == "pound" and text_at(atoms, said.end) != "of":
        named = thing_before(atoms, before[-1].end if before else 0, said.start, larder)
        return (
            named is not None and named.end == said.start and bool(atoms[said.end - 1].stop)
        )  # "strawberries, a pound,"
    if not said.article:
        named = thing_before(atoms, before[-1].end if before else 0, said.start, larder)
        if named is not None and named.end == said.start and (name != "clove" or _has_cloves(named)):
            return True  # "garlic three cloves"
    all_told = text_at(atoms, said.end) in ("altogether", "total")
    if (
        not said.article
        and (atoms[said.end - 1].stop or all_told or text_at(atoms, said.end) == "the")
        and (ahead in ("that's", "it's") or not said.start or atoms[said.start - 1].stop)
    ):
        begin = before[-1].end if before else 0
        named = thing_before(atoms, begin, said.start, larder)
        if named is not None and said.start - named.end <= _REACH:
            return True  # "a bit of rosemary in after it, that's two sprigs"
    if (
        not said.article
        and name in _ALONE
        and ahead not in _FILLED
        and not says(atoms, said.start - 2, "out", "of")
        and (atoms[said.end - 1].stop or ahead in ("that's", "or"))
    ):
        return True
    if before and before[-1].end == said.start and isinstance(before[-1].said, Said) and before[-1].thing is not None:
        return not said.article and bool(atoms[said.end - 1].stop)  # "ten grams of gelatin, five leaves"
    begin = before[-1].start if before else 0
    if name == "stick" and not said.article and thing_before(atoms, begin, said.start, larder, back=16):
        return True
    more = amount_at(atoms, said.end)
    return more is not None and more.amounts[0].unit.kind in ("mass", "volume")
