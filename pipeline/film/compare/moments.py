"""Which steps the film may be in at a moment: from the page's own marks, from marks found, or from what was said."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple, Protocol

from pipeline.recipe.model import Recipe

# ms by which a step's talk may begin before its mark or go on behind the next one.
_SLACK = 12_000
# Words said of a step ahead of or behind it: how many anchors on either side still count.
_FEWEST = 2


class Moment(Protocol):
    """A step (from 0) and when it begins in the film, in whole ms."""

    @property
    def at(self) -> int | None: ...

    @property
    def step(self) -> int | None: ...


class Course(NamedTuple):
    """``marked`` are (ms, step) of known beginnings, the cook's own where ``typed``; ``anchors`` are (ms, step) of
    amounts heard in a step."""

    marked: tuple[tuple[int, int], ...] = ()
    typed: bool = False
    anchors: tuple[tuple[int, int], ...] = ()

    @property
    def sure(self) -> bool:
        return bool(self.marked)

    def steps(self, at: int) -> frozenset[int] | None:
        """The steps that the film may be in, None where nothing is known."""
        if self.marked:
            return frozenset(step for step in (self._marked(at + slack) for slack in (-_SLACK, 0, _SLACK)) if step >= 0)
        if len(self.anchors) < _FEWEST:
            return None
        i = bisect_right(self.anchors, (at, len(self.anchors) * 1000))
        before = [step for _, step in self.anchors[max(i - 1, 0) : i]]
        after = [step for _, step in self.anchors[i : i + 1]]
        found = set(before + after)
        if before and after and 0 < after[0] - before[0] <= 4:
            found |= set(range(before[0], after[0]))
        elif before and not after:
            found |= set(range(before[0], before[0] + 3))
        elif after and not before:
            found |= set(range(max(after[0] - 2, 0), after[0]))
        return frozenset(found)

    def passed_over(self, at: int) -> frozenset[int]:
        """The steps without a mark that the film may be in: those whose written neighbours' marks stand on either side
        of this moment."""
        when = dict(reversed([(step, ms) for ms, step in self.marked]))
        known = sorted(when)
        found: set[int] = set()
        for before, after in pairwise(known):
            low, high = sorted((when[before], when[after]))
            if after - before > 1 and low <= at <= high + _SLACK:
                found |= set(range(before + 1, after))
        return frozenset(found)

    def step(self, at: int) -> int | None:
        """The one step that the film is in by its marks, None without marks."""
        here = self._marked(at) if self.marked else -1
        return here if here >= 0 else None

    def beside(self, at: int) -> frozenset[int]:
        """The steps right before and right behind the one the film is in by its marks, as told and as written."""
        i = bisect_right(self.marked, (at, 1 << 30))
        told = self.marked[max(i - 2, 0) : max(i - 1, 0)] + self.marked[i : i + 1]
        here = [step for _, step in self.marked[max(i - 1, 0) : i]]
        return frozenset(step for _, step in told) | frozenset(s + by for s in here for by in (-1, 1))

    def _marked(self, at: int) -> int:
        i = bisect_right(self.marked, (at, 1 << 30))
        return self.marked[i - 1][1] if i else -1


def marked(recipe: Recipe, marks: Sequence[Moment] | None) -> Course:
    """The course by ``at`` where at least half of the steps have it, else by ``marks``, else empty."""
    typed = [(step.at, n) for n, step in enumerate(recipe.steps) if step.at is not None]
    if len(typed) * 2 >= len(recipe.steps) and len(typed) > 1:
        return Course(tuple(sorted(typed)), True)
    if marks:
        found = [(m.at, m.step) for m in marks if m.step is not None and m.at is not None]
        if len(found) > 1:
            return Course(tuple(sorted(found)))
    return Course()
