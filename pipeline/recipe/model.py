"""What a recipe is: what was typed, validated, each value with its span. Derived values are functions, not copies."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.heat import Duration, Heat
from pipeline.recipe.span import Span, Text


class IngredientLine(NamedTuple):
    """One ingredient as the cook typed it.

    ``amounts``: the statements of the *total*, in the order written; two or more are alternatives ("650 g or 2 3/4
    cups") that must agree. A count ("2 large eggs", "1 can") is a statement, too. Empty for "salt to taste".
    ``size``: the word of size before a counted thing ("large"), or "".
    ``name``: the ingredient's words ("water"); ``note``: the rest ("room temperature", "melted").
    ``key``: the name as steps may call it, lower case.
    ``item_spans``: where each of ``amounts`` was typed, same order.
    """

    text: Text
    name: Text
    key: str
    amounts: tuple[Amount, ...]
    item_spans: tuple[Span, ...]
    size: str = ""
    note: str = ""
    optional: bool = False
    divided: bool = False
    to_taste: bool = False

    @property
    def span(self) -> Span:
        return self.text.span


class Component(NamedTuple):
    """A part of the dish ("dough", "sauce") with its own ingredients. ``key`` is what steps call it."""

    key: str
    title: str
    ingredients: tuple[IngredientLine, ...]
    span: Span


class Prose(NamedTuple):
    """Plain Markdown between two marks."""

    text: Text


class Use(NamedTuple):
    """``{water}``, ``{water: 1 cup}``, ``{water: rest}``: an ingredient used in a step.

    ``component`` and ``line`` index into Recipe.components and its ingredients; None where the name is not listed
    (a finding, not an exception). ``whole`` is what stands between the braces. ``share`` is the part of the line's
    total where it was said so ("half"); ``amounts`` are then worked out from the line's.
    """

    whole: Text
    name: Text
    component: int | None
    line: int | None
    amounts: tuple[Amount, ...] = ()
    rest: bool = False
    share: Fraction | None = None


class ComponentUse(NamedTuple):
    """``{dough}``: another component used whole in a step."""

    whole: Text
    component: int


class HeatMark(NamedTuple):
    """``{450 F or 230 C}``: one or two statements of a heat."""

    whole: Text
    heats: tuple[Heat, ...]


class TimeMark(NamedTuple):
    """``{30 min}``, ``{30 minutes or 1/2 hour}``: one or two statements of a time."""

    whole: Text
    times: tuple[Duration, ...]


Piece = Prose | Use | ComponentUse | HeatMark | TimeMark


class Photo(NamedTuple):
    """A picture beside the recipe; ``file`` is relative to the recipe's folder."""

    file: Text
    alt: str
    span: Span
    caption: str = ""


class Step(NamedTuple):
    """One step. ``component`` indexes Recipe.components; ``at`` is the film's moment in whole milliseconds.

    ``at_span`` is where ``at`` was typed, None where it was not; ``span`` covers the whole step.
    """

    text: Text
    pieces: tuple[Piece, ...]
    component: int
    span: Span
    title: str = ""
    at: int | None = None
    at_span: Span | None = None
    photo: Photo | None = None


class Yield(NamedTuple):
    """ "4 loaves", "serves 6": ``number`` and ``what`` ("loaves", "servings")."""

    text: Text
    low: Fraction
    high: Fraction
    what: str


class Video(NamedTuple):
    """The film. ``length`` in whole milliseconds; ``captions`` relative to the recipe's folder."""

    span: Span
    file: Text | None = None
    address: Text | None = None
    length: int | None = None
    captions: Text | None = None
    title: str = ""


class Substitution(NamedTuple):
    """``instead of``: the ingredient; ``text``: what may stand in, Markdown."""

    ingredient: str
    text: str
    span: Span


class Acceptance(NamedTuple):
    """A finding that the cook accepts: ``finding`` is the check's id, ``where`` words in the place it speaks of (or
    ""), ``reason`` her own."""

    finding: str
    where: str
    reason: str
    span: Span


TimeName = Literal["prep", "cook", "rest", "total"]


class Recipe(NamedTuple):
    """A recipe, whole. ``path`` is its recipe.yaml; ``folder`` where photos and captions stand; ``source`` the file's
    decoded text. ``spans`` says where each top-level field was typed. ``times_said`` holds every statement of a time
    ("30 minutes or 1/2 hour"), ``times`` the first of them. ``nutrition``: what was given, by field."""

    path: Path
    source: str
    title: Text
    slug: str
    yield_: Yield | None
    components: tuple[Component, ...]
    steps: tuple[Step, ...]
    summary: str = ""
    published: date | None = None
    draft: bool = False
    times: Mapping[TimeName, Duration] = MappingProxyType({})
    times_said: Mapping[TimeName, tuple[Duration, ...]] = MappingProxyType({})
    time_spans: Mapping[TimeName, Span] = MappingProxyType({})
    category: tuple[str, ...] = ()
    cuisine: tuple[str, ...] = ()
    keywords: tuple[str, ...] = ()
    equipment: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    substitutions: tuple[Substitution, ...] = ()
    video: Video | None = None
    photos: tuple[Photo, ...] = ()
    accepted: tuple[Acceptance, ...] = ()
    nutrition: Mapping[str, str] = MappingProxyType({})
    spans: Mapping[str, Span] = MappingProxyType({})

    @property
    def folder(self) -> Path:
        return self.path.parent
