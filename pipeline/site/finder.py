"""The data that the pages' own search works on: one script file, so that it loads from a disk as well as from a host.

Words and ingredients stand once, in a list; a recipe names them by their place in it. That keeps an archive of
thousands small, and a search has to look at each word once only, not at each recipe's text.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from pipeline.site.shelves import STAPLES, Found
from pipeline.site.structured import script_json

PATH = "assets/finder_data.js"
_WORD = re.compile(r"[^\W_]+")


def folded(text: str) -> str:
    """As the script folds what is typed: lower case, without accents or any other marks."""
    if text.isascii():
        return text.lower()
    marks = unicodedata.normalize("NFD", text)
    return "".join(c for c in marks if unicodedata.category(c)[0] != "M").lower()


class _Places:
    """Values in the order of their first coming, and each one's place."""

    def __init__(self) -> None:
        self.of: dict[str, int] = {}

    def __call__(self, value: str) -> int:
        return self.of.setdefault(value, len(self.of))


def finder_script(all_found: Sequence[Found]) -> str:
    """The script: ``finder = {words, kinds, cuisines, keywords, ingredients, staples, recipes}``, where a recipe is
    [slug, title, total, minutes, date, kinds, cuisines, keywords, ingredients, words, picture]; the five before the
    picture's file ("" for none) are places in the lists."""
    words, kinds, cuisines, keywords, ingredients = (_Places() for _ in range(5))
    recipes = []
    for found in all_found:
        card = found.card
        text = dict.fromkeys(_WORD.findall(folded(f"{card.find} {' '.join(found.ingredients)}")))
        recipes.append(
            [
                card.slug,
                card.title,
                card.total,
                card.minutes,
                card.date_words,
                [kinds(v) for v in card.category],
                [cuisines(v) for v in card.cuisine],
                [keywords(v) for v in card.keywords],
                [ingredients(v) for v in found.ingredients],
                [words(v) for v in text],
                card.shot,
            ]
        )
    data = {
        "words": list(words.of),
        "kinds": list(kinds.of),
        "cuisines": list(cuisines.of),
        "keywords": list(keywords.of),
        "ingredients": list(ingredients.of),
        "staples": [i for i, name in enumerate(ingredients.of) if name in STAPLES],
        "recipes": recipes,
    }
    return f"window.finder={script_json(data)};\n"
