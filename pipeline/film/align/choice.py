"""Which marks become chapters: as many as are wanted, none shorter than the platform takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pipeline.film.chapters import INTRO
from pipeline.film.mark import Chapter, Mark, shortened
from pipeline.film.titles import component_title, joint_title, told_apart
from pipeline.recipe.channel import ChapterRules
from pipeline.recipe.model import Recipe

_RULES = ChapterRules()
# What a chapter's beginning is worth besides its confidence: that another component begins, and that the chapters
# come out alike in length. Between marks of one component the surer stays.
_CHANGE, _EVEN = 1.2, 0.4
# More steps than this in one chapter of one component, and it is called by the component.
_MANY = 3


@dataclass(frozen=True, slots=True)
class _Start:
    """A possible beginning of a chapter: ms, the steps that begin there, their component (-1 for the opening), and how
    sure it is."""

    at: int
    steps: tuple[int, ...]
    component: int
    worth: float


def choose(
    marks: Sequence[Mark], recipe: Recipe, rules: ChapterRules = _RULES, count: int | None = None
) -> tuple[Chapter, ...]:
    """The chapters made of the marks, ascending, the first at 0:00; empty where no mark has a moment.

    Marks merge until every chapter lasts ``rules.shortest`` ms or longer and there are ``count`` of them (the opening
    one included), never fewer than ``rules.least`` for the count's sake. Where the marks are too few or too close for
    that, there are fewer: the platform then shows none, and :func:`pipeline.film.chapters.chapter_problems` says so.
    The first step's mark stays where an opening stands before it. Which of the others stay is the best choice of all:
    sure marks, beginnings of another component, chapters of even length.
    """
    starts = _starts(marks, recipe)
    if not starts:
        return ()
    length = recipe.video.length if recipe.video else None
    opening = starts[0].at >= max(rules.shortest, 1)
    first = _Start(0, (), -1, 0.0) if opening else replace(starts[0], at=0)
    rest = starts if opening else starts[1:]
    wanted = None if count is None else max(count, rules.least, 1)
    kept = _best([first, *rest], wanted, rules.shortest, length)
    chapters: list[Chapter] = []
    for n, start in enumerate(kept):
        until = kept[n + 1].at if n + 1 < len(kept) else None
        inside = [one for one in (first, *rest) if one.at >= start.at and (until is None or one.at < until)]
        steps = [step for one in inside for step in one.steps]
        if not start.steps:
            chapters.append(Chapter(0, shortened(INTRO, rules.title)))
        else:
            chapters.append(Chapter(start.at, _title(recipe, steps, rules.title), start.steps[0]))
    return tuple(told_apart(recipe, chapters, rules.title))


def _starts(marks: Sequence[Mark], recipe: Recipe) -> list[_Start]:
    timed = sorted((max(mark.at, 0), mark.step, mark.confidence) for mark in marks if mark.at is not None)
    starts: list[_Start] = []
    for at, step, confidence in timed:
        if starts and starts[-1].at == at:
            last = starts[-1]
            starts[-1] = replace(last, steps=(*last.steps, step), worth=max(last.worth, confidence))
        else:
            starts.append(_Start(at, (step,), recipe.steps[step].component, confidence))
    return starts


def _best(starts: Sequence[_Start], count: int | None, shortest: int, length: int | None) -> list[_Start]:
    """The starts that stay; the first always does. By dynamic programming over (last kept start, how many kept)."""
    end = max(length or 0, starts[-1].at + shortest)
    most = len(starts) if count is None else min(count, len(starts))
    even = end / most
    worth = {(0, 1): 0.0}
    came: dict[tuple[int, int], int] = {}
    for j in range(1, len(starts)):
        for kept in range(2, most + 1):
            options = [
                (worth[i, kept - 1] + _worth(starts[i], starts[j], even), i)
                for i in range(j)
                if (i, kept - 1) in worth
                and starts[j].at - starts[i].at >= shortest
                # An opening ends where the first step begins, or a surer mark right behind: no step is told in it.
                and (i or starts[0].steps or starts[j].at - starts[1].at < shortest)
            ]
            if options:
                worth[j, kept], came[j, kept] = max(options)
    ends = {
        (j, kept): value + _evenness(end - starts[j].at, even)
        for (j, kept), value in worth.items()
        if end - starts[j].at >= shortest or j == 0
    }
    if count is None:
        state = max(ends, key=lambda key: (ends[key], key[1]))
    else:
        # As near to the wanted number as the lengths allow.
        nearest = max(kept for _, kept in ends)
        state = max((key for key in ends if key[1] == nearest), key=lambda key: ends[key])
    found: list[_Start] = []
    j, kept = state
    while True:
        found.append(starts[j])
        if kept == 1:
            break
        j, kept = came[j, kept], kept - 1
    return found[::-1]


def _worth(before: _Start, start: _Start, even: float) -> float:
    """What a chapter's beginning is worth behind another."""
    change = _CHANGE if before.component != start.component else 0.0
    return start.worth + change + _evenness(start.at - before.at, even)


def _evenness(length: int, even: float) -> float:
    """At most 0: how far a chapter's length is from all alike."""
    return -_EVEN * min(abs(length - even) / even, 1.0)


def _title(recipe: Recipe, steps: Sequence[int], longest: int) -> str:
    components = {recipe.steps[step].component for step in steps}
    if len(steps) > _MANY and len(components) == 1:
        title = component_title(recipe, recipe.steps[steps[0]])
        if title:
            return shortened(title, longest)
    return joint_title(recipe, list(steps), longest)
