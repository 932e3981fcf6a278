"""The ingredient that an amount is said of: the words behind it ("of bread flour"), else those before
("sugar, 100 g")."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.numbers import value_at
from pipeline.measure.ingredients import Match
from pipeline.measure.units import find_unit


class Finds(Protocol):
    """What is needed of the ingredient table."""

    def find(self, words: str, *, mend: bool = True) -> Match | None: ...


# A name ends where one of these begins; a cook's verbs are here because machine captions have no stops.
_END = word_set("""
    and or but then so that that's thats which who what when where while if because until till into in on onto
    at to for from with without over under by as than after before around about per is are was were it it's
    its i i'm i've we we're we've you you're your our my his her they this these those there here now just
    also plus minus not no yes okay ok right well again please instead each apiece total altogether together
    maybe roughly nearly be been has have had do does did will would should could can't don't like goes go
    going gone comes come get gets got need needs want wants add adds mix stir whisk fold beat pour put take
    cook bake boil simmer fry let leave give makes make whatever knead throw tip drop sprinkle season melt
    sift measure weigh weighs weighing use using start keep cover serve plus out up down off one's s depending
    because between once straight really very i'd you'll it'll we'll he she him them me us drained divided softened
    optional first too either both half some any less more worth cooked
    """)
_ARTICLES = word_set("of the a an some our your my that those these this worth")
_CHATTY = word_set(
    "lovely nice good beautiful gorgeous really very best fancy plain old just actual extra more additional fresh "
    "little regular normal big"
)
_DESCRIBING = word_set(
    "chopped sliced diced minced grated crushed melted softened shredded light dark dried fresh warm cold hot ripe raw"
)
_HEARD = {"flower": "flour", "flowers": "flour", "leaks": "leeks", "leak": "leek", "doe": "dough", "hole": "whole"}
# As they are said in some kitchens.
_AT_HOME = {"tattie": "potato", "tatties": "potatoes", "spud": "potato", "spuds": "potatoes", "chook": "chicken"}
# Flours go by their first name when flour is spoken of: "ninety of whole wheat".
_FLOURS = word_set("wheat wholewheat wholemeal purpose raising rising spelt rye")
# Chillies go by their own name among cooks.
_CHILIES = word_set("ancho guajillo arbol pasilla")
# "The active dry sort" of what was named before.
_SORTS = word_set("sort kind stuff type variety")
# What is left of a food is not the food: "chicken bones".
_LEFT_OVER = word_set("bones carcass carcasses skins peelings trimmings shells scraps")
_MOST = 5
# Counted in a kitchen, and never eaten: "two sheets of foil".
INEDIBLE = word_set("foil paper parchment cling paint towel towels kitchen string twine")


class Thing(NamedTuple):
    """An ingredient's words as said, where they stand, and what the table takes them for."""

    start: int
    end: int
    words: str
    match: Match | None


class Larder:
    """The table behind a memory: a film says the same names over and over."""

    def __init__(self, table: Finds) -> None:
        self._table = table
        self._known: dict[tuple[str, bool], Match | None] = {}

    def find(self, words: Sequence[str], mend: bool = False) -> Match | None:
        """The row for these words; homophones of machine captions ("flower") are taken for the food. ``mend``: so are
        misspelt names."""
        name = " ".join([_HEARD.get(word) or _AT_HOME.get(word, word) for word in words])
        key = (name, mend)
        if key not in self._known:
            found = self._table.find(name, mend=mend)
            if found is None and words and words[-1] in _FLOURS:
                found = self._table.find(f"{name} flour", mend=False)
            elif found is None and name.removesuffix("s") in _CHILIES:
                found = self._table.find(f"{name.removesuffix('s')} chili", mend=False)
            self._known[key] = found
        return self._known[key]


def ends_name(atoms: Sequence[Atom], i: int) -> bool:
    """Whether the piece at ``i`` belongs to no name."""
    text = text_at(atoms, i)
    return not text or text in _END or (text == "all" and text_at(atoms, i + 1) != "purpose")


