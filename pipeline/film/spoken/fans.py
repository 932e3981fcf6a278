"""Fan ovens in speech: "160 fan", "with the fan on", "if it's a fan oven, knock it down to one eighty"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.words import says

_FANS = (
    ("fan", "forced"), ("fan", "assisted"), ("fan", "oven"), ("fan", "bake"), ("fan",),
    ("convection",), ("with", "fan"), ("on", "fan"),
    ("with", "the", "fan"), ("full", "fan"), ("fan", "on"),
    ("in", "a", "fan", "oven"), ("for", "a", "fan", "oven"), ("for", "fan"),
    ("if", "you", "have", "a", "fan"), ("if", "it's", "a", "fan"), ("with", "a", "fan"),
)  # fmt: skip
# Between a heat and its fan, behind one of the words that lead to it.
_FANS_SAID = word_set("fan fans convection")
_TO_FAN = word_set(
    "if in with for on you you've have got a an the your oven's ovens oven is it's it that that's yours has "
    "are mine's use using run runs those one of i've i"
)
_FAN_FARTHEST = 9
_FANS_LONGEST_FIRST = sorted(_FANS, key=len, reverse=True)
_FAN_FIRST = frozenset(words[0] for words in _FANS)


def fan_at(atoms: Sequence[Atom], i: int) -> int | None:
    """Where the words end that tell of a fan at ``i``; None where none do."""
    if text_at(atoms, i) not in _FAN_FIRST:
        return None
    for words in _FANS_LONGEST_FIRST:
        if says(atoms, i, *words):
            return i + len(words)
    for at in range(i, min(i + _FAN_FARTHEST, len(atoms))):
        if atoms[at].text in _FANS_SAID and at > i:
            forced = text_at(atoms, at + 1) in ("forced", "assisted") and not atoms[at].stop
            return at + 1 + forced  # "if your oven's fan", "in one of those with a fan"
        if atoms[at].text not in _TO_FAN or atoms[at].stop:
            break
    return None


def fan_before(atoms: Sequence[Atom], i: int) -> bool:
    """ "If it's a fan oven, knock it down to one eighty"."""
    for n in range(i - 1, max(i - 10, -1), -1):
        if atoms[n].stop == ".":
            return False
        if atoms[n].text == "fan":
            return True
    return False
