"""When each told step begins, its order known: sums over all ways to place the beginnings, forward and back.

States of the chain: the opening; each told step; the close. The sums give for each step the chance of each moment to
be its beginning (forward-backward: Rabiner, Proc. IEEE 77 (2), 1989; from memory), from which the mark of least
expected error is taken, and how sure it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp

from pipeline.film.align.scores import END, Scores

# Chances below this are not worth keeping.
_LEAST = 1e-4


@dataclass(frozen=True, slots=True)
class Begin:
    """For one step, the chance of each moment (index, chance) to be its beginning, ascending, likely ones only."""

    step: int
    chances: tuple[tuple[int, float], ...]


def begins(scores: Scores, order: Sequence[int], held: Mapping[int, int] | None = None) -> list[Begin]:
    """The chances of every step of ``order``, in that order. Time and memory grow with moments times steps.
    ``held`` as for :func:`pipeline.film.align.order.told_order`."""
    if not order or not scores.turn:
        return []
    emits, turns = _factors(scores, order, held or {})
    ahead = _forward(emits, turns)
    return [Begin(step, tuple(found)) for step, found in zip(order, _backward(emits, turns, ahead), strict=True)]


def _factors(
    scores: Scores, order: Sequence[int], held: Mapping[int, int]
) -> tuple[list[list[float]], list[list[float]]]:
    """For each moment: every state's factor, and every step's for beginning there."""
    place = {step: p for p, step in enumerate(order)}
    fixed = {place[step]: at for step, at in held.items() if step in place}
    emits: list[list[float]] = []
    turns: list[list[float]] = []
    for i, on in enumerate(scores.on):
        row = [1.0] * (len(order) + 2)
        row[0], row[-1] = exp(scores.hello[i]), exp(scores.bye[i])
        for step, value in on.items():
            p = place.get(step)
            if p is not None:
                row[p + 1] = exp(value)
        emits.append(row)
        turn = [exp(scores.turn[i])] * len(order)
        for step, value in scores.lead[i].items():
            p = place.get(step)
            if p is not None:
                turn[p] *= exp(value)
        for step, value in scores.left[i].items():
            p = place.get(step, len(order))
            if p + 1 < len(order):
                turn[p + 1] *= exp(value)
        for p, at in fixed.items():
            turn[p] = 1.0 if at == i else 0.0
        turns.append(turn)
    return emits, turns


def _start(width: int) -> list[float]:
    return [1.0] + [0.0] * (width - 1)


def _forward(emits: list[list[float]], turns: list[list[float]]) -> list[list[float]]:
    end = exp(-END)
    width = len(emits[0])
    ahead: list[list[float]] = []
    now = _start(width)
    for emit, turn in zip(emits, turns, strict=True):
        fresh = [now[0] * emit[0]]
        before = now[0]
        for on, t, e in zip(now[1:-1], turn, emit[1:-1], strict=True):
            fresh.append((on + before * t) * e)
            before = on
        fresh.append((now[-1] + before * end) * emit[-1])
        scale = 1.0 / (sum(fresh) or 1.0)
        now = [v * scale for v in fresh]
        ahead.append(now)
    return ahead


def _backward(
    emits: list[list[float]], turns: list[list[float]], ahead: list[list[float]]
) -> list[list[tuple[int, float]]]:
    end = exp(-END)
    width, steps = len(emits[0]), len(turns[0])
    behind = [0.0] * width
    # A film may end while the last step is told, or after it.
    behind[-2:] = [1.0, 1.0]
    chances: list[list[tuple[int, float]]] = [[] for _ in range(steps)]
    for i in range(len(emits) - 1, -1, -1):
        seen = [b * e for b, e in zip(behind, emits[i], strict=True)]
        was = ahead[i - 1] if i else _start(width)
        onward = [t * s for t, s in zip(turns[i], seen[1:-1], strict=True)]
        fresh = [s + o for s, o in zip(seen, onward, strict=False)]
        fresh.append(seen[-2] + end * seen[-1])
        fresh.append(seen[-1])
        total = sum(a * b for a, b in zip(was, fresh, strict=True))
        if total > 0:
            for p, (before, on) in enumerate(zip(was, onward, strict=False)):
                chance = before * on / total
                if chance > _LEAST:
                    chances[p].append((i, chance))
        scale = 1.0 / (max(fresh) or 1.0)
        behind = [v * scale for v in fresh]
    for found in chances:
        found.reverse()
    return chances
