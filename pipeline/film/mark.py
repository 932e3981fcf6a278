"""A step's moment in a film, the chapter mark made of it, and what its title may hold wherever it is printed."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

# The film platform's list of marks is plain text: a stamp inside a title would begin a mark of its own, and
# "<" or ">" are refused (from memory). The ratio sign looks like a colon and is none.
_STAMP = re.compile(r"(?<=\d):(?=\d)")
_COMPARE = ((re.compile(r"\s*<=?\s*(?=\d)"), " under "), (re.compile(r"\s*>=?\s*(?=\d)"), " over "))
_ARROW = re.compile(r"\s*[-=]+>\s*")
# Joiners and selectors that emoji and some scripts need; every other unseen character goes.
_KEPT = frozenset("\u200c\u200d\ufe0e\ufe0f")
_LEADING = " \t-–—:;.,|·•*#>=+/\\"


class Chapter(NamedTuple):
    """A moment of the film in whole milliseconds and its title; ``step`` indexes Recipe.steps, None for an
    opening mark that belongs to no step."""

    at: int
    title: str
    step: int | None = None


class Other(NamedTuple):
    """Another moment at which a step may begin: ms, its chance (0 to 1), the words said there."""

    at: int
    chance: float
    words: str


class Mark(NamedTuple):
    """Where a film tells a step.

    ``step`` indexes Recipe.steps. ``at``: its moment in whole milliseconds; None where the film does not tell
    it, or too weakly to say. ``confidence`` (0 to 1): how often such a mark is within ten seconds of the truth.
    ``words``: what is said from there on; ``rests_on``: the words, as said, that speak for this step.
    ``others``: other moments, the likeliest first (the best of them where there is no mark). ``reason`` says
    in a sentence what the mark rests on, or why there is none.
    """

    step: int
    at: int | None
    confidence: float
    words: str
    rests_on: tuple[str, ...] = ()
    others: tuple[Other, ...] = ()
    reason: str = ""


def clean_title(text: str, longest: int | None = None) -> str:
    """A title for a mark: one line, no control characters, no ``<`` or ``>``, nothing that reads as a time
    stamp, no mark of punctuation in front. ``longest`` characters at most, cut between words with "…". May be
    ""."""
    if not (text.isascii() and text.isprintable()):
        text = unicodedata.normalize("NFC", text)
        text = "".join(" " if _unseen(c) else c for c in text)
    for pattern, word in _COMPARE:
        text = pattern.sub(word, text)
    text = _ARROW.sub(" – ", text).replace("<", " ").replace(">", " ")
    text = _STAMP.sub("∶", text)
    text = " ".join(text.split()).lstrip(_LEADING).rstrip(" \t-–—:;,|·•")
    return text if longest is None else shortened(text, longest)


def _unseen(character: str) -> bool:
    return unicodedata.category(character).startswith(("C", "Zl", "Zp")) and character not in _KEPT


def shortened(text: str, longest: int) -> str:
    """``text`` in at most ``longest`` characters (one at least), cut between words where there are any."""
    if len(text) <= longest:
        return text
    room = max(longest - 1, 0)
    cut = text.rfind(" ", 0, room + 1)
    head = text[: cut if cut > room // 2 else room].rstrip(" -–—:;,.|·•\u200c\u200d")
    return head + "…" if longest > 0 else ""
