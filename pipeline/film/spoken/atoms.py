"""Captions' words cut into the pieces that the grammar reads: "350°F," is 350, °, f and a stop."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import NamedTuple

from pipeline.measure.numbers import GLYPH_RANGE, GLYPHS
from pipeline.measure.record import replace

_PIECE = re.compile(
    rf"\d+(?:[.,]\d+)*(?:[/⁄]\d+)?|[{GLYPH_RANGE}]|[^\W\d_]+(?:['’][^\W\d_]+)*|[°º˚℃℉%$€£×+=&/]|[-–—−]|[,;:.!?…()]"
)


def word_set(text: str) -> frozenset[str]:
    """A set of words, written as a line of them."""
    return frozenset(text.split())


#: The stop of a pause, until :mod:`pipeline.film.spoken.halting` has made one of the two others of it.
PAUSE = "…"
_LIGHT, _HEAVY = frozenset(",;:()"), frozenset(".!?…")
# A stop behind these is an abbreviation's, not a sentence's.
_SHORT = word_set("tbsp tsp oz lb lbs approx pt qt min mins hr hrs")
# Numbers that lost their hyphen, as some captions write them: "thirtytwo", and that is what "four's" says.
_ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_GROWN_TOGETHER = {
    **{f"{tens}{ones}": f"{tens} {ones}"
       for tens in ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"] for ones in _ONES},
    **{f"{number}'s": f"{number} is" for number in (*_ONES[1:], "ten", "overnight")},
}  # fmt: skip
_DASHES = frozenset("-–—−")


class Atom(NamedTuple):
    """A piece of a word, lower case. ``word`` indexes Transcript.words; ``stop`` is "," or "." where such a
    stop stands behind it, else ""; ``glued`` where nothing separates it from the piece before."""

    text: str
    word: int
    stop: str = ""
    glued: bool = False


class Pieces(tuple[Atom, ...]):
    """All pieces of a film. ``numbers``: what has been read at each place, because many rules ask for the same."""

    numbers: dict[int, object]


def text_at(atoms: Sequence[Atom], i: int) -> str:
    """The piece at ``i``, "" outside."""
    return atoms[i].text if 0 <= i < len(atoms) else ""


def atoms_of(words: Sequence[str]) -> Pieces:
    """The pieces of all words. Hyphens inside words go ("three-quarter" is two pieces); between figures they
    stay."""
    result: list[Atom] = []
    for index, word in enumerate(words):
        if word.endswith(("...", "…")) and index + 1 < len(words) and _goes_on(words[index + 1]):
            result += _pause(word, index)
            continue
        if word.isascii() and (one := _whole(word, index)) is not None:
            result.append(one)  # nearly always
            continue
        pieces = [_plain(m[0]) for m in _PIECE.finditer(_GROWN_TOGETHER.get(word, word))]
        for at, piece in enumerate(pieces):
            if piece in _LIGHT or piece in _HEAVY:
                _stop(result, piece)
            elif piece in _DASHES and at == 0 and len(pieces) > 1 and _is_figure(pieces[1]):
                # "-18 °C": a sign, unless the word before is a figure, too ("2 -3")
                dash = bool(result) and _is_figure(result[-1].text) and not result[-1].stop
                result.append(Atom("-" if dash else "minus", index))
            elif piece in _DASHES and not _between_figures(pieces, at, len(pieces) == 1):
                if at == len(pieces) - 1 and len(pieces) > 1:
                    _stop(result, ",")
            else:
                result.append(Atom(piece, index, "", at > 0))
    atoms = Pieces(result)
    atoms.numbers = {}
    return atoms


def _goes_on(word: str) -> bool:
    return word[:1].islower() or word == "I" or word.startswith(("I'", "I’"))


def _pause(word: str, index: int) -> list[Atom]:
    """A word behind which somebody pauses, and the sentence goes on."""
    pieces = list(atoms_of([word.rstrip(".…")]))
    return [
        replace(atom, word=index, stop=PAUSE if n + 1 == len(pieces) else atom.stop) for n, atom in enumerate(pieces)
    ]


def _whole(word: str, index: int) -> Atom | None:
    """The piece that a word of nothing but letters is, perhaps with an apostrophe inside and a stop behind."""
    if word.isalpha():
        return None if word in _GROWN_TOGETHER else Atom(word.lower(), index)
    text, mark = word.lower(), ""
    if text[-1] in _LIGHT or text[-1] in _HEAVY:
        text, mark = text[:-1], text[-1]
    if text in _GROWN_TOGETHER:
        return None
    letters = text.replace("'", "", 1)
    if not letters.isalpha() or text[0] == "'" or (text[-1] == "'" and text != "o'"):
        return None
    if text == "o'":
        text = "of"  # "pinch o' salt"
    if not mark or (mark == "." and text in _SHORT):
        return Atom(text, index)
    return Atom(text, index, "." if mark in _HEAVY else ",")


def _plain(piece: str) -> str:
    """Lower case, straight apostrophes, European figures."""
    if piece.isascii():
        return piece.lower()
    return "".join(str(unicodedata.decimal(c)) if c.isdecimal() else c for c in piece.lower()).replace("’", "'")


def _stop(result: list[Atom], mark: str) -> None:
    if not result:
        return
    last = result[-1]
    if mark == "." and last.text in _SHORT:
        return
    stop = "." if mark in _HEAVY or last.stop == "." else ","
    result[-1] = Atom(last.text, last.word, stop, last.glued)


def _between_figures(pieces: list[str], at: int, alone: bool) -> bool:
    """A dash that may mean "to": alone, or between figures."""
    if alone:
        return True
    before, after = pieces[:at], pieces[at + 1 :]
    return bool(before and after) and _is_figure(before[-1]) and _is_figure(after[0])


def _is_figure(piece: str) -> bool:
    return piece[0].isdecimal() or piece in GLYPHS
