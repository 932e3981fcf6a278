"""A film laid beside its recipe: what was said and for what, what is written, and where the film is when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log
from typing import NamedTuple

from pipeline.film.compare.moments import Course, Moment, marked
from pipeline.film.compare.names import Candidate, candidates, listed
from pipeline.film.compare.scope import Scope, scopes
from pipeline.film.compare.speech import Speech
from pipeline.film.compare.stating import Judged, all_beside, beside
from pipeline.film.compare.targets import Target, Written, written
from pipeline.film.compare.untangling import untangled
from pipeline.film.spoken.heard import heard
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.film.transcript import Transcript
from pipeline.measure.phrase import tokens
from pipeline.measure.record import replace
from pipeline.measure.units import Standard
from pipeline.recipe.model import Recipe


class Best(NamedTuple):
    """A candidate line, what of it fits best, and how well."""

    candidate: Candidate
    written: Written
    target: Target | None
    judged: Judged | None

    @property
    def gap(self) -> float:
        """How far apart what is said and what is written are, in powers of e; 0 where it cannot be told."""
        return abs(log(max(1 + self.judged.off, 1e-6))) if self.judged else 0.0

    @property
    def rank(self) -> int:
        return self.judged.rank if self.judged else 2


class Utterance(NamedTuple):
    """Something said, what for, and the lines that it may be of (amounts only), best name first. ``strong`` is False
    where captions without stops leave it open whether the name belongs to it. ``aside``: set apart by the talk around
    it alone."""

    said: Spoken
    scope: Scope
    strong: bool = True
    lines: tuple[Best, ...] = ()
    aside: bool = False

    @property
    def best(self) -> Best | None:
        """The line that it fits best among those whose name fits about as well as any."""
        return min(self.lines, key=lambda b: (b.rank, b.gap, -b.candidate.fit), default=None)


class Film(NamedTuple):
    recipe: Recipe
    speech: Speech
    written: tuple[Written, ...]
    utterances: tuple[Utterance, ...]
    course: Course
    standard: Standard

    def amounts(self) -> Iterator[Utterance]:
        """Amounts that are of this recipe."""
        return (u for u in self.utterances if u.said.kind == "amount" and u.scope != "apart")


def lay_beside(
    recipe: Recipe, transcript: Transcript, table: Finds, standard: Standard, marks: Sequence[Moment] | None
) -> Film:
    """Hears the film and finds for every amount the lines that it may be of."""
    speech = Speech(transcript)
    lines = listed(recipe, table)
    on_page = written(recipe, lines, standard)
    by_place = {w.listed.place: w for w in on_page}
    spoken = [part for said in heard(transcript, table) for part in untangled(said, lines, speech, standard)]
    found: list[Utterance] = []
    course = marked(recipe, marks)
    turns = [at for at, _ in course.marked]
    for said, told in zip(spoken, scopes(speech, spoken, turns), strict=True):
        aside = told == "aside"
        scope: Scope = "apart" if aside else told
        if said.kind == "amount":
            bests = tuple(_best(said, c, by_place[c.listed.place], standard) for c in candidates(said, lines, speech))
            bests = bests or _half_right(said, on_page, course, standard)
            found.append(Utterance(said, scope, _strong(said, speech), bests, aside))
        else:
            found.append(Utterance(said, scope, aside=aside))
    return Film(recipe, speech, on_page, tuple(found), replace(course, anchors=tuple(_anchors(found))), standard)


def _best(said: Spoken, candidate: Candidate, on_page: Written, standard: Standard) -> Best:
    line = candidate.listed.line
    tried = [
        (judged.rank, n, target, judged)
        for n, target in enumerate(on_page.targets)
        for judged in (
            all_beside(said.amounts, target.amounts, candidate.listed.row, said.size or line.size, standard),
        )
    ]
    if not tried:
        return Best(candidate, on_page, None, None)
    _, _, target, judged = min(tried, key=lambda t: t[:2])
    return Best(candidate, on_page, target, judged)


def _half_right(said: Spoken, on_page: Sequence[Written], course: Course, standard: Standard) -> tuple[Best, ...]:
    """The one line of the steps here that has just one of two amounts said of nothing: "nine hundred grams here, and
    that's two cups"."""
    steps = course.steps(said.start) or frozenset()
    if said.ingredient or len(said.amounts) < 2 or said.guessed:
        return ()
    found = [
        one
        for one in on_page
        if steps & frozenset(one.steps)
        and any(
            a.unit.kind == b.unit.kind != "count" and beside(a, [b], None, "", standard).rank == 0
            for a in said.amounts
            for target in one.targets
            for b in target.amounts
        )
    ]
    if len(found) != 1:
        return ()
    return (_best(said, Candidate(found[0].listed, 0.6, False), found[0], standard),)


def _strong(said: Spoken, speech: Speech) -> bool:
    """Whether the name is surely this number's: always where sentences end, else behind "of" or right before it."""
    if not speech.flat:
        return True
    head = tokens(said.ingredient)[-1:]
    if not head:
        return False
    near = speech.text(said.first - 3, said.first)
    counted = all(a.unit.kind == "count" for a in said.amounts)
    return (head[0] in tokens(said.words) and (counted or " of " in said.words)) or head[0] in tokens(near)


def _anchors(found: Sequence[Utterance]) -> list[tuple[int, int]]:
    """(ms, step) of amounts that were said as written, of an ingredient that only one step uses."""
    anchors = [
        (u.said.start, best.written.steps[0])
        for u in found
        if u.scope == "use"
        and len(u.lines) == 1
        and (best := u.lines[0]).rank == 0
        and best.candidate.fit >= 0.7
        and len(best.written.steps) == 1
    ]
    return [
        anchor
        for n, anchor in enumerate(anchors)
        if n in (0, len(anchors) - 1)
        or min(abs(anchor[1] - anchors[n - 1][1]), abs(anchor[1] - anchors[n + 1][1])) <= 4
    ]
