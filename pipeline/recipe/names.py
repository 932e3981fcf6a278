"""Which ingredient line a step means when it names one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from pipeline.recipe.line import key_of
from pipeline.recipe.model import Component, IngredientLine

# Endings of English nouns, singular and plural, and what both become; the first that fits is taken.
_ENDINGS = (
    ("ies", "y"), ("ie", "y"), ("oes", "o"), ("oe", "o"), ("ches", "ch"), ("che", "ch"), ("shes", "sh"),
    ("sses", "ss"), ("xes", "x"), ("ves", "v"), ("ve", "v"), ("fe", "v"), ("ff", "ff"), ("f", "v"),
)  # fmt: skip
# Words for a piece of what is named before them: a step that says "garlic" means the garlic cloves of the list.
_PIECES = frozenset((
    "clov", "leav", "stalk", "stick", "sprig", "head", "bulb", "rib", "stem", "ear", "bunch", "slice", "rasher",
    "strip", "fillet", "filet", "breast", "thigh", "drumstick", "wing", "leg", "chop", "steak", "piece",
    "shoulder", "belly", "loin", "brisket", "chuck", "tenderloin", "rump", "flank", "sirloin", "shank", "neck", "butt",
    "mince", "cutlet", "joint", "roast", "chunk", "cube", "shin", "cheek", "side", "tail",
))  # fmt: skip
_HOW_MUCH = frozenset(("half", "third", "quarter", "all", "rest", "remaining", "remainder", "most", "some", "of"))
_SAME = frozenset(("molasses", "couscous", "swiss", "bass", "grits"))


# Fruit whose juice and zest are used apart, and how a line says so ("2 lemons, zested and juiced").
_CITRUS = frozenset((
    "lemon", "lime", "orange", "grapefruit", "clementine", "mandarin", "tangerine", "satsuma", "yuzu", "bergamot",
    "pomelo",
))  # fmt: skip
_JUICE, _ZEST = re.compile(r"\bjuiced?\b"), re.compile(r"\b(?:zest(?:ed)?|rind|peel)\b")


def fruit_parts(line: IngredientLine) -> tuple[str, ...]:
    """ "juice" and "zest", as far as the line of a citrus fruit says that they are taken of it, or says nothing of what
    is done to it ("1 lemon"); else nothing."""
    if line.note and "juice" not in line.note and not _ZEST.search(line.note):
        return ()
    words = line.key.split()
    if not words or singular(words[-1]) not in _CITRUS:
        return ()
    if not line.note:
        return ("juice", "zest") if line.amounts else ()
    return tuple(part for part, said in (("juice", _JUICE), ("zest", _ZEST)) if said.search(line.note))


def part_called(line: IngredientLine, name: str) -> str:
    """Which part of a fruit ``name`` calls ("lemon zest", "juice"); "" where it calls the whole line."""
    last = singular(_called(name).rpartition(" ")[2])
    return last if last in fruit_parts(line) else ""


_PART_OF = re.compile(r"(juice|zest) of (?:1 |a |an )?([a-z]+)")
_APART = re.compile(r"\s*(?:,|/|\+|&|\bor\b|\band\b)\s*")
_EITHER = re.compile(r"\s*(?:/|\bor\b)\s*")


def members(line: IngredientLine) -> tuple[str, ...]:
    """Each of several things that one line names: "salt and freshly ground black pepper" where no amount is said,
    "ghee or oil" anywhere; nothing for a line of one thing."""
    parts = _EITHER.split(line.key) if line.amounts else _APART.split(f"{line.key}, {line.note.lower()}")
    return tuple(key for part in parts if (key := key_of(part)) and key != line.key) if len(parts) > 1 else ()


def _called(name: str) -> str:
    """A name as a key: "juice of the lemon" is lemon juice."""
    key = key_of(name).replace(" of the ", " of ")
    fruit = _PART_OF.fullmatch(key)
    return f"{fruit[2]} {fruit[1]}" if fruit else key


@lru_cache(maxsize=4096)
def singular(word: str) -> str:
    """A word without what tells its plural: not a word to print, but the same for "leaf" and "leaves"."""
    if len(word) < 3 or word in _SAME:
        return word
    for ending, common in _ENDINGS:
        if word.endswith(ending):
            return word[: -len(ending)] + common
    if word.endswith("s") and not word.endswith(("ss", "us")):
        return word[:-1]
    return word


class Place(NamedTuple):
    """An ingredient line by its component's and its own index."""

    component: int
    line: int


