"""The words around a spoken number: how exactly it is meant, what joins two statements, what ends a name."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.measure.units import Unit, find_unit, unit

# (words, what they mean): "about" and "less", "more", "heap" as pipeline.measure.grammar has them, "" for
# none.
_QUALIFIERS: dict[tuple[str, ...], str] = {
    **{(w,): "about" for w in (
        "about", "bout", "around", "maybe", "perhaps", "roughly", "approximately", "approx", "nearly", "almost",
        "circa",
    )},
    ("close", "to"): "about", ("more", "or", "less"): "about", ("something", "like"): "about",
    **{(*the, part, "part", "of"): "about" for the in ((), ("the",)) for part in ("best", "better", "good")},
    ("pretty", "much"): "about", ("near", "enough"): "",
    ("scant",): "less", ("barely",): "less", ("shy",): "less",
    **{(a, bit, under): word for a in ("a", "just")
       for bit in ("smidge", "touch", "hair", "tad", "shade", "fraction", "wee")
       for under, word in (("under", "less"), ("over", "more"))},
    **{("just", "a", bit, under): word for bit in ("smidge", "touch", "hair", "tad", "bit", "little")
       for under, word in (("under", "less"), ("over", "more"))},
    **{("a", bit, word, "than"): word for bit in ("smidge", "touch", "hair", "tad", "shade", "fraction")
       for word in ("less", "more")}, ("just", "under"): "less", ("a", "little", "under"): "less",
    ("slightly", "less", "than"): "less", ("a", "little", "less", "than"): "less", ("a", "bit", "less", "than"): "less",
    ("not", "quite"): "less", ("just", "shy", "of"): "less", ("generous",): "more", ("good",): "more",
    ("just", "over"): "more", ("a", "little", "over"): "more", ("slightly", "more", "than"): "more",
    ("a", "little", "more", "than"): "more", ("a", "bit", "more", "than"): "more", ("a", "bit", "over"): "more",
    ("heaped",): "heap", ("heaping",): "heap", ("rounded",): "heap", ("mounded",): "heap",
    **{(w,): "" for w in (
        "level", "leveled", "levelled", "full", "packed", "sifted", "more", "extra", "additional", "whole", "exactly",
        "only", "just", "another", "metric", "lightly", "loosely", "firmly", "tightly", "further", "single", "solid",
        "lovely", "nice", "big", "other", "say", "wee", "tiny",
    )},
    ("at", "least"): "", ("up", "to"): "", ("no", "more", "than"): "", ("u", "s"): "",
}  # fmt: skip
#: Words with which words of exactness begin.
FIRST_QUALIFIERS = frozenset(key[0] for key in _QUALIFIERS)
# Those of two words and more by their first two, the longest first.
_LONGER: dict[tuple[str, str], list[tuple[str, ...]]] = {}
for _key in sorted(_QUALIFIERS, key=len, reverse=True):
    if len(_key) > 1:
        _LONGER.setdefault((_key[0], _key[1]), []).append(_key)

_AFTER = (
    ("or", "so"),
    ("or", "thereabouts"),
    ("near", "enough"),
    ("or", "near", "enough"),
    ("as", "near", "as"),
    ("ish",),
    ("give", "or", "take"),
    ("roughly",),
    ("approximately",),
    ("and", "a", "bit"),
    ("more", "or", "less"),
)
_HEAPED = frozenset(("heaped", "heaping", "rounded", "mounded"))

# Units as they are said, beyond those that are typed.
_SAID: dict[str, str] = {
    "mil": "milliliter", "mils": "milliliter", "mill": "milliliter", "mills": "milliliter", "gs": "gram",
    "cupful": "cup", "cupfuls": "cup", "tablespoonfuls": "tablespoon", "teaspoonfuls": "teaspoon", "grammes": "gram",
    "grahams": "gram", "graham's": "gram", "gramme's": "gram", "oz's": "ounce",
}  # fmt: skip
# Units that machine captions write in two words. Common practice, no source.
_BROKEN: dict[tuple[str, str], str] = {
    **{
        (first, "spoon" + s): name
        for first, name in (("table", "tablespoon"), ("tea", "teaspoon"), ("tee", "teaspoon"))
        for s in ("", "s")
    },
    **{("milli", end + s): "milliliter" for end in ("litre", "liter") for s in ("", "s")},
}
# Spellings that are other words when they are heard; "in" first of all. Single letters are heard behind figures only.
_UNHEARD = word_set("pot pots in gr lt pack stem rib")
_LETTERS = word_set("l g")

#: Units that count loosely: nothing by themselves ("a piece", "a ball"), an amount only of something known.
LOOSE = word_set(
    "piece ball head leaf stalk slice sheet block cube strip wedge square scoop drop ear fillet bag box handful knob "
    "bottle carton bunch sprig can jar packet clove stick thread rack brick"
)
CONTAINERS = word_set("can jar packet bag box bottle carton block bar")

#: Words with which a sentence goes on behind a second number, so that it counts nothing of its own: "a cup or
# two of".
GO_ON = word_set("""
    of if and but so for in into to depending then is should will would at on with over maybe here now i you
    we it they that more until just before while or
    """)

# Verbs that take an "in" of their own, and how they are said: "whisk in a teaspoon of salt".
_STEMS = word_set("""
    add beat blend chuck come cook crack crumble cut dribble drizzle drop fold go grate knead mash melt mix pop pour
    press pull put rub scatter scrape shake sift slide sneak spoon sprinkle squeeze stir swirl tear throw tip toss
    whip whisk work
    """)


def _forms(stem: str) -> tuple[str, ...]:
    short = stem.removesuffix("e")
    doubled = stem + stem[-1]
    return stem, stem + "s", stem + "es", short + "ing", doubled + "ing", short + "ed", doubled + "ed"


STIRRED = frozenset(form for stem in _STEMS for form in _forms(stem)) | word_set("went threw tore")

SIZES = {
    "large": "large", "small": "small", "medium": "medium", "big": "large", "jumbo": "jumbo", "fat": "large",
    "little": "small", "extra-large": "extra large", "medium-sized": "medium",
}  # fmt: skip


def says(atoms: Sequence[Atom], i: int, *words: str) -> bool:
    """Whether these words stand at ``i``, without a stop between them."""
    if i < 0 or i + len(words) > len(atoms):
        return False
    if atoms[i].text != words[0]:
        return False  # nearly always
    return all(atoms[i + n].text == words[n] and not atoms[i + n - 1].stop for n in range(1, len(words)))


def qualifier_at(atoms: Sequence[Atom], i: int) -> tuple[str, int] | None:
    """Words of exactness at ``i`` and where they end."""
    first = text_at(atoms, i)
    if first not in FIRST_QUALIFIERS:
        return None
    for key in _LONGER.get((first, text_at(atoms, i + 1)), ()):
        if says(atoms, i, *key):
            return _QUALIFIERS[key], i + len(key)
    alone = _QUALIFIERS.get((first,))
    return None if alone is None else (alone, i + 1)


def qualifiers_at(atoms: Sequence[Atom], i: int) -> tuple[str, int]:
    """All words of exactness at ``i``; the last that means something wins."""
    found = ""
    while got := qualifier_at(atoms, i):
        if atoms[got[1] - 1].stop:
            break
        found, i = got[0] or found, got[1]
    return found, i


def loosely_after(atoms: Sequence[Atom], i: int) -> int | None:
    """Where "or so" and the like end, if they stand at ``i``."""
    for words in _AFTER:
        if says(atoms, i, *words):
            return i + len(words)
    return None


def heaped_after(atoms: Sequence[Atom], i: int) -> bool:
    """ "Six tablespoons heaping": exactness behind the unit."""
    return text_at(atoms, i) in _HEAPED and not atoms[i - 1].stop and (i + 1 >= len(atoms) or bool(atoms[i].stop))


# Spoons by what they are for. Common practice, no source.
_SPOONS = {
    "big": "tablespoon",
    "soup": "tablespoon",
    "serving": "tablespoon",
    "coffee": "teaspoon",
    "small": "teaspoon",
}


def _spoons_meant(atoms: Sequence[Atom], i: int) -> tuple[Unit, int] | None:
    """ "Three spoons of oil. Tablespoons, I mean.", "two spoons, and I mean the tablespoon", "two big spoons"."""
    kind = _SPOONS.get(text_at(atoms, i - 1)) if i and not atoms[i - 1].stop else None
    told = any(atom.text in ("tablespoon", "tablespoons", "table") for atom in atoms[i + 1 : i + 5])
    if kind is not None and (told or (text_at(atoms, i + 1) == "of" and not atoms[i].stop)):
        return unit(kind), i + 1
    for at in range(i + 1, min(i + 9, len(atoms) - 1)):
        name = atoms[at].text
        if name in ("tablespoon", "tablespoons", "teaspoon", "teaspoons"):
            before = at - (text_at(atoms, at - 1) == "the")
            behind, ahead = (text_at(atoms, at + n) for n in (1, 2)), (text_at(atoms, before - n) for n in (2, 1))
            meant = ("i", "mean") in (tuple(behind), tuple(ahead))
            return (unit(name.removesuffix("s")), i + 1) if meant else None
    return None


def unit_at(atoms: Sequence[Atom], i: int, figures: bool) -> tuple[Unit, int] | None:
    """The unit said at ``i``, and where it ends. ``figures``: a number in figures stands before it."""
    word = text_at(atoms, i)
    if not word or not word[0].isalpha():
        return None
    if word.endswith("'s") and word not in _SAID:
        if text_at(atoms, i + 1) != "worth":
            return None  # "a clove's plenty"
        word = word[:-2]
    if word in ("table", "tea", "tee", "milli") and not atoms[i].stop:
        broken = _BROKEN.get((word, text_at(atoms, i + 1)))
        return (unit(broken), i + 2) if broken else None
    if word in ("soup", "coffee") and text_at(atoms, i + 1) in ("spoon", "spoons") and not atoms[i].stop:
        return _spoons_meant(atoms, i + 1)
    if word in ("spoon", "spoons") and (not atoms[i].stop or atoms[i].stop == ","):
        return _spoons_meant(atoms, i)
    if word in ("clothes", "cloths", "coves") and says(atoms, i + 1, "of", "garlic") and not atoms[i].stop:
        return unit("clove"), i + 1
    if word == "grands" and says(atoms, i + 1, "of") and not atoms[i].stop:
        return unit("gram"), i + 1  # "four hundred grands of potatoes"
    if word in ("fluid", "fl") and text_at(atoms, i + 1) in ("ounce", "ounces", "oz"):
        return unit("fluid ounce"), i + 2
    if word in _SAID:
        return unit(_SAID[word]), i + 1
    if word in _UNHEARD or (len(word) == 1 and not (figures and word in _LETTERS)):
        return None
    found = find_unit(word)
    return (found, i + 1) if found else None
