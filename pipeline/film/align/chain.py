"""When each told step begins, its order known: sums over all ways to place the beginnings, forward and back.

States of the chain: the opening; each step told and each step fallen silent; the close. The sums give for
each step the chance of each moment to be its beginning (forward-backward: Rabiner, Proc. IEEE 77 (2), 1989;
from memory), from which the mark of least expected error is taken, and how sure it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp

from pipeline.film.align.evidence import Evidence, close_gain, open_gain
from pipeline.film.align.moments import Moment
from pipeline.film.align.order import ASIDE, COSTS, Costs

# Chances below this are not worth keeping.
_LEAST = 1e-4


@dataclass(frozen=True, slots=True)
class Begin:
    """For one step, the chance of each moment (index, chance) to be its beginning, ascending, likely ones only."""

    step: int
    chances: tuple[tuple[int, float], ...]


def begins(
    film: Sequence[Moment],
    evidence: Evidence,
    order: Sequence[int],
    costs: Costs = COSTS,
    held: Mapping[int, int] | None = None,
) -> list[Begin]:
    """The chances of every step of ``order``, in that order. Time and memory grow with moments times steps.
    ``held`` as for :func:`pipeline.film.align.order.told_order`."""
    count, steps = len(film), len(order)
    if not steps or not count:
        return []
    emits, turns = _factors(film, evidence, order, costs, held or {})
    ahead = _forward(emits, turns, costs)
    return [Begin(step, tuple(found)) for step, found in zip(order, _backward(emits, turns, ahead, costs), strict=True)]


def _factors(
    film: Sequence[Moment],
    evidence: Evidence,
    order: Sequence[int],
    costs: Costs,
    held: Mapping[int, int],
) -> tuple[list[list[float]], list[list[float]]]:
    """For each moment: every state's factor, and every step's for beginning there."""
    begin = exp(-costs.begin)
    place = {step: p for p, step in enumerate(order)}
    fixed = {place[step]: at for step, at in held.items() if step in place}
    emits: list[list[float]] = []
    turns: list[list[float]] = []
    for i, moment in enumerate(film):
        aside = evidence.aside[i]
        row = [exp(evidence.base[i] - ASIDE * aside), exp(aside)] * len(order)
        for step, value in evidence.gain[i].items():
            p = place.get(step)
            if p is not None:
                row[2 * p] = exp(value - ASIDE * aside)
        hello = open_gain(moment, evidence, i, costs.opening)
        bye = close_gain(moment, evidence, i, costs.recap)
        emits.append([exp(hello), *row, exp(bye)])
        turn = [begin * exp(costs.turn * moment.turn)] * len(order)
        for p, at in fixed.items():
            turn[p] = 1.0 if at == i else 0.0
        turns.append(turn)
    return emits, turns


def _start(width: int) -> list[float]:
    return [1.0] + [0.0] * (width - 1)


def _forward(emits: list[list[float]], turns: list[list[float]], costs: Costs) -> list[list[float]]:
    silent, back, end = exp(-costs.silent), exp(-costs.back), exp(-costs.end)
    width = len(emits[0])
    ahead: list[list[float]] = []
    now = _start(width)
    for emit, turn in zip(emits, turns, strict=True):
        fresh = [0.0] * width
        fresh[0] = now[0] * emit[0]
        before = now[0]
        s = 1
        for t in turn:
            on, idle = now[s], now[s + 1]
            fresh[s] = (on + idle * back + before * t) * emit[s]
            fresh[s + 1] = (on * silent + idle) * emit[s + 1]
            before = on + idle
            s += 2
        fresh[-1] = (now[-1] + before * end) * emit[-1]
        scale = 1.0 / (sum(fresh) or 1.0)
        now = [v * scale for v in fresh]
        ahead.append(now)
    return ahead


def _backward(
    emits: list[list[float]], turns: list[list[float]], ahead: list[list[float]], costs: Costs
) -> list[list[tuple[int, float]]]:
    silent, back, end = exp(-costs.silent), exp(-costs.back), exp(-costs.end)
    width, steps = len(emits[0]), len(turns[0])
    behind = [0.0] * width
    # A film may end while the last step is told, or after it.
    behind[-3:] = [1.0, 1.0, 1.0]
    chances: list[list[tuple[int, float]]] = [[] for _ in range(steps)]
    for i in range(len(emits) - 1, -1, -1):
        turn = turns[i]
        seen = [b * e for b, e in zip(behind, emits[i], strict=True)]
        was = ahead[i - 1] if i else _start(width)
        onward = [t * seen[s] for t, s in zip(turn, range(1, width, 2), strict=False)]
        fresh = [0.0] * width
        fresh[-1] = seen[-1]
        fresh[0] = seen[0] + onward[0]
        for p in range(steps):
            s = 2 * p + 1
            after = onward[p + 1] if p + 1 < steps else end * seen[-1]
            fresh[s] = seen[s] + silent * seen[s + 1] + after
            fresh[s + 1] = seen[s + 1] + back * seen[s] + after
        total = sum(a * b for a, b in zip(was, fresh, strict=True))
        if total > 0:
            before = was[0]
            for p in range(steps):
                chance = before * onward[p] / total
                if chance > _LEAST:
                    chances[p].append((i, chance))
                before = was[2 * p + 1] + was[2 * p + 2]
        scale = 1.0 / (max(fresh) or 1.0)
        behind = [v * scale for v in fresh]
    for found in chances:
        found.reverse()
    return chances
