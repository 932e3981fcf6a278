"""The cooking cut into steps: where the talk turns, after silences, where new ingredients come in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from pipeline.film.align.folds import fold, kin
from pipeline.film.draft.line import Line
from pipeline.film.draft.scenes import Scene, rows
from pipeline.film.spoken.said import Spoken
from pipeline.measure.heat import celsius

# What a beginning costs, and lengths (ms) that a step does not fall under or go much beyond. A chapter has at least
# 10 s (the film platform's rule, from memory); a cook's step takes half a minute to two (common practice, no source).
_BEGIN, _SHORTEST, _LONG = 1.6, 12_000, 75_000
_OVERLONG = 0.02  # a second beyond _LONG
# Words beside degrees that are no kitchen's, and the most that a thermometer outside shows, in either scale.
_OUTSIDE = frozenset(("outside", "weather", "today", "outdoors", "kitchen", "kitchen's", "morning", "room"))
_HOTTEST_DAY = 115
# The first step may begin so long before its first amount, where the talk turns to it.
_LEAD_MS, _TURN = 22_000, 0.8


@dataclass(frozen=True, slots=True)
class Stretch:
    """A step's sentences, ``first`` to ``last`` (one behind), and its part of the dish."""

    first: int
    last: int
    part: str


def kitchen_words(scene: Scene) -> int:
    """How many of a sentence's words speak of cooking."""
    known, own = kin(), _kitchen()
    return sum(1 for word in scene.plain if word and (word in own or fold(word) in known))


@cache
def _kitchen() -> frozenset[str]:
    return frozenset(word for row in rows("kitchen.txt") for word in row) | frozenset(
        word for row in rows("verbs.txt") for word in row[1:]
    )


def stretches(
    scenes: Sequence[Scene], parts: Sequence[str], heard: Sequence[Spoken], lines: Sequence[Line]
) -> list[Stretch]:
    """The steps, in order. The opening list, the greeting and what follows the cooking are in none."""
    said_at = sorted(one.start for line in lines for one in line.heard)
    begin, end = _cooking(scenes, heard, said_at)
    if begin >= end:
        return []
    gains = [_gain(n, scenes, parts, said_at) for n in range(begin, end)]
    cuts = _best(gains, [scene.start for scene in scenes[begin:end]], scenes[end - 1].end)
    edges = [begin + cut for cut in cuts]
    found: list[Stretch] = []
    for first, last in zip(edges, [*edges[1:], end], strict=True):
        told = [parts[n] for n in range(first, last)]
        found.append(Stretch(first, last, max(dict.fromkeys(told), key=told.count)))
    said = [one.start for one in heard]
    return [
        s
        for s in found
        if any(_is_cooking(scenes[n]) for n in range(s.first, s.last))
        or any(scenes[s.first].start <= start < scenes[s.last - 1].end for start in said)
    ]


def _is_cooking(scene: Scene) -> bool:
    return scene.stance == "use" and kitchen_words(scene) > 0


def _cooking(scenes: Sequence[Scene], heard: Sequence[Spoken], said_at: Sequence[int]) -> tuple[int, int]:
    """The sentences between greeting and goodbye, one behind the last. ``said_at``: when amounts of the lines are
    said, ms."""
    last_list = max((n for n, scene in enumerate(scenes) if scene.stance == "list"), default=-1)
    begin = last_list + 1
    plain = [word for scene in scenes for word in scene.plain]
    told = [*said_at, *(one.start for one in heard if one.kind == "heat" and not weather(one, plain))]
    told = sorted(start for start in told if begin < len(scenes) and start >= scenes[begin].start)
    if told:
        at = next((n for n in range(begin, len(scenes)) if scenes[n].end >= told[0]), begin)
        near = [n for n in range(begin, at + 1) if scenes[n].start >= told[0] - _LEAD_MS and scenes[n].turn >= _TURN]
        begin = max(near, key=lambda n: (scenes[n].turn, n)) if near else at
    else:
        cooking = (n for n in range(begin, len(scenes)) if scenes[n].stance == "use" and kitchen_words(scenes[n]) >= 2)
        begin = next(cooking, begin)
    end = len(scenes)
    for n in range(len(scenes) - 1, begin, -1):
        scene = scenes[n]
        if scene.stance == "use" and "recap" not in scene.marks and kitchen_words(scene) >= 2:
            end = n + 1
            break
    recap = next((n for n, scene in enumerate(scenes) if scene.stance == "recap"), len(scenes))
    over = scenes[recap].start if recap < len(scenes) else scenes[-1].end + 1
    last = max((start for start in said_at if start < over), default=0)
    end = max(end, next((n + 1 for n, scene in enumerate(scenes) if scene.end > last), end)) if last else end
    return begin, min(end, recap)


def weather(one: Spoken, plain: Sequence[str]) -> bool:
    """ "It is ninety eight degrees outside": no kitchen's heat."""
    if not one.guessed:
        return False
    said = {*plain[max(one.first - 3, 0) : one.first], *plain[one.last : one.last + 2]}
    ends = [end for heat in one.heats for end in celsius(heat)]
    if _OUTSIDE & said or ("it" in said and "is" in said) or "it's" in said:
        return all(heat.high <= _HOTTEST_DAY for heat in one.heats)
    return all(end < 60 for end in ends)


def _gain(n: int, scenes: Sequence[Scene], parts: Sequence[str], said_at: Sequence[int]) -> float:
    """How much a sentence's beginning sounds like that of a step."""
    scene = scenes[n]
    gain = min(scene.turn, 3.0)
    if scene.stance != "use":
        return gain - 2.0
    if n and parts[n] != parts[n - 1]:
        gain += 1.5
    window = scene.end + 6_000
    gain += 0.9 * min(sum(1 for start in said_at if scene.start <= start <= window), 2)
    gain += 0.25 * min(kitchen_words(scene), 3)
    return gain


def _best(gains: Sequence[float], starts: Sequence[int], end: int) -> list[int]:
    """The beginnings that gain most together, none nearer to the next than the shortest step."""
    count = len(gains)
    best = [0.0] * (count + 1)  # best[i]: what sentences i.. are worth where a step begins at i
    after = [count] * (count + 1)
    for i in range(count - 1, -1, -1):
        top, choice = float("-inf"), count
        for j in range(i + 1, count + 1):
            until = starts[j] if j < count else end
            length = until - starts[i]
            if length < _SHORTEST and j < count:
                continue
            worth = best[j] - max(length - _LONG, 0) / 1000 * _OVERLONG
            if worth > top:
                top, choice = worth, j
            if length > 6 * _LONG:
                break
        best[i], after[i] = gains[i] - _BEGIN + top, choice
    cuts, i = [], 0
    while i < count:
        cuts.append(i)
        i = after[i]
    return cuts
