"""Which ingredients running words speak of: names, plurals, other names, verbs made of them, and words for several."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from pipeline.proof.finding import Bench
from pipeline.recipe.model import IngredientLine

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")

# Words of a name that say nothing about what it is: no mention rests on one of these alone.
_PALE = frozenset(
    [
        "a",
        "an",
        "and",
        "as",
        "at",
        "baby",
        "best",
        "big",
        "black",
        "bought",
        "brown",
        "can",
        "canned",
        "cold",
        "cooked",
        "cooking",
        "dark",
        "dried",
        "dry",
        "extra",
        "fine",
        "finely",
        "firm",
        "flaky",
        "for",
        "free",
        "freshly",
        "fresh",
        "full-fat",
        "good",
        "granulated",
        "green",
        "ground",
        "hot",
        "jar",
        "juice",
        "kosher",
        "large",
        "leaf",
        "leaves",
        "light",
        "lightly",
        "low",
        "medium",
        "mild",
        "natural",
        "neutral",
        "of",
        "optional",
        "or",
        "organic",
        "piece",
        "pieces",
        "plain",
        "plus",
        "powder",
        "powdered",
        "pure",
        "quality",
        "raw",
        "red",
        "ripe",
        "roasted",
        "room",
        "salted",
        "small",
        "soft",
        "sprig",
        "sprigs",
        "sticks",
        "store",
        "style",
        "sweet",
        "tap",
        "temperature",
        "the",
        "thick",
        "thin",
        "to",
        "toasted",
        "unsalted",
        "unsweetened",
        "very",
        "virgin",
        "warm",
        "white",
        "whole",
        "with",
        "yellow",
        "your",
        "zest",
    ]
)

# Words that cooks use for several ingredients at once. Common practice, no source.
_COLLECTIVE: dict[str, str] = {
    "season": "salt pepper seasoning",
    "seasoning": "salt pepper",
    "spice": "cumin coriander turmeric paprika cinnamon cardamom clove nutmeg ginger allspice chili chile cayenne"
    " pepper masala curry fennel mustard fenugreek anise saffron sumac vanilla garlic onion mace caraway oregano thyme",
    "herb": "parsley basil thyme rosemary oregano sage mint dill cilantro coriander chive tarragon bay marjoram chervil",
    "green": "spinach kale chard arugula rocket lettuce collard cabbage scallion cress",
    "cheese": "parmesan cheddar mozzarella feta gruyere gouda ricotta pecorino provolone brie mascarpone halloumi paneer"
    " romano fontina emmental cotija parmigiano",
    "pasta": "spaghetti penne linguine fettuccine macaroni rigatoni tagliatelle orzo lasagne lasagna fusilli noodle"
    " bucatini farfalle pappardelle shell tortellini gnocchi",
    "noodle": "ramen udon soba spaghetti vermicelli rice linguine",
    "meat": "beef lamb pork chicken turkey veal mince duck sausage bacon steak venison ham",
    "mince": "beef lamb pork turkey chicken",
    "fish": "salmon cod tuna haddock trout halibut tilapia hake snapper bass mackerel",
    "bean": "chickpea lentil kidney cannellini pinto haricot edamame",
    "nut": "walnut pecan almond hazelnut pistachio cashew peanut macadamia",
    "seed": "sesame poppy sunflower pumpkin chia flax caraway fennel cumin mustard",
    "fruit": "raspberry strawberry blueberry apple pear peach plum cherry currant raisin sultana cranberry banana berry"
    " apricot date fig mango orange",
    "berry": "raspberry strawberry blueberry blackberry cranberry cherry",
    "vegetable": "carrot onion celery potato pepper zucchini courgette eggplant aubergine pea bean corn broccoli leek"
    " cauliflower parsnip turnip squash fennel mushroom tomato cabbage garlic",
    "aromatic": "onion garlic ginger shallot celery carrot leek lemongrass chile chili",
    "stock": "broth bouillon",
    "broth": "stock bouillon",
    "fat": "butter oil lard shortening ghee dripping",
    "shortening": "lard",
    "sweetener": "sugar honey syrup",
    "citrus": "lemon lime orange grapefruit",
    "white": "egg",
    "yolk": "egg",
    "zest": "lemon lime orange",
    "juice": "lemon lime orange",
    "chocolate": "chip chocolate",
    "pepper": "pepper peppercorn chile chili jalapeno jalapeño capsicum",
    "chili": "chile chilli jalapeno jalapeño serrano",
    "steak": "beef sirloin ribeye flank",
    "bread": "loaf baguette brioche ciabatta sourdough toast bun roll",
    "bun": "roll",
    "tortilla": "wrap",
    "starter": "levain sourdough",
    "levain": "starter sourdough",
    "slurry": "cornstarch cornflour starch",
    "dressing": "vinegar oil",
    "mash": "potato",
}
# "add everything", "the dry ingredients": speaks of all that the step's component lists.
_ALL = re.compile(
    r"\b(?:everything|ingredients?|all of (?:it|them)|the (?:dry|wet|rest|remaining|others?)\b|toppings?|garnish(?:es)?"
    r"|the works|dry mix|wet mix)\b",
    re.IGNORECASE,
)
_FOR_LATER = re.compile(
    r"\b(?:to serve|for serving|for garnish|to garnish|for dusting|to dust|for greasing|to grease|for the (?:pan|tin|dish"
    r"|bowl|counter|surface|work)|for rolling|for brushing|to finish|for sprinkling|for frying|to fry|for topping|to top"
    r"|on the side|as needed|if needed|as required|for the top)",
    re.IGNORECASE,
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


def explains_itself(line: IngredientLine) -> bool:
    """True for an ingredient whose own line says where it goes ("for dusting", "to serve")."""
    return bool(_FOR_LATER.search(str(line.text)))


@dataclass(frozen=True, slots=True)
class Place:
    """An ingredient line by its place in the recipe."""

    component: int
    line: int


class Mentions:
    """Tells which of a recipe's ingredient lines a text speaks of."""

    def __init__(self, bench: Bench) -> None:
        self._recipe = bench.recipe
        self._names: dict[Place, list[tuple[str, ...]]] = {}
        self._telling: dict[Place, frozenset[str]] = {}
        self._notes: dict[Place, tuple[str, ...]] = {}
        for c, component in enumerate(bench.recipe.components):
            for n, line in enumerate(component.ingredients):
                place = Place(c, n)
                row = bench.row(line)
                names = [str(line.name), line.key, *((row.name, *row.aliases) if row else ())]
                self._names[place] = [w for w in dict.fromkeys(words(name) for name in names) if w]
                self._telling[place] = frozenset().union(*(telling(name) for name in names if name))
                self._notes[place] = words(line.note)

    def of(self, text: str, component: int | None = None) -> set[Place]:
        """The lines that ``text`` names. ``component`` is the one that "everything" and "the rest" speak of."""
        said = words(text)
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
        for place, names in self._names.items():
            fits = [(_overlap(name, said, i), _whole(name, said, i)) for name in names if word in name]
            if fits and (word in self._telling[place] or any(whole for _, whole in fits)):
                best[place] = max(fits)
        if best:
            top = max(best.values())
            return {p for p, fit in best.items() if fit == top}
        return {p for p, strong in self._telling.items() if any(_made_of(word, w) for w in strong)} or (
            self._collective(word)
        )

    def _collective(self, word: str) -> set[Place]:
        members = _COLLECTIVE.get(word) or _COLLECTIVE.get(word.removesuffix("ed")) or ""
        wanted = set(members.split())
        return {p for p, strong in self._telling.items() if wanted & strong}


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


def _made_of(word: str, name: str) -> bool:
    """True for "floured", "salted", "oiled", "lemony", "eggwash": a word that was made of the name."""
    if len(name) < 3 or not word.startswith(name[:-1]):
        return False
    return word in (name + "ed", name + "d", name + "y", name + "ing", name[:-1] + "ing", name + name[-1] + "ed") or (
        len(name) > 3 and word.startswith(name)
    )


def say(names: Iterable[str]) -> str:
    """ "flour, water and salt"."""
    every = list(names)
    return " and ".join(filter(None, (", ".join(every[:-1]), every[-1] if every else "")))
