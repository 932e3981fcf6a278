"""In which order a film tells a recipe's steps: a beam search over which steps have been told.

The page's order is a strong preference within a component and a weak one across components, so what has been
told is a set and not a number. The number of sets is too great for an exact search; the beam keeps those that
can still become the best, by their score so far and the most that the steps not yet told can still bring.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pipeline.film.align.scores import END, Scores

# The beam: so many ways to have heard the film so far, none further behind the best than this (natural log).
# Four times the width finds the same order in every marked film.
_WIDTH, _BEHIND = 60, 25.0
# A step may begin where what is soon said speaks for it by as much as this.
_SPEAKS = 0.8
# A page may have all of one component before the other, and a film tell them by turns: more steps of other components
# than this told before their turn make it no stranger.
_CROSSED = 3
# The best that a step can still bring is its best stretch of so many moments, of which so much is expected.
_STRETCH, _HOPED = 5, 0.6
#: What a beginning that the cook has confirmed is worth: more than any evidence.
SURE = 60.0


@dataclass(frozen=True, slots=True)
class Costs:
    """Prices, natural log: of beginning a step, of a pair of steps told in the other order (same component, other
    component), of a step never told. On the marked films the half and the double of any finds much the same orders."""

    begin: float = 3.0
    same: float = 6.0
    cross: float = 1.0
    never: float = 5.0


COSTS = Costs()

# What is being talked of: a step's number, or what comes before and after all.
_HELLO, _BYE = -2, -1

# The newest beginning (moment, step) with those before it.
_Chain = tuple["_Chain", int, int] | None
# (steps told as bits, what is talked of): score, hope, beginnings.
_Beam = dict[tuple[int, int], tuple[float, float, "_Chain"]]


class _Entries:
    """What it costs to begin a step when others have been told."""

    def __init__(self, components: Sequence[int], costs: Costs) -> None:
        steps = range(len(components))
        self._costs = costs
        self._same = [sum(1 << j for j in steps if components[j] == components[k]) for k in steps]
        self._later = [sum(1 << j for j in steps if j > k) for k in steps]
        self._known: dict[tuple[int, int], float] = {}

    def cost(self, told: int, k: int) -> float:
        found = self._known.get((told, k))
        if found is None:
            found = self._known[told, k] = self._cost(told, k)
        return found

    def _cost(self, told: int, k: int) -> float:
        costs, same = self._costs, self._same[k]
        later = told & self._later[k]
        crossed = min((later & ~same).bit_count(), _CROSSED)
        cost = costs.begin + costs.same * (later & same).bit_count() + costs.cross * crossed
        if later & same:
            # It was paid for as never told when a later one began.
            return cost - costs.never
        last = (told & same).bit_length()
        passed = same & ((1 << k) - 1) & ~((1 << last) - 1)
        return cost + costs.never * passed.bit_count()

    def never(self, told: int) -> float:
        """The price of the steps behind the last told one of their component; those before it have been paid for."""
        count = 0
        for k, same in enumerate(self._same):
            if k >= (told & same).bit_length():
                count += 1
        return self._costs.never * count


def told_order(
    scores: Scores,
    components: Sequence[int],
    costs: Costs = COSTS,
    held: Mapping[int, int] | None = None,
) -> tuple[list[tuple[int, int]], float]:
    """The steps in the order in which the film first tells them, each with the moment of its beginning; and the
    path's score. ``components`` holds each step's component; ``held`` the moments (indices) of steps that are known
    to begin there."""
    held = held or {}
    entries = _Entries(components, costs)
    first, drops = _hope(scores, len(components))
    behind = _BEHIND + (SURE if held else 0.0)
    beam: _Beam = {(0, _HELLO): (0.0, sum(first), None)}
    for i in range(len(scores.on)):
        begins = [k for k, value in scores.lead[i].items() if value > _SPEAKS and k not in held]
        begins += [k for k, at in held.items() if at == i]
        fresh = _on(beam, i, scores, entries, begins, held, first)
        for k, drop in drops[i]:
            first[k] -= drop
        lost = [(1 << k, drop) for k, drop in drops[i]]
        ranked: list[tuple[float, tuple[int, int]]] = []
        for key, (score, hope, chain) in fresh.items():
            told, now = key
            for bit, drop in lost:
                if not told & bit:
                    hope -= drop
            if lost:
                fresh[key] = (score, hope, chain)
            ranked.append((score + hope if now != _BYE else score, key))
        ranked.sort(reverse=True)
        least = ranked[0][0] - behind
        beam = {key: fresh[key] for value, key in ranked[:_WIDTH] if value >= least}
    best, score = None, float("-inf")
    for (told, _), (value, _, chain) in beam.items():
        value -= entries.never(told)
        if value > score:
            best, score = chain, value
    found: list[tuple[int, int]] = []
    while best is not None:
        best, at, step = best
        found.append((step, at))
    found.reverse()
    return found, score


def _on(
    beam: _Beam,
    i: int,
    scores: Scores,
    entries: _Entries,
    begins: Sequence[int],
    held: Mapping[int, int],
    hoped: Sequence[float],
) -> _Beam:
    """Every way to have heard the film up to moment ``i``."""
    on, lead, left, turn = scores.on[i], scores.lead[i], scores.left[i], scores.turn[i]
    hello, bye = scores.hello[i], scores.bye[i]
    starts = {k: turn + lead.get(k, 0.0) + on.get(k, 0.0) + (SURE if k in held else 0.0) for k in begins}
    fresh: _Beam = {}
    for (told, now), (score, hope, chain) in beam.items():
        ways: list[tuple[float, int]]
        if now == _BYE:
            ways = [(score + bye, _BYE)]
        elif now == _HELLO:
            ways = [(score + hello, _HELLO)]
        else:
            ways = [(score + on.get(now, 0.0), now), (score - END + bye, _BYE)]
        for value, then in ways:
            key = (told, then)
            old = fresh.get(key)
            if old is None or old[0] < value:
                fresh[key] = (value, hope, chain)
        if now == _BYE:
            continue
        leaving = score + (left.get(now, 0.0) if now != _HELLO else 0.0)
        for k, value in starts.items():
            if told >> k & 1:
                continue
            key = (told | 1 << k, k)
            begun = (leaving - entries.cost(told, k) + value, hope - hoped[k], (chain, i, k))
            old = fresh.get(key)
            if old is None or old[0] < begun[0]:
                fresh[key] = begun
    return fresh


def _hope(scores: Scores, steps: int) -> tuple[list[float], list[list[tuple[int, float]]]]:
    """The most that each step can bring, and by how much less that is behind each moment."""
    count = len(scores.on)
    run = [0.0] * steps
    best = [0.0] * steps
    drops: list[list[tuple[int, float]]] = []
    for i in range(count - 1, -1, -1):
        for k, value in scores.on[i].items():
            run[k] += max(value, 0.0)
        if i + _STRETCH < count:
            for k, value in scores.on[i + _STRETCH].items():
                run[k] -= max(value, 0.0)
        dropped: list[tuple[int, float]] = []
        for k in scores.on[i]:
            if run[k] > best[k]:
                dropped.append((k, _HOPED * (run[k] - best[k])))
                best[k] = run[k]
        drops.append(dropped)
    drops.reverse()
    return [_HOPED * value for value in best], drops
