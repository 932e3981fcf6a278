"""What a check says, and what a check is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from pipeline.film.transcript import Transcript
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.span import Span

Severity = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Edit:
    """An exact edit of the source: put ``text`` in place of what stands at ``span``."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """One way to put it right: what to do in words, and the edits that do it (none where a person must decide)."""

    title: str
    edits: tuple[Edit, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found. ``message`` is the headline and stands alone; ``why`` the ground; ``fixes`` what to do.

    ``second`` is the other half of a pair, marked too; ``at`` the film's moment in ms where it speaks of the film.
    """

    check: str
    severity: Severity
    span: Span
    message: str
    why: str = ""
    fixes: tuple[Fix, ...] = ()
    second: Span | None = None
    at: int | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """A check: one small file in ``proof/checks/`` holds one of these, named CHECK.

    ``good`` and ``bad`` are whole recipe sources; the suite runs them and the docs page shows them.
    """

    id: str
    question: str
    reason: str
    good: str
    bad: str
    run: Callable[[Recipe, Transcript | None, Channel], Iterable[Finding]]
