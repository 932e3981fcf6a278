"""Which ingredients running words speak of: names, plurals, other names, verbs made of them, and words for several."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from pipeline.proof.finding import Bench
from pipeline.proof.phrases import Phrases
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.names import fruit_parts

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")

_WORD_OR_STOP = re.compile(rf"{_WORD.pattern}|[,;.]")  # "the eggs, yolk and sugar" speaks of no egg yolk


def _read_lists() -> dict[str, frozenset[str]]:
    text = (Path(__file__).parent / "data" / "words.txt").read_text(encoding="utf-8")
    rows = (line.partition(": ") for line in text.splitlines() if line and not line.startswith("#"))
    return {name: frozenset(members.split()) for name, _, members in rows}


WORD_LISTS = _read_lists()  # data/words.txt, by the name of each list
_PALE = WORD_LISTS["(pale)"]
# "add everything", "the dry ingredients": speaks of all that the step's component lists.
_ALL = Phrases(r"""
    everything|ingredients?|all of (?:it|them)|the works|(?:mix|combine|blend|whisk|stir|toss) (?:it |them )?all
    the (?:dry|wet|rest|remaining|others?)|dry mix|wet mix
    toppings?|garnish(?:es)?
""")
_FOR_LATER = Phrases(
    r"""
    (?:to|for) (?:serve|serving|garnish|dust|dusting|grease|greasing|fry|frying|top|topping|finish|finishing)
    for (?:rolling|brushing|sprinkling|drizzling)
    for the (?:pan|tin|dish|bowl|board|counter|surface|work|top)
    on the side|as needed|if needed|as required
    """,
    after="",
)


@lru_cache(maxsize=4096)
def stem(word: str) -> str:
    """A word without its plural: "tomatoes" and "tomato", "berries" and "berry", "leaves" and "leaf" are one."""
    w = word.lower().replace("’", "'").removesuffix("'s")
    if len(w) < 4 or w.endswith(("ss", "us", "is")):
        return w
    if w.endswith("ies") and len(w) > 4:
        return w[:-3] + "y"
    if w.endswith("leaves"):
        return w[:-6] + "leaf"
    if w.endswith(("oes", "ches", "shes", "sses", "xes")):
        return w[:-2]
    if w.endswith("halves"):
        return w[:-3] + "f"
    return w.removesuffix("s")


def words(text: str) -> tuple[str, ...]:
    """The stems of a text's words, in order."""
    return tuple(stem(w) for w in _WORD.findall(text))


def telling(name: str) -> frozenset[str]:
    """The stems of a name's words that tell what it is; all of them where none does."""
    every = words(name)
    strong = frozenset(w for w in every if w not in _PALE)
    return strong or frozenset(every)


def nameless(line: IngredientLine) -> bool:
    """Whether the line names nothing: "1 cup", "3/4", a date."""
    return not any(c.isalpha() for c in line.key)


def explains_itself(line: IngredientLine) -> bool:
    """True for an ingredient whose own line says where it goes ("for dusting", "to serve")."""
    return bool(_FOR_LATER.search(str(line.text)))


class Place(NamedTuple):
    """An ingredient line by its place in the recipe."""

    component: int
    line: int


class Mentions:
    """Tells which of a recipe's ingredient lines a text speaks of."""

    def __init__(self, bench: Bench) -> None:
        self._names: dict[Place, list[tuple[str, ...]]] = {}
        self._telling: dict[Place, frozenset[str]] = {}
        self._with: dict[str, list[Place]] = {}  # the lines that have a word in one of their names
        self._made_of: dict[str, set[Place]] = {}  # "floured", "lemony": the lines that it is made of
        for c, component in enumerate(bench.recipe.components):
            for n, line in enumerate(component.ingredients):
                self._add(Place(c, n), line, bench)

    def _add(self, place: Place, line: IngredientLine, bench: Bench) -> None:
        row = bench.row(line)
        names = [str(line.name), line.key, bench.called(line), *((row.name, *row.aliases) if row else ())]
        self._names[place] = [w for w in dict.fromkeys(words(name) for name in names) if w]
        for part in fruit_parts(line):
            self._names[place] += [(*words(str(line.name)), part), (part,)]
            self._with.setdefault(part, []).append(place)
        # another name of it counts whole only: "sweet cream butter" does not make cream of butter
        self._telling[place] = telling(str(line.name)) | telling(line.key) | telling(bench.called(line))
        for word in {w for name in self._names[place] for w in name}:
            self._with.setdefault(word, []).append(place)
        for word in self._telling[place]:
            for form in _forms(word):
                self._made_of.setdefault(form, set()).add(place)

    def of(self, text: str, component: int | None = None) -> set[Place]:
        """The lines that ``text`` names. ``component`` is the one that "everything" and "the rest" speak of."""
        said = tuple(stem(w) for w in _WORD_OR_STOP.findall(text))
        found: set[Place] = set()
        for i, word in enumerate(said):
            found |= self._named(said, i, word)
        if _ALL.search(text):
            found |= {p for p in self._names if component is None or p.component == component}
        return found

    def exactly(self, said: Sequence[str]) -> set[Place]:
        """The lines that have just these words as a name, or as the last words of one ("flour" for "bread flour")."""
        wanted = tuple(said)
        full = {p for p, names in self._names.items() if wanted in names}
        if full or not wanted:
            return full
        return {p for p, names in self._names.items() if names and names[0][-len(wanted) :] == wanted}

    def _named(self, said: Sequence[str], i: int, word: str) -> set[Place]:
        """The lines that the word at ``i`` names: those whose name fits longest, whole names before parts."""
        best: dict[Place, tuple[int, bool]] = {}
        for place in self._with.get(word, ()):
            fits = [(_overlap(name, said, i), _whole(name, said, i)) for name in self._names[place] if word in name]
            if word in self._telling[place] or any(whole for _, whole in fits):
                best[place] = max(fits)
        if best:
            if i and said[i - 1] in ("both", "all", "two", "three"):
                return set(best)  # "both sugars"
            top = max(best.values())
            return {p for p, fit in best.items() if fit == top}
        return self._made_of.get(word) or self._collective(word)

    def _collective(self, word: str) -> set[Place]:
        wanted = WORD_LISTS.get(word) or WORD_LISTS.get(word.removesuffix("ed"))
        return {p for p, strong in self._telling.items() if wanted & strong} if wanted else set()


def _overlap(name: Sequence[str], said: Sequence[str], i: int) -> int:
    """How many words of ``name`` stand in one run around position ``i``."""
    low = high = i
    while low > 0 and said[low - 1] in name:
        low -= 1
    while high + 1 < len(said) and said[high + 1] in name:
        high += 1
    return high - low + 1


def _whole(name: Sequence[str], said: Sequence[str], i: int) -> bool:
    n = len(name)
    return any(tuple(said[s : s + n]) == tuple(name) for s in range(max(0, i - n + 1), i + 1))


def _forms(name: str) -> tuple[str, ...]:
    """Words made of a name: "floured", "oiled", "greased", "lemony", "buttering"."""
    if len(name) < 3:
        return ()
    return (name + "ed", name + "d", name + "y", name + "ing", name[:-1] + "ing", name + name[-1] + "ed")


def say(names: Iterable[str]) -> str:
    """ "flour, water and salt"."""
    every = list(names)
    return " and ".join(filter(None, (", ".join(every[:-1]), every[-1] if every else "")))
