"""Halting speech made whole: "that's... um, two and a half. Cups." says what "that's two and a half cups" does."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.ahead import SCALES
from pipeline.film.spoken.atoms import PAUSE, Atom, Pieces, text_at, word_set
from pipeline.film.spoken.numbers import Value, fraction_at, value_at
from pipeline.film.spoken.times import UNITS as TIMES
from pipeline.film.spoken.words import unit_at
from pipeline.measure.record import replace

# Sounds that say nothing, and what is said while one looks for the rest, between stops.
_SOUNDS = word_set("um umm uh uhh uhm er erm ehm em ah hm hmm mm mmm")
_ASIDES = tuple(
    tuple(aside.split())
    for aside in (
        "let me see", "let's see", "let me look", "let me think", "what was it", "what is it", "what's it called",
        "how do you say", "how do you call it", "how do you call this", "what do you call it", "you know", "i think",
        "where is it", "where was it", "what do i say", "how much is it", "how much was it",
    )
)  # fmt: skip
# Words that nothing ends in.
_GOES_ON = word_set("a an the of and about roughly that's it's they're there's i'm you're we're i've you've we've plus")
_BEHIND_UNIT = word_set("of or plus")
_LONGEST_NUMBER = 7


def mended(atoms: Pieces) -> Pieces:
    """The pieces without hesitations, and without the stops that fell inside an amount."""
    kept = _without_sounds(atoms)
    for at, atom in enumerate(kept[:-1]):
        if atom.stop and (atom.text in _GOES_ON or _halts(kept, at)):
            kept[at] = replace(atom, stop="")
        elif atom.stop == PAUSE:
            begun = _number(kept, at + 1) and value_at(kept, at + 1)  # "twenty... twenty-one grams"
            kept[at] = replace(atom, stop="." if begun else ",")
    result = Pieces(kept)
    result.numbers = {}
    return result


def _without_sounds(atoms: Sequence[Atom]) -> list[Atom]:
    kept: list[Atom] = []
    at = 0
    while at < len(atoms):
        size = 1 if atoms[at].text in _SOUNDS else _aside(atoms, at, kept)
        if not size:
            kept.append(atoms[at])
            at += 1
            continue
        if kept and (atoms[at + size - 1].stop or kept[-1].stop) and kept[-1].stop != ".":
            kept[-1] = replace(kept[-1], stop=PAUSE)
        at += size
    return kept


def _aside(atoms: Sequence[Atom], at: int, kept: Sequence[Atom]) -> int:
    """How many pieces an aside between stops has that begins at ``at``; 0 for none."""
    if kept and not kept[-1].stop:
        return 0
    for words in _ASIDES:
        end = at + len(words)
        if end <= len(atoms) and atoms[end - 1].stop and tuple(atom.text for atom in atoms[at:end]) == words:
            return len(words)
    return 0


def _halts(atoms: Sequence[Atom], at: int) -> bool:
    """Whether the stop behind the piece at ``at`` stands between a number and what it is of."""
    follows, end = text_at(atoms, at + 1), at + 1
    if follows == "and" and (part := fraction_at(atoms, at + 2)) is not None and part[0] < 1:
        unit = _unit(atoms, part[1])  # "two... and a half cups", "an hour... and a half."
        return unit is not None if _number(atoms, end) else _unit_before(atoms, at) and _stopped(atoms, part[1])
    if follows == "of" and text_at(atoms, at + 2) in ("a", "an"):
        value = _number(atoms, end)
        return value is not None and value.number.high < 1 and _unit(atoms, at + 3) is not None
    unit = _unit(atoms, end)
    if unit is None or (value := _number(atoms, end)) is None:
        return False
    behind, plural = unit, text_at(atoms, unit - 1).endswith("s")
    if value.number.high > 1 and not plural and len(follows) > 2 and follows not in SCALES:
        return False  # "Pepper. Two. Cup of sugar."
    if _stopped(atoms, behind):
        return True
    measured = follows not in TIMES and follows not in ("degrees", "degree")
    return measured and plural and value.number.high > 1 and text_at(atoms, behind) in _BEHIND_UNIT


def _number(atoms: Sequence[Atom], end: int) -> Value | None:
    """The number that ends at ``end``."""
    for start in range(max(end - _LONGEST_NUMBER, 0), end):
        value = value_at(atoms, start)
        if value is not None and value.end == end and value.form != "article":
            return value
    return None


def _unit(atoms: Sequence[Atom], at: int) -> int | None:
    """Where a unit, a time or a scale that begins at ``at`` ends."""
    word = text_at(atoms, at)
    if word in TIMES or word in ("degrees", "degree") or (len(word) > 1 and word in SCALES):
        return at + 1
    found = unit_at(atoms, at, figures=True)
    return found[1] if found is not None and found[0].kind in ("mass", "volume", "length") else None


def _unit_before(atoms: Sequence[Atom], at: int) -> bool:
    return text_at(atoms, at) in TIMES or unit_at(atoms, at, figures=False) is not None


def _stopped(atoms: Sequence[Atom], end: int) -> bool:
    return end >= len(atoms) or bool(atoms[end - 1].stop)
