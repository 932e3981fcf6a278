"""An amount put right with a bare number: "six yolks, no, four", "two teaspoons, sorry, one"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, word_set
from pipeline.film.spoken.counts import Counted
from pipeline.film.spoken.ranges import number_at
from pipeline.film.spoken.smalls import goes_on
from pipeline.film.spoken.stated import Said, said_words
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of

_TAKES_BACK = word_set("no sorry wait oops rather make that i mean hang on it's it call actually")
_SURELY = word_set("no sorry wait oops rather make mean")
_LONGEST = 4


def corrected_at(atoms: Sequence[Atom], i: int, last: object, gone: int) -> Said | Counted | None:
    """The amount at ``i`` that puts ``last`` right, which ended ``gone`` pieces ago; in the unit of ``last``."""
    if not isinstance(last, Said | Counted) or not 0 < gone <= _LONGEST:
        return None
    between = [atom.text for atom in atoms[i - gone : i]]
    if not all(word in _TAKES_BACK for word in between) or not any(word in _SURELY for word in between):
        return None
    value = number_at(atoms, i)
    if value is None or value.form == "article" or value.vague:
        return None
    if goes_on(atoms, value.end):
        return None
    old = last.amounts[-1] if isinstance(last, Said) else last.amount
    amount = amount_of(value.number, old.unit, said_words(atoms, i, value.end))
    if isinstance(last, Said):
        return Said(i, value.end, (amount,), guessed=True)
    return Counted(i, value.end, amount, last.size, replace(last.thing, start=i, end=value.end))