class Meant(NamedTuple):
    """What a name may mean: an ingredient line, a whole component, or ``choices`` where it could be several."""

    place: Place | None = None
    component: int | None = None
    choices: tuple[Place, ...] = ()


class Names:
    """The names of one recipe's ingredients and components, as steps may call them."""

    def __init__(self, components: Sequence[Component]) -> None:
        self.components = components
        self.parts: dict[str, int] = {}
        for i, component in enumerate(components):
            for name in (component.key, component.title):
                if name:
                    self.parts.setdefault(key_of(name), i)
        for name, i in list(self.parts.items()):
            self.parts.setdefault(key_of(name.removeprefix("for ")), i)  # "For the sauce" is called the sauce
        words = [[tuple(singular(w) for w in line.key.split()) for line in c.ingredients] for c in components]
        self.words = words or [[]]  # the steps of a recipe whose list cannot be read are read all the same
        self.members = [
            (Place(i, j), tuple(singular(w) for w in name.split()))
            for i, c in enumerate(components)
            for j, line in enumerate(c.ingredients)
            for name in members(line)
        ]
        self.fruits = [
            (Place(i, j), (*self.words[i][j], part))
            for i, c in enumerate(components)
            for j, line in enumerate(c.ingredients)
            for part in fruit_parts(line)
        ]

    def part(self, name: str) -> int | None:
        """The component of that key or title, or None."""
        return self.parts.get(key_of(name))

    def find(self, name: str, own: int) -> Meant:
        """What ``name`` means in a step of component ``own``.

        By the whole name in the step's own component; a component's name; by the name's last words ("flour" for
        "bread flour"), or without the word for a piece ("garlic" for "garlic cloves"); then the same in the other
        components. One of several that a line names ("pepper" of "salt and pepper") is found by its own name. Where
        that finds several lines or none, the ingredient table says which is the same thing ("vanilla" for "pure vanilla
        extract"). Case and plurals do not count. "water of sauce" says which component is meant.
        """
        key = _called(name)
        words = tuple(singular(w) for w in key.split())
        if not words:
            return Meant()
        exact = self._exact(own, words) or self._member({own}, words, whole=True)
        if exact:
            return Meant(place=exact[0])
        if self.fruits and (fruit := self._fruit(own, words)):
            return fruit
        if key in self.parts:
            return Meant(component=self.parts[key])
        mine = self._ending(own, words) or self._pieces(own, words)
        mine = mine or self._member({own}, words, whole=False) or self._same_thing({own}, name)
        if mine:
            return self._one_of(mine, name)
        others = [i for i in range(len(self.components)) if i != own]
        for search in (self._exact, self._ending, self._pieces):
            found = [place for i in others for place in search(i, words)]
            if found:
                return self._one_of(found, name)
        found = self._member({*others}, words, whole=True) or self._member({*others}, words, whole=False)
        if found := found or self._same_thing({*others}, name):
            return self._one_of(found, name)
        before, of, part = key.rpartition(" of ")
        if of and key_of(part) in self.parts:
            there = self.parts[key_of(part)]
            words = tuple(singular(w) for w in before.split())
            found = self._exact(there, words)[:1] or self._ending(there, words) or self._pieces(there, words)
            found = found or self._member({there}, words, whole=False) or self._same_thing({there}, before)
            if found:
                return self._one_of(found, before)
        return Meant()

    def call(self, place: Place, own: int) -> str:
        """How a step of component ``own`` can call that line and mean no other."""
        component = self.components[place.component]
        key = component.ingredients[place.line].key
        return key if place.component == own or not component.key else f"{key} of {component.key.lower()}"

    def _fruit(self, own: int, words: tuple[str, ...]) -> Meant | None:
        """ "lemon juice", "juice" or "zest" of a fruit whose line speaks of it, where no other line is called so."""
        if any(w[-len(words) :] == words for c in self.words for w in c):
            return None
        found = [place for place, name in self.fruits if name[-len(words) :] == words and len(words) <= len(name)]
        mine = [place for place in found if place.component == own] or found
        return None if not mine else Meant(place=mine[0]) if len(mine) == 1 else Meant(choices=tuple(mine))

    def _one_of(self, found: Sequence[Place], name: str) -> Meant:
        """The one line found; of several, the only one that the table knows by the bare name ("sugar" is granulated
        sugar where brown sugar stands beside it)."""
        if len(found) > 1 and (row := _row_name(key_of(name))):
            same = [p for p in found if row in {_row_name(key) for key in (self._key(p), *members(self._line(p)))}]
            found = same if len(same) == 1 else found
        return Meant(place=found[0]) if len(found) == 1 else Meant(choices=tuple(found))

    def _same_thing(self, among: set[int], name: str) -> list[Place]:
        """Lines that say the name with more or fewer words about it, and are the same in the ingredient table.

        Another sort of it is another thing, though it weighs the same: beef stock is no chicken stock.
        """
        called = {singular(w) for w in key_of(name).split()}
        return [
            Place(i, j)
            for i in sorted(among)
            for j, listed in enumerate(self.words[i])
            if _near(called, set(listed)) and _is_same(key_of(name), self._key(Place(i, j)))
        ]

    def _line(self, place: Place) -> IngredientLine:
        return self.components[place.component].ingredients[place.line]

    def _key(self, place: Place) -> str:
        return self._line(place).key

    def _member(self, among: set[int], words: tuple[str, ...], whole: bool) -> list[Place]:
        """The lines of several things, one of which is called so, by its whole name or its last words."""
        n = len(words)
        found = (p for p, w in self.members if p.component in among and (w == words if whole else w[-n:] == words))
        return list(dict.fromkeys(found))

    def _exact(self, component: int, words: tuple[str, ...]) -> list[Place]:
        return [Place(component, j) for j, w in enumerate(self.words[component]) if w == words]

    def _ending(self, component: int, words: tuple[str, ...]) -> list[Place]:
        n = len(words)
        return [Place(component, j) for j, w in enumerate(self.words[component]) if len(w) > n and w[-n:] == words]

    def _pieces(self, component: int, words: tuple[str, ...]) -> list[Place]:
        found = []
        for j, w in enumerate(self.words[component]):
            end = len(w)
            while end > 1 and w[end - 1] in _PIECES:  # "beef chuck roast"
                end -= 1
                if w[:end][-len(words) :] == words:
                    found.append(Place(component, j))
                    break
        return found


def _near(called: set[str], listed: set[str]) -> bool:
    """Whether one says all that the other does ("vanilla", "pure vanilla extract"), or is short for it ("bicarb").

    What says how much of it ("half the butter", "100 ml of milk") is no more of a name.
    """
    if called <= listed:
        return True
    if listed <= called:
        return not any(word in _HOW_MUCH or not word.isalpha() for word in called - listed)
    return all(len(w) > 3 and any(word.startswith(w) for word in listed) for w in called)


def _is_same(called: str, listed: str) -> bool:
    row, other = _row_name(called), _row_name(listed)
    if row and other:
        return row == other
    return not other and listed.startswith(f"{called} ") and (not row or " " in called)


@lru_cache(maxsize=1024)
def _row_name(words: str) -> str:
    """What the ingredient table calls it, or ""."""
    from pipeline.measure.lookup import load

    found = load().find(words, mend=False)
    return found.row.name if found else ""
