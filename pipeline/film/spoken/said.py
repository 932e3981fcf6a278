"""What was heard: an amount, a heat, a time or a size, in every way in which it was said."""

from __future__ import annotations

from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.heat import Duration, Heat
from pipeline.measure.ingredients import Match

Kind = Literal["amount", "heat", "time", "size"]


class Spoken(NamedTuple):
    """Something measured that was said once, in one way or in several ("450 grams, or two cups").

    ``amounts``, ``heats`` or ``times``: the statements in the order said, by ``kind``; two or more are
    alternatives that must agree. A ``size`` (pan, thickness, vessel) has its lengths or its volume in
    ``amounts``: "13 by 9 inches" are two, and no alternatives. ``whole``: the total where a part of it was
    said ("300 of the 450 grams").

    ``ingredient``: the words it was said of, lower case, or ""; ``match``: what the table takes them for.
    ``size``: the word of size before a counted thing ("large"). ``guessed``: a heat's scale, an amount's
    unit or a time's was not said.

    ``words`` are the exact words, ``first`` and ``last`` the Transcript.words they are (``last`` is behind
    them), ``start`` and ``end`` their times in whole ms.
    """

    kind: Kind
    words: str
    first: int
    last: int
    start: int
    end: int
    amounts: tuple[Amount, ...] = ()
    heats: tuple[Heat, ...] = ()
    times: tuple[Duration, ...] = ()
    whole: Amount | None = None
    ingredient: str = ""
    match: Match | None = None
    size: str = ""
    guessed: bool = False
