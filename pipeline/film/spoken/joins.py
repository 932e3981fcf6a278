"""Whether two statements that follow each other say the same thing twice: "450 grams of flour, that's 3 3/4 cups"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom
from pipeline.film.spoken.words import qualifiers_at, says, text_at
from pipeline.measure.amount import Amount
from pipeline.measure.units import Unit

# Words that say "the same in other words". One of these makes a pair even of two cups and four tablespoons.
_SAME = (
    ("that's",), ("thats",), ("that", "is"), ("which", "is"), ("which", "are"), ("which", "comes", "to"),
    ("which", "weighs"), ("that", "comes", "to"), ("comes", "to"), ("in", "other", "words"), ("equals",), ("=",),
    ("weighs",), ("weighing",), ("it's",), ("i'm", "at"), ("call", "it"), ("so", "that's"), ("and", "that's"),
    ("or", "that's"), ("is",), ("are",), ("means",), ("which", "means"), ("makes",), ("so",), ("/",), ("or",),
    ("and", "that", "is"), ("so", "it's"), ("and", "it's"), ("should", "be"), ("should", "weigh"), ("gives", "you"),
    ("gives", "me"), ("or", "if", "you", "prefer"), ("or", "in", "cups"), ("in", "cups", "that's"), ("in", "cups"),
    ("in", "grams", "that's"), ("in", "grams"), ("if", "you", "weigh"), ("if", "you're", "weighing"),
)  # fmt: skip
# Between the two there may also stand words that say nothing about them.
_IDLE = frozenset(
    "that's a an so yes like here or for those of you if you're in the us metric with scales scale people right now then "
    "exactly about well i think we say it's comes out to at just drained your my our is".split()
)
_BREAKS = frozenset(
    "and then plus not but instead until into onto with without add adds no more another use put from before after next "
    "mix stir pour take to by while than".split()
)


def family(unit: Unit) -> str:
    """Statements of one amount come from different families."""
    if unit.kind == "mass":
        return "ounces" if unit.name in ("ounce", "pound") else "grams"
    if unit.kind == "volume":
        return "millilitres" if unit.name.endswith("liter") else "cups"
    return unit.name or unit.kind


# Behind one of these any short aside may have stood: "oil for the bread in all, that's 54 grams".
_SURE = (("that's",), ("thats",), ("that", "is"), ("which", "is"), ("which", "are"), ("which", "comes", "to"))


def _ends_surely(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether the words right before ``end`` say "that is", and nothing before them speaks of something else."""
    for words in _SURE:
        for at in range(max(end - len(words) - 3, start), end - len(words) + 1):
            if says(atoms, at, *words) and qualifiers_at(atoms, at + len(words))[1] >= end:
                aside = range(start, at)
                return not any(atoms[n].text in _BREAKS or atoms[n].stop == "." for n in aside)
    return False


def is_same(atoms: Sequence[Atom], start: int, end: int) -> bool | None:
    """What stands between two statements (``start`` to ``end``): True where it says that they are the same, False
    where it only does not speak against it, None where it does."""
    stop = atoms[start - 1].stop if start else ""
    strong = False
    at = start
    while at < end:
        for words in sorted(_SAME, key=len, reverse=True):
            if at + len(words) <= end and says(atoms, at, *words):
                strong, at = True, at + len(words)
                break
        else:
            got, after = qualifiers_at(atoms, at)
            if at < after <= end:
                at = after
            elif text_at(atoms, at) in _IDLE:
                at += 1
            else:
                strong = _ends_surely(atoms, start, end) and end - start <= 9 and stop != "."
                return True if strong else None
    if end - start > 9:
        return None
    if any(atom.stop == "." for atom in atoms[max(start - 1, 0) : end]):
        if stop != "." or not strong or text_at(atoms, start) in ("or", "so", "it's", "is", "are"):
            return None
        if any(atom.stop == "." for atom in atoms[start:end]):
            return None
    return strong


def new_family(amounts: Sequence[Amount], more: Amount) -> bool:
    """Whether ``more`` is told in a measure that the statements so far are not told in."""
    return family(more.unit) not in {family(a.unit) for a in amounts}


def breaks(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether a word between two statements says that they are two."""
    return any(atom.text in _BREAKS for atom in atoms[start:end])
