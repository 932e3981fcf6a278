"""What there is to say of a film's numbers beside the page's: one remark for one thing said (or never said)."""

from __future__ import annotations

from typing import Literal, NamedTuple

from pipeline.film.spoken.said import Spoken
from pipeline.measure.pair import Verdict
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.span import Span

#: ``differs``: said is not what is written. ``pair``: two measures said of one thing disagree. ``unwritten``: said of
#: an ingredient that the page does not have. ``twice``: said with two numbers and the page settles neither.
#: ``unsaid``: written and never said.
RemarkKind = Literal["differs", "pair", "unwritten", "twice", "unsaid"]

#: ``clear``: cannot be the same. ``loose``: barely the same. ``doubtful``: different, but what it was said of is not
#: certain. ``misheard``: the number that was caught sounds like the written one.
Weight = Literal["clear", "loose", "doubtful", "misheard"]


class Remark(NamedTuple):
    """``at`` is the second of the film in whole ms (None for what is never said), ``words`` the exact words there.

    ``name`` is what the number is of ("cayenne pepper", "the oven", "step 5"). ``said`` and ``written`` are both
    numbers as text; in a ``pair`` both are said, in ``twice`` ``written`` is the other number said. ``span`` is the
    place in the recipe that it speaks of, ``line`` and ``step`` what stands there (``step`` counts from 0).

    ``verdict`` is the comparison, what was said first; None where there is none. ``hint`` says more ("at 0:01:12 it was
    said as written"). ``edits`` make the page say what was said: (span, text) pairs, none where that cannot be told
    exactly. ``screen`` is a line of text that puts the film right, to be shown from ``at`` on; "" where none would.
    """

    kind: RemarkKind
    weight: Weight
    at: int | None
    words: str
    name: str
    said: str
    written: str
    span: Span
    spoken: Spoken | None = None
    line: IngredientLine | None = None
    step: int | None = None
    verdict: Verdict | None = None
    hint: str = ""
    edits: tuple[tuple[Span, str], ...] = ()
    screen: str = ""
