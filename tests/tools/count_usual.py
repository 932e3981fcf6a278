"""Counts in how many of the marked films each word is said: ``python tests/tools/count_usual.py`` writes
``pipeline/film/align/data/usual.txt``."""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "film"))

import marked

from pipeline.film.align.folds import bare, fold, stop_words

OUT = Path(__file__).parents[2] / "pipeline" / "film" / "align" / "data" / "usual.txt"
# A word of fewer films than this says what is cooked. Shares are rounded up to whole twentieths.
LEAST, STEP = 4, 5
HEAD = """\
# Folded words that cooks say whatever they cook: the share of films that say them, in hundredths, then the words.
# Counted in the marked films by tests/tools/count_usual.py; a word that does not stand here is rarer.
"""


def usual() -> str:
    """The whole file's text."""
    films = list(marked.films())
    said: Counter[str] = Counter()
    for film in films:
        words = {bare(word) for part in film.paragraphs for word in re.findall(r"\S+", part.text)}
        said.update({folded for word in words if word not in stop_words() and (folded := fold(word)).isalpha()})
    by_share: dict[int, list[str]] = {}
    for word, count in said.items():
        if count >= LEAST:
            share = min(-(-100 * count // len(films) // STEP) * STEP, 95)
            by_share.setdefault(share, []).append(word)
    lines = []
    for share in sorted(by_share, reverse=True):
        words = sorted(by_share[share])
        lines += [f"{share} {' '.join(words[i : i + 14])}\n" for i in range(0, len(words), 14)]
    return HEAD + "".join(lines)


if __name__ == "__main__":
    OUT.write_text(usual(), encoding="utf-8")
