"""The usual cautions, by what stands in the ingredient list. They remind; they do not judge a recipe.

What sets them off and their sources stand in ``data/cautions.csv`` and ``data/allergens.csv``, what they say in the
catalogue of words. A page that carries none is not thereby safe, and the pages say that local rules and licensed
practice come first.
"""

from __future__ import annotations

import csv
import re
from functools import cache, lru_cache
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


def _hit(row: dict[str, str], text: str, also: str) -> bool:
    """Whether a row's words stand in a text once the words of ``unless`` are struck out of it. ``also`` are further
    words, of another language than the row's."""
    if also and _pattern(also).search(text):
        return True
    wanted = _pattern(row["words"])
    if not wanted.search(text):
        return False
    return not row["unless"] or wanted.search(_pattern(row["unless"]).sub(" ", text)) is not None


@lru_cache(maxsize=16384)  # "sea salt" stands in every other recipe
def _set_off(text: str, name: str, also: tuple[str, ...]) -> frozenset[int]:
    """Which rows of a table the text sets off."""
    return frozenset(at for at, row in enumerate(_rows(name)) if _hit(row, text, also[at]))


def _lines(recipe: Recipe) -> list[str]:
    """The ingredients' words in lower case."""
    return [f"{line.name} {line.note}".lower() for c in recipe.components for line in c.ingredients]


def _key(allergen: str) -> str:
    return allergen.replace(" ", "_")


def allergens(recipe: Recipe, words: Words | None = None) -> tuple[str, ...]:
    """The major allergens that ingredient names speak of, in the table's order and its words. Never a promise of
    absence."""
    rows = _rows("allergens.csv")
    also = (words or shipped_words()).also_set_off(tuple(f"has_{_key(row['allergen'])}" for row in rows))
    found = set[int]().union(*(_set_off(line, "allergens.csv", also) for line in _lines(recipe)))
    return tuple(dict.fromkeys(row["allergen"] for at, row in enumerate(rows) if at in found))


def cautions(recipe: Recipe, words: Words | None = None) -> tuple[CautionView, ...]:
    """The cautions that a recipe's page and post carry."""
    words = words or shipped_words()
    rows = _rows("cautions.csv")
    also = words.also_set_off(tuple(row["id"] for row in rows))
    listed = set[int]().union(*(_set_off(line, "cautions.csv", also) for line in _lines(recipe)))
    named = _set_off(" ".join([str(recipe.title), *recipe.category, *recipe.keywords]).lower(), "cautions.csv", also)
    out = [
        CautionView(words(f"caution.{row['id']}"), row["source"])
        for at, row in enumerate(rows)
        if at in (named if row["where"] == "dish" else listed)
    ]
    contains = allergens(recipe, words)
    if contains:
        some = ", ".join(words(f"allergen.{_key(name)}") for name in contains)
        source = "US FALCPA (2004) and FASTER Act (2021), the nine major allergens"
        out.append(CautionView(words("caution.allergens", some=some), source))
    return tuple(out)
