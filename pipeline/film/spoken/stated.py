"""A statement of an amount, before it is joined with others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.film.spoken.atoms import Atom
from pipeline.measure.amount import Amount


class Said(NamedTuple):
    """One statement: where it begins and ends in the atoms, and its amounts (two for cans of a stated size).

    ``article``: its number was only "a". ``whole``: the total of which this is a part. ``guessed``:
    its unit was not said.
    """

    start: int
    end: int
    amounts: tuple[Amount, ...]
    article: bool = False
    whole: Amount | None = None
    guessed: bool = False


def said_words(atoms: Sequence[Atom], start: int, end: int) -> str:
    """The pieces as words again, for messages."""
    return "".join(("" if atom.glued or n == 0 else " ") + atom.text for n, atom in enumerate(atoms[start:end]))