def _name(atoms: Sequence[Atom], i: int, most: int = _MOST) -> list[str]:
    """The words at ``i`` up to where a name must end."""
    words: list[str] = []
    while i < len(atoms) and len(words) < most:
        text = atoms[i].text
        if ends_name(atoms, i) or not text[0].isalpha() or (words and value_at(atoms, i)):
            break
        words.append(text)
        if atoms[i].stop:
            break
        i += 1
    return words


def thing_behind(atoms: Sequence[Atom], i: int, larder: Larder, mend: bool = False) -> Thing | None:
    """The ingredient named right behind an amount that ends at ``i``; None if none is.

    Behind "of" any name will do; without it, only one that the table knows or that ends at a stop. ``mend``: a
    misspelt one is known, too.
    """
    if i <= 0 or i >= len(atoms):
        return None
    stop = atoms[i - 1].stop
    start, of = i, False
    if stop == "." and text_at(atoms, i) != "of":
        return None
    if text_at(atoms, i) == "worth":
        i += 1
    if text_at(atoms, i) == "a" and not stop:
        i += 1  # "two cups a rice": of something that the table knows
    while text_at(atoms, i) == "of" or (of and text_at(atoms, i) in _ARTICLES):
        of = True
        i += 1
    if text_at(atoms, i) == "it" or (not of and value_at(atoms, i)):
        return None
    if not of and text_at(atoms, i + 1) == "of" and find_unit(text_at(atoms, i)):
        return None  # "two fifty grams, pinch of salt"
    chatty = i
    while text_at(atoms, i) in _CHATTY and text_at(atoms, i + 1) not in _END and not atoms[i].stop:
        i += 1
    words = _name(atoms, i)
    whole = [*(atom.text for atom in atoms[chatty:i]), *words]
    full = larder.find(whole) if chatty < i and words and len(words) < _MOST else None
    if full is not None and full.how != "spelling":
        return Thing(start, i + len(words), _said(whole), full)  # "fresh yeast" is another than yeast
    if not words:
        return None
    mend = mend and not any(word in _ARTICLES for word in words)
    left = next((n for n, word in enumerate(words) if word in _LEFT_OVER), 0)
    if left and of:
        return Thing(start, i + left + 1, _said(words[: left + 1]), larder.find(words[: left + 1]))
    for size in range(len(words), 0, -1):
        match = larder.find(words[:size], mend=mend and size == len(words))
        if match is None and words[0] in _DESCRIBING and size > 1:
            match = larder.find(words[1:size])
        if match is None:
            continue
        if (stop and not of and size < len(words)) or (not of and _to_taste(atoms, i + size)):
            return None
        # A longer name that the table does not know is not the shorter one: "peanut brittle" is no peanut.
        if size < len(words) and (match.how == "spelling" or _goes_on(atoms, i, words, size)):
            continue
        return Thing(start, i + size, _said(words[:size]), match)
    if of and text_at(atoms, i + len(words)) in ("one", "ones") and {"a", "the"} & {a.text for a in atoms[start:i]}:
        return None  # "a hundred and fifty grams of a good strong one" is of what was named before
    if of:
        return _sort_of(atoms, start, i, words, larder) or _unknown(atoms, start, i, words)
    return None


def _unknown(atoms: Sequence[Atom], start: int, i: int, words: Sequence[str]) -> Thing:
    """A name that the table does not know: all of it where it ends by itself, else its first words."""
    size = len(words)
    ends = i + size >= len(atoms) or bool(atoms[i + size - 1].stop) or ends_name(atoms, i + size)
    size = size if ends else min(size, 3)
    while size > 1 and (words[size - 1] in _DESCRIBING or text_at(atoms, i + size) == "very"):
        size -= 1  # "crayfish ground very well"
    return Thing(start, i + size, _said(words[:size]), None)


