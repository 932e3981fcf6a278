"""Whether two statements that follow each other say the same thing twice: "450 grams of flour, that's 3 3/4
cups"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.words import qualifiers_at, says
from pipeline.measure.amount import Amount
from pipeline.measure.units import Unit

# Words that say "the same in other words". One of these makes a pair even of two cups and four tablespoons.
_SAME = (
    ("that's",), ("thats",), ("that", "is"), ("which", "is"), ("which", "are"), ("which", "comes", "to"),
    ("which", "weighs"), ("that", "comes", "to"), ("comes", "to"), ("come", "to"), ("which", "come", "to"), ("weigh",),
    ("in", "other", "words"), ("equals",), ("=",),
    ("weighs",), ("weighing",), ("it's",), ("i'm", "at"), ("call", "it"), ("so", "that's"), ("and", "that's"),
    ("or", "that's"), ("is",), ("are",), ("was",), ("were",), ("means",), ("which", "means"), ("makes",), ("so",),
    ("/",), ("or",),
    ("and", "that", "is"), ("so", "it's"), ("and", "it's"), ("should", "be"), ("should", "weigh"), ("gives", "you"),
    ("gives", "me"), ("or", "if", "you", "prefer"), ("or", "in", "cups"), ("in", "cups", "that's"), ("in", "cups"),
    ("in", "grams", "that's"), ("in", "grams"), ("in", "celsius"), ("in", "fahrenheit"), ("and", "in", "celsius"),
    ("and", "in", "fahrenheit"), ("if", "you", "weigh"), ("if", "you're", "weighing"),
    ("which", "will", "be"), ("that'll", "be"), ("that", "will", "be"), ("it", "is"),
    ("they're",), ("that", "is", "by", "us"), ("that's", "by", "us"), ("that", "is", "for", "us"),
    ("otherwise", "known", "as"),
)  # fmt: skip
# Between the two there may also stand words that say nothing about them.
_IDLE = word_set("""
    that's a an so yes like here or for those of you if you're in the us metric with scales scale people right
    now then exactly about well i think we say it's comes out to at just drained your my our is also all whole
    my american americans friends british english european europeans overseas abroad states imperial folks cooks viewers
    recipe total below under above over less altogether together batch thing electric conventional
    """)
_BREAKS = word_set("""
    and then plus not but instead until into onto with without add adds no more another use put from before
    after next mix stir pour take to by while than stirring adding
    """)
_ELSEWHERE = word_set("american americans europeans european overseas abroad states metric imperial")
# Behind one of these any short aside may have stood: "oil for the bread in all, that's 54 grams".
_SURE = (
    ("that's",), ("thats",), ("that", "is"), ("which", "is"), ("which", "are"), ("which", "comes", "to"),
    ("which", "will", "be"), ("that'll", "be"), ("which", "come", "to"), ("which", "came", "to"), ("which", "weigh"),
    ("which", "weighs"), ("which", "weighed"), ("which", "makes"), ("that", "comes", "to"), ("that", "makes"),
    ("which", "was"), ("which", "were"), ("which", "works", "out", "at"), ("that", "works", "out", "at"),
)  # fmt: skip
_SURE_BREAKS = word_set("then plus instead another next after add adds")
_LONGEST_ASIDE, _LONGEST_SURE, _LONGEST_FLAT = 6, 14, 4

#: How two statements follow each other. "says": in words that make them one. "beside": nothing between them.
#: "short": nothing but the end of a sentence. "aside": a few words that speak of nothing else.
Bond = Literal["says", "beside", "short", "aside"]


def family(unit: Unit) -> str:
    """Statements of one amount come from different families."""
    if unit.kind == "mass":
        return "ounces" if unit.name in ("ounce", "pound") else "grams"
    if unit.kind == "volume":
        return "millilitres" if unit.name.endswith("liter") else "cups"
    return unit.name or unit.kind


def new_family(amounts: Sequence[Amount], more: Amount) -> bool:
    """Whether ``more`` is told in a measure that the statements so far are not told in."""
    return family(more.unit) not in {family(a.unit) for a in amounts}


def unpunctuated(atoms: Sequence[Atom]) -> bool:
    """Whether these are machine captions, which have hardly any stop: people's have one in five to fifteen
    words."""
    return sum(1 for atom in atoms if atom.stop) * 40 < len(atoms)


def bond(atoms: Sequence[Atom], start: int, end: int, flat: bool) -> Bond | None:
    """How a statement that ends at ``start`` and one that begins at ``end`` belong together; None if they do
    not. ``flat``: the captions have no stops, so that an aside shows none."""
    if end - start > _LONGEST_SURE:
        return None
    if _ends_surely(atoms, start, end):
        return "says"
    stopped = start > 0 and atoms[start - 1].stop == "."
    if start == end:
        return "short" if stopped else "beside"
    strong = _only_joining(atoms, start, end)
    heavy = sum(1 for atom in atoms[max(start - 1, 0) : end] if atom.stop == ".")
    if strong is not None and end - start <= 9:
        if not heavy:
            return "says" if strong else "beside"
        if stopped and heavy == 1 and (text_at(atoms, start), end - start) == ("or", 1):
            return "says"
        if stopped and heavy == 1 and any(atom.text in _ELSEWHERE for atom in atoms[start:end]):
            return "says"  # "Two hundred grams of sugar. For my American friends, a cup."
    so = end - start > 1 and text_at(atoms, end - 1) == "so" and bool(atoms[end - 2].stop)
    if ((flat and end - start <= _LONGEST_FLAT) or so or atoms[end - 1].stop) and end - start <= _LONGEST_ASIDE:
        broken = any(atom.text in _BREAKS for atom in atoms[start:end])
        if not broken and (not heavy or (end - start <= 2 and not stopped) or (end - start <= 2 and heavy == 2)):
            return "aside"
    return None


def _ends_surely(atoms: Sequence[Atom], start: int, end: int) -> bool:
    """Whether the words right before ``end`` say "that is", and nothing before them speaks of something
    else."""
    for words in _SURE:
        for at in range(max(end - len(words) - 3, start), end - len(words) + 1):
            if says(atoms, at, *words) and qualifiers_at(atoms, at + len(words))[1] >= end:
                return not any(atom.text in _SURE_BREAKS for atom in atoms[start:at])
    return False


def _only_joining(atoms: Sequence[Atom], start: int, end: int) -> bool | None:
    """True where all words between join, and one of them surely; False where none does surely; None where one
    speaks of something else."""
    strong = False
    at = start
    while at < end:
        size = next((len(w) for w in _BY_LENGTH if at + len(w) <= end and says(atoms, at, *w)), 0)
        if size:
            strong, at = True, at + size
            continue
        _, after = qualifiers_at(atoms, at)
        if at < after <= end:
            at = after
        elif text_at(atoms, at) in _IDLE:
            at += 1
        else:
            return None
    return strong


_BY_LENGTH = sorted(_SAME, key=len, reverse=True)
