"""Numbers below a hundred in words, and the parts that fractions are told in."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at

ONES = {
    w: n
    for n, w in enumerate(["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"], 1)
}  # fmt: skip
TEENS = {
    w: n
    for n, w in enumerate(
        ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"],
        10,
    )
}
TENS = {
    w: 10 * n
    for n, w in enumerate(["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], 2)
}  # fmt: skip
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4, "fifth": 5,
    "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16,
}  # fmt: skip


# Of these there is one, or they are plural.
_SINGULAR = frozenset(
    [
        "cup",
        "can",
        "tin",
        "tablespoon",
        "teaspoon",
        "pound",
        "packet",
        "stick",
        "pint",
        "quart",
        "jar",
        "box",
        "bag",
        "clove",
    ]
)


def goes_on(atoms: Sequence[Atom], i: int) -> bool:
    """Whether the speech goes on behind the piece before ``i`` without a stop."""
    return 0 < i < len(atoms) and atoms[i - 1].stop == ""


def _too_many(tens: int, atoms: Sequence[Atom], i: int) -> bool:
    """Whether hundreds follow that nobody counts so: "twenty five hundred" there is, no "ninety two hundred"."""
    return tens > 20 and text_at(atoms, i) == "hundred"


def below_hundred(atoms: Sequence[Atom], i: int) -> tuple[int, int] | None:
    word = text_at(atoms, i)
    if word in TENS:
        if goes_on(atoms, i + 1) and (one := ONES.get(text_at(atoms, i + 1))):
            # "twenty one third" is no twenty-one
            if text_at(atoms, i + 2) in PARTS and goes_on(atoms, i + 2):
                return TENS[word], i + 1
            if one == 1 and text_at(atoms, i + 2) in _SINGULAR and goes_on(atoms, i + 2):
                return TENS[word], i + 1  # "the oven at four fifty one can of chickpeas"
            # "four fifty, two thirty" and "two ninety, two hundred" without the comma
            if goes_on(atoms, i + 2) and (text_at(atoms, i + 2) in TENS or _too_many(TENS[word], atoms, i + 2)):
                return TENS[word], i + 1
            return TENS[word] + one, i + 2
        return TENS[word], i + 1
    small = TEENS.get(word) or ONES.get(word)
    return (small, i + 1) if small else None


def small_at(atoms: Sequence[Atom], i: int) -> list[tuple[int, int]]:
    """The numbers below a hundred in words that may begin at ``i``, the longest first: "twenty five" is 25, or 20 and
    something else."""
    word = text_at(atoms, i)
    if word not in TENS:
        small = TEENS.get(word) or ONES.get(word)
        return [(small, i + 1)] if small else []
    one = ONES.get(text_at(atoms, i + 1)) if goes_on(atoms, i + 1) else None
    return [*([(TENS[word] + one, i + 2)] if one else []), (TENS[word], i + 1)]
