"""The usual cautions, by what stands in the ingredient list. They remind; they do not judge a recipe.

Rows and their sources stand in ``data/cautions.csv`` and ``data/allergens.csv``. A page that carries none is not
thereby safe, and the pages say that local rules and licensed practice come first.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path

from pipeline.recipe.model import Recipe
from pipeline.site.view import CautionView


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    text = (Path(__file__).parent / "data" / name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def _pattern(words: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{'|'.join(re.escape(w) for w in words.split(';'))})(?:e?s)?(?![\w-])")


def _hit(row: dict[str, str], names: list[str]) -> bool:
    """Whether a row's words stand in a name once the words of ``unless`` are struck out of it."""
    wanted = _pattern(row["words"])
    found = [name for name in names if wanted.search(name)]
    if found and row["unless"]:
        struck = _pattern(row["unless"])
        return any(wanted.search(struck.sub(" ", name)) for name in found)
    return bool(found)


def _names(recipe: Recipe) -> list[str]:
    """The ingredients' words in lower case, each on a line of one text: a search over it is one search."""
    names = (f"{line.name} {line.note}".lower().replace("\n", " ") for c in recipe.components for line in c.ingredients)
    return ["\n".join(dict.fromkeys(names))]


def allergens(recipe: Recipe) -> tuple[str, ...]:
    """The major allergens that ingredient names speak of, in the table's order. Never a promise of absence."""
    names = _names(recipe)
    return tuple(dict.fromkeys(row["allergen"] for row in _rows("allergens.csv") if _hit(row, names)))


def cautions(recipe: Recipe) -> tuple[CautionView, ...]:
    """The cautions that a recipe's page and post carry."""
    names = _names(recipe)
    dish = [" ".join([str(recipe.title), *recipe.category, *recipe.keywords]).lower()]
    out: list[CautionView] = []
    for row in _rows("cautions.csv"):
        if _hit(row, dish if row["where"] == "dish" else names):
            out.append(CautionView(row["text"], row["source"]))
    named = allergens(recipe)
    if named:
        out.append(
            CautionView(
                f"Allergens named in the list: {', '.join(named)}. There may be others; the labels of what you "
                "buy have the last word.",
                "US FALCPA (2004) and FASTER Act (2021), the nine major allergens",
            )
        )
    return tuple(out)
