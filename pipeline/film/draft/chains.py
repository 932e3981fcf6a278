"""Captions without stops, "garlic two cloves cumin one tablespoon oregano half a teaspoon": whose amount is whose."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.draft.mentions import Mention
from pipeline.film.spoken.said import Spoken
from pipeline.measure.record import replace

# A name stands so near an amount, in words, where they belong together.
_NEAR = 1
# So many times at least a cook says the food first where that is how she speaks.
_SURE = 5


def names_first(said: Sequence[Spoken], plain: Sequence[str], named: Sequence[Mention]) -> list[Spoken]:
    """The statements, each of the food named before it where a chain of them begins with a food and ends with an
    amount; in any other chain they are of what is named behind them, as they were heard."""
    result = list(said)
    n = 0
    while n < len(result):
        last = n
        while last + 1 < len(result) and _joined(result[last], result[last + 1], plain):
            last += 1
        first = _before(result, n, plain, named)
        if last > n and first is not None and _own(result[last], plain) is None:
            foods = [first, *(_own_mention(one, plain, named) for one in result[n:last])]
            if all(food is not None for food in foods):
                for i, food in enumerate(foods):
                    result[n + i] = _of(result[n + i], food, plain)
        n = last + 1
    return _all_first(result, plain, named)


def _all_first(said: list[Spoken], plain: Sequence[str], named: Sequence[Mention]) -> list[Spoken]:
    """Where the cook nearly always says the food first, each statement is of the food right before it, if there is
    one, and not of what is named behind it."""
    ahead: list[Mention | None] = []
    first = behind = 0
    for one in said:
        food = next((m for m in named if 0 <= one.first - m.last <= _NEAR and plain[m.first - 1] != "of"), None)
        at = _own(one, plain)
        bound = at is not None and plain[at - 1] == "of"
        ahead.append(None if bound else food)
        first += food is not None and at is None
        behind += bound or (at is not None and food is None)
    if first < _SURE or first <= behind:
        return said
    return [
        _of(one, food, plain) if food is not None and _own(one, plain) is not None else one
        for one, food in zip(said, ahead, strict=True)
    ]


def _own(one: Spoken, plain: Sequence[str]) -> int | None:
    """Where a statement's name begins among its own words, None where it stands elsewhere."""
    words = one.ingredient.split()
    if not words:
        return None
    return next((i for i in range(one.first, one.last) if list(plain[i : i + len(words)]) == words), None)


def _joined(one: Spoken, other: Spoken, plain: Sequence[str]) -> bool:
    """Whether ``one`` took the food that stands right between it and ``other``, with no "of" to bind it."""
    at = _own(one, plain)
    if at is None or plain[at - 1] == "of":
        return False
    return 0 <= other.first - (at + len(one.ingredient.split())) <= _NEAR


def _before(said: Sequence[Spoken], n: int, plain: Sequence[str], named: Sequence[Mention]) -> Mention | None:
    """The food right before statement ``n`` that no statement has."""
    one = said[n]
    food = next((m for m in named if 0 <= one.first - m.last <= _NEAR), None)
    if food is None or (n and food.first < said[n - 1].last):
        return None
    return None if plain[food.first - 1] == "of" else food


def _own_mention(one: Spoken, plain: Sequence[str], named: Sequence[Mention]) -> Mention | None:
    at = _own(one, plain)
    return next((m for m in named if at is not None and m.first <= at < m.last), None)


def _of(one: Spoken, food: Mention | None, plain: Sequence[str]) -> Spoken:
    assert food is not None
    at = _own(one, plain)
    name = " ".join(plain[food.first : food.last])
    return replace(one, ingredient=name, match=food.match, last=at if at is not None else one.last)