def _to_taste(atoms: Sequence[Atom], i: int) -> bool:
    """ "Two teaspoons salt to taste": the salt is measured by nobody."""
    return (text_at(atoms, i), text_at(atoms, i + 1)) in (("to", "taste"), ("as", "needed")) and not atoms[i - 1].stop


def _sort_of(atoms: Sequence[Atom], start: int, i: int, words: Sequence[str], larder: Larder) -> Thing | None:
    """ "In goes the yeast, two teaspoons of the active dry sort": what was named right before, by its sort."""
    size = next((n for n, word in enumerate(words[:4]) if word in _SORTS), 0)
    if not size:
        return None
    before = thing_before(atoms, max(start - 12, 0), start, larder)
    if before is None:
        return None
    names = [*words[:size], before.words]
    match = larder.find(names)
    return Thing(start, i + size + 1, _said(names), match) if match is not None else None


def _goes_on(atoms: Sequence[Atom], i: int, words: Sequence[str], size: int) -> bool:
    """Whether the word behind a known name belongs to it: the last before a stop, and not what was done to it."""
    rest = words[size:]
    if len(rest) != 1 or not atoms[i + size].stop:
        return False
    return not rest[0].endswith(("ed", "ing", "ly"))


def _said(words: Sequence[str]) -> str:
    return " ".join(_HEARD.get(word, word) for word in words)


def _likened(atoms: Sequence[Atom], start: int) -> bool:
    """Whether a name is told only of what something comes from or is like: "more to say than a ham bone"."""
    return any(text_at(atoms, n) in ("than", "like", "from") and not atoms[n].stop for n in (start - 1, start - 2))


def same_kind(atoms: Sequence[Atom], i: int, last: Thing, larder: Larder) -> Thing | None:
    """ "Two hundred rye flour and two hundred of the white": another of the kind that was named before."""
    at = i
    while text_at(atoms, at) in _ARTICLES:
        at += 1
    if last.match is None or not text_at(atoms, at).isalpha() or text_at(atoms, at) in _END:
        return None
    kind = last.match.row.name.split()[-1]
    words = [text_at(atoms, at), kind]
    match = larder.find(words)
    if match is None or match.how == "spelling" or match.row.name == last.match.row.name:
        return None
    return Thing(i, at + 1, text_at(atoms, at), match)


_MAKES = word_set("makes make made yields serves gives")
# "If you made me, I'd say two teaspoons" makes nothing.
_PEOPLE = word_set("i you we they he she who")
_REACH = 4


def thing_before(atoms: Sequence[Atom], begin: int, i: int, larder: Larder, back: int = 9) -> Thing | None:
    """The last ingredient named between ``begin`` and ``i``, at most ``back`` pieces back, known to the
    table.

    From the sentence before only if it ends in the name and few words follow: "Now the flour. I've got 550
    grams".
    """
    low = max(begin, i - back)
    for end in range(i, low, -1):
        stops = [n for n in range(end - 1, i) if atoms[n].stop == "."]
        if len(stops) > (2 if i - end < _REACH and atoms[end - 1].stop == "." else 1) or (
            stops and i - end > _REACH and back <= 9
        ):
            return None
        if end < i and atoms[end].text in _MAKES and text_at(atoms, end - 1) not in _PEOPLE:
            return None
        for size in range(min(4, end - low), 0, -1):
            words = [atom.text for atom in atoms[end - size : end]]
            if any(w in _END or w in _ARTICLES or not w[0].isalpha() for w in words):
                continue
            sort = text_at(atoms, end) in ("one", "ones", *_SORTS) and text_at(atoms, end - size - 1) == "the"
            if sort and not atoms[end - 1].stop and end < i:
                continue  # "flour, the strong one"
            if any(atom.stop for atom in atoms[end - size : end - 1]):
                continue
            match = larder.find(words)
            if match is not None and match.how != "spelling" and not _likened(atoms, end - size):
                return Thing(end - size, end, _said(words), match)
    return None
