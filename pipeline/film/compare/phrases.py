"""The phrases of ``data/phrases.txt``, by kind.

Most are plain words, and are looked for as such: compiling them all into one expression takes longer than a check of
one film looks for them. The others are compiled when they are first needed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

_PLAIN = re.compile(r"[\w' ]+")


@cache
def _kinds() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    text = (Path(__file__).parent / "data" / "phrases.txt").read_text(encoding="utf-8")
    for line in text.splitlines():
        if line and not line.startswith("#"):
            kind, _, phrase = line.partition(" ")
            found.setdefault(kind, []).append(phrase)
    return found


class Phrases:
    """The phrases of one kind, as whole words."""

    __slots__ = ("_at_end", "_pattern", "_plain")

    def __init__(self, phrases: list[str], kin: str, at_end: bool) -> None:
        self._at_end = at_end
        self._plain = [p for p in phrases if "KIN" not in p and _PLAIN.fullmatch(p)]
        others = [p.replace("KIN", kin) for p in phrases if p not in self._plain]
        end = "$" if at_end else r"\b"
        self._pattern = re.compile(rf"\b(?:{'|'.join(others)}){end}") if others else None

    def within(self, text: str) -> bool:
        """Whether one of them stands in the text (at its end, where that is asked)."""
        return any(True for _ in self._ends(text)) or bool(self._pattern and self._pattern.search(text))

    def last(self, text: str) -> int:
        """Where the last of them ends in the text; -1 where none stands there."""
        others = (m.end() for m in self._pattern.finditer(text)) if self._pattern else ()
        return max((*self._ends(text), *others), default=-1)

    def _ends(self, text: str) -> Iterator[int]:
        for phrase in self._plain:
            start = text.rfind(phrase)
            while start >= 0:
                end = start + len(phrase)
                whole = not (text[start - 1 : start].isalnum() or text[end : end + 1].isalnum())
                if whole and (end == len(text) or not self._at_end):
                    yield end
                    break
                start = text.rfind(phrase, 0, end - 1)


def phrases_of(kind: str) -> tuple[str, ...]:
    """The phrases of that kind as they stand in the file. Raises KeyError for an unknown kind."""
    return tuple(_kinds()[kind])


@cache
def phrases(kind: str, at_end: bool = False) -> Phrases:
    """The phrases of that kind; ``at_end`` only where the text ends with them. Raises KeyError for an unknown kind."""
    kinds = _kinds()
    return Phrases(kinds[kind], "|".join(kinds["kin"]), at_end)
