"""A caption's text lines as spoken words: tags, stage directions and marks of speakers taken away."""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.film.clock import STAMP, read_stamp


class Token(NamedTuple):
    """A word, and the moment the file itself gives for it (WebVTT's inline times), in ms."""

    text: str
    at: int | None = None


# WebVTT tags and times, SubRip's HTML-like tags, and the override blocks of styled subtitles ({\an8}).
_TAG = re.compile(rf"<({STAMP})>|</?[A-Za-z][^<>\n]*>|\{{\\[^}}]*\}}|</>")
_VOICE = re.compile(r"<v(?:\.[^\s>]*)?\s+[^>]*>", re.IGNORECASE)
# Directions: what is in square brackets is never spoken, unless it has a number ("[450 g]" may be a
# correction).
_BRACKET = re.compile(r"\[[^\]\d]*\]")
# A round bracket is a direction only when it is a whole line ("(laughs)"); else it may be an aside that is
# spoken.
_WHOLE = re.compile(r"\s*[-–—>]*\s*(?:\([^()\d]*\)|\*[^*\d]+\*)\s*\Z")
_MUSIC = re.compile(r"[♩♪♫♬]+|(?<!\S)#(?!\S)")
_SPEAKER = re.compile(r"\s*(?:>>+\s*|[-–—]+(?:\s+|(?=[^\W\d])))?(?:([A-Z][A-Z .'’0-9]{1,24}):(?=\s|$)\s*)?")
_MARKS = re.compile(r"(?:&gt;|>){2,}")
_LETTER = re.compile(r"\w")
# Invisible marks of direction and joining that editors leave in text.
_UNSEEN = re.compile("[\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff\x00-\x08\x0b-\x1f\x7f]")
_BETWEEN = frozenset("-–—/+&=")


def tokens(line: str) -> list[Token]:
    """The words of one text line, in order, with the moments that stand inside it."""
    line = _MARKS.sub(" ", line)
    if "<" in line or "{" in line:
        found: list[Token] = []
        moment: int | None = None
        glued = False  # the fragment before ended inside a word
        last = 0
        line = _VOICE.sub("", line)
        for m in _TAG.finditer(line):
            glued, moment = _take(found, line[last : m.start()], glued, moment)
            if m[1] is not None:
                moment = read_stamp(m[1])
                glued = False
            last = m.end()
        _take(found, line[last:], glued, moment)
    else:
        found = []
        _take(found, line, False, None)
    return _spoken(found)


def _take(found: list[Token], text: str, glued: bool, moment: int | None) -> tuple[bool, int | None]:
    """Add a fragment's words to ``found``. The first word takes ``moment``; a fragment that begins inside a
    word ("fla<i>vou</i>r") goes on with it."""
    if "&" in text:
        from html import unescape  # its table of names is large

        text = unescape(text)
    text = _UNSEEN.sub("", text).replace("\xa0", " ")
    words = text.split()
    if not words:
        return (glued and not text), moment
    if glued and found and not text[0].isspace():
        found[-1] = Token(found[-1].text + words.pop(0), found[-1].at)
    for word in words:
        found.append(Token(word, moment))
        moment = None
    return not text[-1].isspace(), moment


def _spoken(found: list[Token]) -> list[Token]:
    """``found`` without directions, music signs, speakers' names and dashes at the beginning."""
    line = " ".join(token.text for token in found)
    if _WHOLE.match(line):
        return []
    keep = bytearray(b"\1" * len(line))
    for pattern in (_BRACKET, _MUSIC):
        for m in pattern.finditer(line):
            keep[m.start() : m.end()] = bytes(m.end() - m.start())
    speaker = _SPEAKER.match(line)
    if speaker is not None:
        keep[: speaker.end()] = bytes(speaker.end())
    result: list[Token] = []
    at = 0
    for token in found:
        rest = "".join(c for c, k in zip(token.text, keep[at : at + len(token.text)], strict=True) if k)
        at += len(token.text) + 1
        # "two - three cups": a dash alone is a range.
        if _LETTER.search(rest) or any(c in "½¼¾⅓⅔⅛⅜⅝⅞°%" for c in rest) or (rest in _BETWEEN and result):
            result.append(Token(rest, token.at))
        elif rest and result and not rest[0].isspace():
            result[-1] = Token(result[-1].text + rest, result[-1].at)
    while result and result[-1].text in _BETWEEN:
        result.pop()
    return result
