"""In which order a film tells a recipe's steps: a beam search over which steps have been told.

The page's order is a strong preference within a component and a weak one across components, so what has been
told is a set and not a number. The number of sets is too great for an exact search; the beam keeps those that
can still become the best, by their score so far and the most that the steps not yet told can still bring.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pipeline.film.align.evidence import Evidence, close_gain, open_gain
from pipeline.film.align.moments import Moment

_WIDTH = 80
_BEHIND = 30.0
#: How much talk of another kind speaks against any step.
ASIDE = 0.5
#: What a beginning that the cook has confirmed is worth: more than any evidence.
SURE = 60.0


@dataclass(frozen=True, slots=True)
class Costs:
    """Prices, natural log: of beginning a step, of a pair of steps told in the other order (same component,
    other component), of a step never told, of one told again, of falling silent about a step and of coming back to
    it, of the end. ``turn`` is how much a moment's beginning counts; ``opening`` and ``recap``
    the share of the recipe's words that the talk before and after the cooking may keep."""

    begin: float = 1.5
    same: float = 10.0
    cross: float = 2.5
    never: float = 5.0
    again: float = 6.0
    silent: float = 0.3
    back: float = 3.0
    end: float = 1.0
    turn: float = 1.2
    opening: float = 0.3
    recap: float = 0.15


COSTS = Costs()

_HELLO, _ON, _IDLE, _BYE = range(4)


@dataclass(slots=True)
class _Told:
    """One way to have heard the film so far; ``last`` is the newest entry (moment, step) with those before it."""

    score: float
    told: int
    now: int
    mode: int
    last: tuple[object, int, int] | None


