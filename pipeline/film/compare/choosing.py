"""Which line each spoken amount is of: one to one within the film's run, by name, amount and where the film is."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.compare.assigning import assign
from pipeline.film.compare.film import Best, Film, Utterance


def chosen_lines(film: Film) -> dict[int, Best]:
    """The line of each amount. In the film's run each use of a line is given once, at the least cost; in lists, recaps
    and repeats each amount goes to the line that it fits best."""
    chosen: dict[int, Best] = {}
    groups: list[list[int]] = []
    owner: dict[tuple[int, int], int] = {}
    for index, utterance in enumerate(film.utterances):
        if utterance.said.kind != "amount" or utterance.scope == "apart" or not utterance.lines:
            continue
        if utterance.scope != "use":
            chosen[index] = _of(utterance)
            continue
        places = [b.candidate.listed.place for b in utterance.lines]
        mine = sorted({owner[p] for p in places if p in owner})
        group = mine[0] if mine else len(groups)
        if not mine:
            groups.append([])
        for other in mine[1:]:
            groups[group] += groups[other]
            groups[other] = []
            owner = {p: group if g == other else g for p, g in owner.items()}
        groups[group].append(index)
        owner.update(dict.fromkeys(places, group))
    for members in groups:
        chosen |= _assigned(film, sorted(members))
    return chosen


def _assigned(film: Film, members: Sequence[int]) -> dict[int, Best]:
    utterances = {i: film.utterances[i] for i in members}
    if all(len(u.lines) == 1 for u in utterances.values()):
        return {i: u.lines[0] for i, u in utterances.items()}
    slots: list[tuple[tuple[int, int], int | None]] = []
    for u in utterances.values():
        for best in u.lines:
            place = best.candidate.listed.place
            for step in best.written.steps or (None,):
                if (place, step) not in slots:
                    slots.append((place, step))
    costs = [[_cost(film, utterances[i], place, step) for place, step in slots] for i in members]
    result: dict[int, Best] = {}
    for i, column in zip(members, assign(costs), strict=True):
        by_place = {b.candidate.listed.place: b for b in utterances[i].lines}
        got = by_place.get(slots[column][0]) if column is not None and costs[members.index(i)][column] < 9 else None
        result[i] = got or _of(utterances[i])
    return result


def _of(utterance: Utterance) -> Best:
    best = utterance.best
    assert best is not None
    return best


def _cost(film: Film, utterance: Utterance, place: tuple[int, int], step: int | None) -> float:
    """A name that fits ill, an amount that disagrees, a step that is not there: each costs."""
    best = next((b for b in utterance.lines if b.candidate.listed.place == place), None)
    if best is None:
        return 10.0
    cost = (1 - best.candidate.fit) * 1.5 + (0.0, 0.4, 0.7, 1.4)[best.rank]
    if best.judged is not None and best.rank == 0 and not best.judged.direct:
        cost += 0.45  # a cup's range agrees with much; the same measure says more
    if best.rank == 3:
        cost += min(best.gap, 2) / 4
    steps = film.course.steps(utterance.said.start)
    if steps and step is not None and step not in steps:
        away = min(abs(step - s) for s in steps)
        cost += min(0.15 + away * 0.08, 0.6)
    return cost
