"""A chapter mark, and what its title may hold wherever it is printed."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

# The film platform's list of marks is plain text: a stamp inside a title would begin a mark of its own, and
# "<" or ">" are refused (from memory). The ratio sign looks like a colon and is none.
_STAMP = re.compile(r"(?<=\d):(?=\d)")
_COMPARE = ((re.compile(r"\s*<=?\s*(?=\d)"), " under "), (re.compile(r"\s*>=?\s*(?=\d)"), " over "))
_ARROW = re.compile(r"\s*[-=]+>\s*")
# Joiners and selectors that emoji and some scripts need; every other unseen character goes.
_KEPT = frozenset("\u200c\u200d\ufe0e\ufe0f")
_LEADING = " \t-–—:;.,|·•*#>=+/\\"


@dataclass(frozen=True, slots=True)
class Chapter:
    """A moment of the film in whole milliseconds and its title; ``step`` indexes Recipe.steps, None for an
    opening mark that belongs to no step."""

    at: int
    title: str
    step: int | None = None


def clean_title(text: str, longest: int | None = None) -> str:
    """A title for a mark: one line, no control characters, no ``<`` or ``>``, nothing that reads as a time
    stamp, no mark of punctuation in front. ``longest`` characters at most, cut between words with "…". May be
    ""."""
    text = unicodedata.normalize("NFC", text)
    text = "".join(c if not unicodedata.category(c).startswith(("C", "Zl", "Zp")) or c in _KEPT else " " for c in text)
    for pattern, word in _COMPARE:
        text = pattern.sub(word, text)
    text = _ARROW.sub(" – ", text).replace("<", " ").replace(">", " ")
    text = _STAMP.sub("∶", text)
    text = " ".join(text.split()).lstrip(_LEADING).rstrip(" \t-–—:;,|·•")
    return text if longest is None else shortened(text, longest)


def shortened(text: str, longest: int) -> str:
    """``text`` in at most ``longest`` characters (one at least), cut between words where there are any."""
    if len(text) <= longest:
        return text
    room = max(longest - 1, 0)
    cut = text.rfind(" ", 0, room + 1)
    head = text[: cut if cut > room // 2 else room].rstrip(" -–—:;,.|·•\u200c\u200d")
    return head + "…" if longest > 0 else ""