def told_order(
    film: Sequence[Moment],
    evidence: Evidence,
    components: Sequence[int],
    costs: Costs = COSTS,
    held: Mapping[int, int] | None = None,
) -> tuple[list[tuple[int, int]], float]:
    """The steps in the order in which the film first tells them, each with the moment of its beginning; and the
    path's score. ``components`` holds each step's component; ``held`` the moments (indices) of steps that are known
    to begin there."""
    held = held or {}
    known = {i: [k for k, at in held.items() if at == i] for i in held.values()}
    steps = len(components)
    pair = [
        [(costs.same if components[j] == components[k] else costs.cross) for k in range(steps)] for j in range(steps)
    ]
    earlier_same = [sum(1 << j for j in range(k) if components[j] == components[k]) for k in range(steps)]
    hope = _hope(evidence, steps)
    beam: dict[tuple[int, int, int], _Told] = {(0, -1, _HELLO): _Told(0.0, 0, -1, _HELLO, None)}
    entry_cost: dict[tuple[int, int], float] = {}

    def entry(told: int, k: int) -> float:
        cost = entry_cost.get((told, k))
        if cost is None:
            cost = costs.begin
            for j in range(k + 1, steps):
                if told >> j & 1:
                    cost += pair[j][k]
            # Earlier steps of the component that this passes over; given back when one is told after all.
            here = earlier_same[k]
            passed = here & ~told
            later = [j for j in range(k + 1, steps) if told >> j & 1 and components[j] == components[k]]
            if later:
                cost -= costs.never
            else:
                before = [j for j in range(k) if told >> j & 1 and components[j] == components[k]]
                if before:
                    passed &= ~((1 << (before[-1] + 1)) - 1)
                cost += costs.never * passed.bit_count()
            entry_cost[told, k] = cost
        return cost

    for i, moment in enumerate(film):
        gains, base, aside = evidence.gain[i], evidence.base[i], evidence.aside[i]
        turn = costs.turn * moment.turn
        hello = open_gain(moment, evidence, i, costs.opening)
        bye = close_gain(moment, evidence, i, costs.recap)
        near = [k for k, value in _near(evidence, i).items() if value > 1.0 and k not in held]
        near += known.get(i, ())
        fresh: dict[tuple[int, int, int], _Told] = {}

        def offer(score: float, told: int, now: int, mode: int, last: tuple[object, int, int] | None) -> None:
            key = (told, now, mode)
            old = fresh.get(key)  # noqa: B023
            if old is None or old.score < score:
                fresh[key] = _Told(score, told, now, mode, last)  # noqa: B023

        for way in beam.values():
            score, told, now, mode = way.score, way.told, way.now, way.mode
            if mode == _BYE:
                offer(score + bye, told, now, mode, way.last)
                continue
            if mode == _HELLO:
                offer(score + hello, told, now, mode, way.last)
            else:
                on = gains.get(now, base) - ASIDE * aside
                if mode == _ON:
                    offer(score + on, told, now, _ON, way.last)
                    offer(score - costs.silent + aside, told, now, _IDLE, way.last)
                else:
                    offer(score + aside, told, now, _IDLE, way.last)
                    offer(score - costs.back + on, told, now, _ON, way.last)
                offer(score - costs.end + bye, told, now, _BYE, way.last)
            for k in near:
                if k == now:
                    continue
                on = gains.get(k, base) - ASIDE * aside
                if told >> k & 1:
                    if gains.get(k, 0.0) > 1.0:
                        offer(score - costs.again + turn + on, told, k, _ON, way.last)
                else:
                    sure = SURE if k in held else 0.0
                    offer(score - entry(told, k) + turn + on + sure, told | 1 << k, k, _ON, (way.last, i, k))
        left: dict[int, float] = {}
        ranked: list[tuple[float, tuple[int, int, int]]] = []
        top = hope[i + 1]
        for key, way in fresh.items():
            told = key[0]
            more = left.get(told)
            if more is None:
                more = sum(value for k, value in enumerate(top) if not told >> k & 1)
                left[told] = more
            ranked.append((way.score + (more if way.mode != _BYE else 0.0), key))
        ranked.sort(reverse=True)
        least = ranked[0][0] - _BEHIND - (SURE if held else 0.0)
        beam = {key: fresh[key] for value, key in ranked[:_WIDTH] if value >= least}
    best: _Told | None = None
    for way in beam.values():
        unseen = _never(way.told, components)
        way.score -= costs.never * unseen
        if best is None or way.score > best.score:
            best = way
    found: list[tuple[int, int]] = []
    node = best.last if best else None
    while node is not None:
        found.append((node[1], node[2]))
        node = node[0]  # type: ignore[assignment]
    return [(k, i) for i, k in reversed(found)], best.score if best else 0.0


def _never(told: int, components: Sequence[int]) -> int:
    """How many steps behind the last told one of their component were never told: those before it have been
    paid for."""
    last: dict[int, int] = {}
    for k, part in enumerate(components):
        if told >> k & 1:
            last[part] = k
    return sum(1 for k, part in enumerate(components) if k > last.get(part, -1))


def _near(evidence: Evidence, i: int) -> dict[int, float]:
    """What the next few moments bring for each step."""
    found: dict[int, float] = {}
    for m in range(i, min(i + 4, len(evidence.gain))):
        for k, value in evidence.gain[m].items():
            if value > 0:
                found[k] = found.get(k, 0.0) + value
    return found


def _hope(evidence: Evidence, steps: int) -> list[list[float]]:
    """For each moment, the most that each step can still bring from there on: its best stretch of five moments."""
    count = len(evidence.gain)
    hope = [[0.0] * steps]
    run = [0.0] * steps
    best = [0.0] * steps
    for i in range(count - 1, -1, -1):
        for k, value in evidence.gain[i].items():
            run[k] += max(value, 0.0)
        if i + 5 < count:
            for k, value in evidence.gain[i + 5].items():
                run[k] -= max(value, 0.0)
        changed = False
        for k in evidence.gain[i]:
            if run[k] > best[k]:
                best[k] = run[k]
                changed = True
        hope.append([0.6 * v for v in best] if changed else hope[-1])
    hope.reverse()
    return hope
