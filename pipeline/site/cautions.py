"""The usual cautions, by what stands in the ingredient list. They remind; they do not judge a recipe.

What sets them off and their sources stand in ``data/cautions.csv`` and ``data/allergens.csv``, what they say in the
catalogue of words. A page that carries none is not thereby safe, and the pages say that local rules and licensed
practice come first.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path

from pipeline.recipe.model import Recipe
from pipeline.site.theme import shipped_words
from pipeline.site.view import CautionView
from pipeline.site.words import Words


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    text = (Path(__file__).parent / "data" / name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def _pattern(words: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{'|'.join(re.escape(w) for w in words.split(';'))})(?:e?s)?(?![\w-])")


def _hit(row: dict[str, str], names: list[str], also: str) -> bool:
    """Whether a row's words stand in a name once the words of ``unless`` are struck out of it. ``also`` are further
    words, of another language than the row's."""
    if also and any(_pattern(also).search(name) for name in names):
        return True
    words = row["words"].split(";")
    near = [name for name in names if any(word in name for word in words)]  # a tenth of the pattern's time
    if not near:
        return False
    wanted = _pattern(row["words"])
    found = [name for name in near if wanted.search(name)]
    if found and row["unless"]:
        struck = _pattern(row["unless"])
        return any(wanted.search(struck.sub(" ", name)) for name in found)
    return bool(found)


def _also(words: Words, entry: str) -> str:
    """The catalogue's own words for what sets something off."""
    typed = (word.strip().lower() for word in words(f"sets_off.{entry}").split(";"))
    return ";".join(word for word in typed if word)


def _names(recipe: Recipe) -> list[str]:
    """The ingredients' words in lower case, each on a line of one text: a search over it is one search."""
    names = (f"{line.name} {line.note}".lower().replace("\n", " ") for c in recipe.components for line in c.ingredients)
    return ["\n".join(dict.fromkeys(names))]


def allergens(recipe: Recipe, words: Words | None = None) -> tuple[str, ...]:
    """The major allergens that ingredient names speak of, in the table's order and its words. Never a promise of
    absence."""
    words = words or shipped_words()
    names = _names(recipe)
    rows = _rows("allergens.csv")
    named = (row["allergen"] for row in rows if _hit(row, names, _also(words, f"has_{_key(row['allergen'])}")))
    return tuple(dict.fromkeys(named))


def _key(allergen: str) -> str:
    return allergen.replace(" ", "_")


def cautions(recipe: Recipe, words: Words | None = None) -> tuple[CautionView, ...]:
    """The cautions that a recipe's page and post carry."""
    words = words or shipped_words()
    names = _names(recipe)
    dish = [" ".join([str(recipe.title), *recipe.category, *recipe.keywords]).lower()]
    out: list[CautionView] = []
    for row in _rows("cautions.csv"):
        if _hit(row, dish if row["where"] == "dish" else names, _also(words, row["id"])):
            out.append(CautionView(words(f"caution.{row['id']}"), row["source"]))
    named = allergens(recipe, words)
    if named:
        some = ", ".join(words(f"allergen.{_key(name)}") for name in named)
        source = "US FALCPA (2004) and FASTER Act (2021), the nine major allergens"
        out.append(CautionView(words("caution.allergens", some=some), source))
    return tuple(out)
