"""Which lines of the recipe a spoken name can mean: "flour" is the bread flour, "aubergine" the eggplant."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from pipeline.film.compare.speech import Speech
from pipeline.film.sound import best_alike
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.measure.ingredients import Row
from pipeline.measure.phrase import tokens
from pipeline.measure.record import replace
from pipeline.recipe.model import IngredientLine, Recipe
from pipeline.recipe.row import match_of

# Families that go by their last name: who says "the salt" means the fine salt of the page. Butter and milk are not
# here, for peanut butter and coconut milk are another family. Common practice, no source.
_FAMILIES = frozenset(
    """
    salt flour sugar oil vinegar stock broth cheese rice onion tomato potato bean lentil wine juice zest seed nut
    noodle pasta mustard chocolate apple pepper lettuce mushroom olive berry cherry pea cabbage squash bread yeast
    yogurt yoghurt oat raisin egg garlic ginger thyme cinnamon
    """.split()  # noqa: SIM905
)
# What goes by the name of its kind: "half a cup of cheese". Common practice, no source.
_KINDS = {
    kind: frozenset(names.split())
    for kind, names in (
        ("cheese", "cheddar jack mozzarella parmesan feta gruyere gruyère gouda ricotta halloumi pecorino"),
        ("fish", "cod haddock salmon trout tilapia pollock hake snapper halibut"),
        ("meat", "beef pork lamb veal mince chicken turkey brisket"),
        ("nut", "walnut pecan almond hazelnut cashew pistachio"),
    )
}
_HOMOPHONES = {"flower": "flour", "leak": "leek", "doe": "dough", "time": "thyme", "serial": "cereal", "pairs": "pears"}
_NEAR_BACK, _NEAR_AHEAD = 24, 6
_WEAK = 0.45  # how well a name fits of which only a describing word was said
_ALONE = 0.6  # the same where no other line has that word
_SHORTEST = 5  # letters of a word that another is made with
_MISHEARD = 0.7  # how well a name fits that only sounds like the page's


class Listed(NamedTuple):
    """An ingredient line, its place in the recipe, its words in their one form, its row in the table."""

    component: int
    number: int
    line: IngredientLine
    words: tuple[str, ...]
    row: Row | None

    @property
    def place(self) -> tuple[int, int]:
        return self.component, self.number


class Candidate(NamedTuple):
    """A line that may be meant: ``fit`` from 0 to 1; ``sure`` where nothing else can be meant by that name."""

    listed: Listed
    fit: float
    sure: bool


def listed(recipe: Recipe, table: Finds) -> tuple[Listed, ...]:
    """Every ingredient line, in the order of the page."""
    result = []
    for c, component in enumerate(recipe.components):
        for n, line in enumerate(component.ingredients):
            name = str(line.name)
            match = match_of(line, table.find)
            result.append(Listed(c, n, line, tokens(name), match.row if match else None))
    return tuple(result)


def candidates(said: Spoken, lines: tuple[Listed, ...], speech: Speech) -> tuple[Candidate, ...]:
    """The lines that something said may be of, best first; by the words near it where it was said of nothing."""
    if said.ingredient:
        return named(said, lines)
    return tuple(_nearby(said, lines, speech))


def named(said: Spoken, lines: tuple[Listed, ...]) -> tuple[Candidate, ...]:
    """The lines that the spoken name can mean."""
    words = tuple(_HOMOPHONES.get(word, word) for word in tokens(said.ingredient))
    found = [candidate for one in lines if (candidate := _fit(words, said, one))]
    shorter = words
    while not found and len(shorter) > 1:
        shorter = shorter[:-1]  # without stops the name runs on: "chopped tomatoes juice and all"
        found = [c for one in lines if (c := _fit(shorter, replace(said, match=None), one)) and c.fit > _WEAK]
    if not found and words and said.match is None:
        # "a teaspoon of assault": a word that no table knows may be one of the page's, misheard
        heads = [one.words[-1] for one in lines if one.words]
        alike = next((head for word in reversed(words) if (head := best_alike(word, heads))), "")
        found = [Candidate(one, _MISHEARD, False) for one in lines if alike and one.words[-1] == alike]
    kinds = _KINDS.get(words[-1]) if words and not found else None
    if kinds:
        found = [Candidate(one, _ALONE, False) for one in lines if kinds & frozenset(one.words)]
    if len(found) == 1 and found[0].fit == _WEAK and said.match is None:
        found = [found[0]._replace(fit=_ALONE)]  # "a teaspoon of wholegrain" can only be the mustard
    best = max((c.fit for c in found), default=0.0)
    return tuple(sorted((c for c in found if c.fit > best - 0.25), key=lambda c: -c.fit))


def _fit(words: tuple[str, ...], said: Spoken, one: Listed) -> Candidate | None:
    if not words or not one.words:
        return None
    if words == one.words:
        return Candidate(one, 1.0, True)
    mine, theirs = frozenset(words), frozenset(one.words)
    shared = len(mine & theirs) / len(mine | theirs)
    same_row = said.match is not None and one.row is not None and said.match.row.name == one.row.name
    if same_row and said.match is not None and said.match.how != "spelling":
        return Candidate(one, 0.9 + shared * 0.09, True)
    if mine <= theirs:
        if words[-1] == one.words[-1]:
            return Candidate(one, 0.75 + shared * 0.1, words[-1] in _FAMILIES or said.match is None)
        return Candidate(one, _WEAK, False)
    if theirs <= mine and one.words[-1] == words[-1]:
        other = said.match is not None and one.row is not None  # the table knows both, as different things
        return None if other else Candidate(one, 0.6, False)
    if words[-1] == one.words[-1] and said.match is None and len(mine & theirs):
        return Candidate(one, 0.5, False)
    return None


def _nearby(said: Spoken, lines: tuple[Listed, ...], speech: Speech) -> Iterator[Candidate]:
    """The line whose name was heard last before the number, or right behind it."""
    low, high = max(said.first - _NEAR_BACK, 0), min(said.last + _NEAR_AHEAD, len(speech.bare))
    spans = [
        (n, word) for n in (*range(said.first - 1, low - 1, -1), *range(said.last, high)) if (word := speech.bare[n])
    ]
    for _, word in spans:
        form = tokens(word)
        if not form:
            continue
        last = _HOMOPHONES.get(form[-1], form[-1])
        hits = [one for one in lines if one.words and one.words[-1] == last] or _by_part(last, lines)
        if hits:
            yield from (Candidate(one, 0.55, False) for one in hits)
            return


def _by_part(word: str, lines: tuple[Listed, ...]) -> list[Listed]:
    """The one line whose last word is made with this one: "white pepper" of the peppercorns."""
    if len(word) < _SHORTEST:
        return []
    found = [one for one in lines if one.words and one.words[-1].startswith(word)]
    return found if len(found) == 1 else []
