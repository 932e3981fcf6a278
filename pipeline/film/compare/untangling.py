"""What was heard as one amount and is of two ingredients."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pipeline.film.compare.names import Listed
from pipeline.film.compare.speech import Speech
from pipeline.film.compare.stating import beside
from pipeline.film.spoken.said import Spoken
from pipeline.measure.ingredients import Row
from pipeline.measure.phrase import tokens
from pipeline.measure.record import replace
from pipeline.measure.units import Standard

# Words on either side of an amount in which the name of what it is of may stand.
_NEAR = 4
_SAYS = frozenset(("that's", "thats", "or", "which", "equals", "so"))


def untangled(said: Spoken, lines: Sequence[Listed], speech: Speech, standard: Standard) -> Iterator[Spoken]:
    """One thing said; two where another listed ingredient is named between its amounts ("a bay leaf, and the rest of
    the salt, that's one teaspoon"), or where captions without stops ran two amounts together that cannot be one."""
    if said.kind != "amount" or len(said.amounts) < 2:
        yield said
        return
    places = _places(said)
    cut = _named_between(said, lines, places)
    if cut is not None:
        n, name = cut
        yield _first(said, n, places, said.ingredient)
        yield _rest(said, n, places, speech, name)
        return
    n = _ill_matched(said, lines, standard) if speech.flat and _may_be_of_two(said, lines, speech) else 0
    if n and _SAYS & set(_words(said)[places[n - 1] : places[n]]):
        n = 0  # "650 grams, that's one and three quarter cups" is one thing, ill said
    if not n:
        yield said
    elif _named_last(said):
        yield _first(said, n, places, "")
        yield _rest(said, n, places, speech, said.ingredient, keep=True)
    else:
        yield _first(said, n, places, said.ingredient)
        yield _rest(said, n, places, speech, "")


def _words(said: Spoken) -> list[str]:
    return [w.strip(".,;:!?\"'()").lower() for w in said.words.split()]


def _places(said: Spoken) -> list[int]:
    """Where in its words each amount begins; behind the last word for one that is not found."""
    words = _words(said)
    at = 0
    places: list[int] = []
    for amount in said.amounts:
        first = (amount.text.split() or [""])[0].split("-")[0]
        while at < len(words) and words[at].split("-")[0] != first:
            at += 1
        places.append(at)
        at += 1
    return places


def _named_between(said: Spoken, lines: Sequence[Listed], places: Sequence[int]) -> tuple[int, str] | None:
    """The first amount behind the name of another listed ingredient, and that name."""
    words = _words(said)
    own = frozenset(tokens(said.ingredient))
    heads = {one.words[-1]: one for one in lines if one.words}
    for n in range(1, len(places)):
        if places[n] >= len(words):
            return None
        for word in words[places[n - 1] + 1 : places[n]]:
            head = tokens(word)
            if head and head[-1] in heads and head[-1] not in own:
                return n, str(heads[head[-1]].line.name).lower()
    return None


def _may_be_of_two(said: Spoken, lines: Sequence[Listed], speech: Speech) -> bool:
    """Whether something else is named right before or behind it: else the two are of one thing, ill said."""
    own = frozenset(tokens(said.ingredient))
    head = said.ingredient.split()[:1]
    if head and head[0] in _words(said)[1:] and "of" not in _words(said) and not _named_last(said):
        return True  # "two hundred and fifty grams whole wheat one cup"
    near = tokens(f"{speech.text(said.first - _NEAR, said.first)} {speech.text(said.last, said.last + _NEAR)}")
    near += tokens(said.words)
    return any(one.words and one.words[-1] in near and not own & frozenset(one.words) for one in lines)


def _ill_matched(said: Spoken, lines: Sequence[Listed], standard: Standard) -> int:
    """Where to cut so that no two statements on one side contradict each other; 0 where none do."""
    row: Row | None = said.match.row if said.match else None
    head = tokens(said.ingredient)[-1:]
    row = next((one.row for one in lines if one.words[-1:] == head and one.row), row)
    for n in range(1, len(said.amounts)):
        if any(beside(said.amounts[n], [a], row, said.size, standard).rank == 3 for a in said.amounts[:n]):
            return n
    return 0


def _named_last(said: Spoken) -> bool:
    """Whether the name stands behind the last amount."""
    head = tokens(said.ingredient)[-1:]
    return bool(head) and tokens(_words(said)[-1])[-1:] == head


def _first(said: Spoken, n: int, places: Sequence[int], name: str) -> Spoken:
    last = said.first + places[n]
    words = " ".join(said.words.split()[: places[n]])
    match = said.match if name else None
    return replace(said, amounts=said.amounts[:n], words=words, last=last, ingredient=name, match=match)


def _rest(said: Spoken, n: int, places: Sequence[int], speech: Speech, name: str, keep: bool = False) -> Spoken:
    first = min(said.first + places[n], said.last - 1)
    return replace(
        said,
        amounts=said.amounts[n:],
        words=" ".join(said.words.split()[places[n] :]) or said.words,
        first=first,
        start=speech.starts[first],
        ingredient=name,
        match=said.match if keep else None,
        size=said.size if keep else "",
        whole=None,
    )
