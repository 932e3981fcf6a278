"""Marks moved from an old cut of a film to a new one, by the words that both say.

Why not a library's diff: difflib's time is quadratic where few words repeat and worse where many do (a recipe's do),
and no diff by edits follows a scene that was moved. Here, runs of words that stand exactly once in each text are the
fixed points; a scene keeps hundreds of them wherever it went, so the time is linear in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pipeline.film.align.folds import bare
from pipeline.film.transcript import Transcript

# Runs of so many words; shorter ones where the longer find next to nothing (a terse film).
_RUNS = (5, 4, 3)
# Two fixed points belong to one stretch when at most so many words lie between them, in both texts, and the two
# counts differ by less than _SLIP: captions heard anew drop and change words, and a cut takes more.
_GAP, _SLIP = 40, 9
# A stretch of fewer words may be chance.
_LEAST = 8
# A mark whose own word was not kept is still told by its neighbours when one is this near, in words.
_BESIDE = 3
_SHOWN = 8


@dataclass(frozen=True, slots=True)
class Retimed:
    """One moment: ``old`` ms in the old film, ``at`` ms in the new one, None where its words were cut; then
    ``nearest`` is where the film goes on (ms, None where nothing of it is left). ``words``: what is said there."""

    old: int
    at: int | None
    nearest: int | None
    words: str


def shift(times: Sequence[int], by_ms: int) -> tuple[int, ...]:
    """All moments moved by ``by_ms``; none before 0."""
    return tuple(max(time + by_ms, 0) for time in times)


def retime(old: Transcript, new: Transcript, times: Sequence[int]) -> tuple[Retimed, ...]:
    """Each moment of ``times`` (ms in the old film) in the new one, in the same order.

    A moment moves with the first word that is said from it on; a cut within the words before it does not matter. Where
    a scene was moved, its moments go with it.
    """
    place = _places([bare(word.text) for word in old.words], [bare(word.text) for word in new.words])
    kept = sorted(place)
    return tuple(_retimed(old, new, time, place, kept) for time in times)


def _retimed(old: Transcript, new: Transcript, time: int, place: dict[int, int], kept: Sequence[int]) -> Retimed:
    index = _word_at(old, time)
    words = " ".join(word.text for word in old.words[index : index + _SHOWN])
    for step in range(_BESIDE + 1):
        for near in (index + step, index - step):
            if near in place:
                at = new.words[place[near]].start + time - old.words[near].start
                return Retimed(time, max(at, 0), None, words)
    after = next((word for word in kept if word > index), None)
    before = next((word for word in reversed(kept) if word < index), None)
    nearest = None
    if after is not None:
        nearest = new.words[place[after]].start
    elif before is not None:
        nearest = new.words[place[before]].end
    return Retimed(time, None, nearest, words)


def _word_at(film: Transcript, time: int) -> int:
    """The index of the first word that begins at ``time`` or later; of the last word behind all."""
    low, high = 0, len(film.words)
    # A mark typed in whole seconds may stand up to one behind the word it means.
    while low < high:
        middle = (low + high) // 2
        if film.words[middle].start < time - 999 or film.words[middle].end <= time:
            low = middle + 1
        else:
            high = middle
    return min(low, max(len(film.words) - 1, 0))


def _places(old: Sequence[str], new: Sequence[str]) -> dict[int, int]:
    """For each word of ``old`` that ``new`` kept, its index there."""
    points: list[tuple[int, int]] = []
    for size in _RUNS:
        first, second = _once(old, size), _once(new, size)
        points = sorted((at, second[run]) for run, at in first.items() if run in second)
        if len(points) * 10 >= min(len(old), len(new)):
            break
    found: dict[int, int] = {}
    for stretch in sorted(_stretches(points), key=len, reverse=True):
        for i, j in _filled(stretch, old, new):
            found.setdefault(i, j)
    return found


def _once(words: Sequence[str], size: int) -> dict[tuple[str, ...], int]:
    """Each run of ``size`` words that stands once only, and where."""
    seen: dict[tuple[str, ...], int] = {}
    twice: set[tuple[str, ...]] = set()
    for i in range(len(words) - size + 1):
        run = tuple(words[i : i + size])
        if run in seen:
            twice.add(run)
        seen[run] = i
    return {run: i for run, i in seen.items() if run not in twice}


def _stretches(points: Sequence[tuple[int, int]]) -> list[list[tuple[int, int]]]:
    """The points in stretches that both texts have in the same order without a cut between."""
    stretches: list[list[tuple[int, int]]] = []
    for i, j in points:
        if stretches:
            a, b = stretches[-1][-1]
            if i - a <= _GAP and 0 < j - b <= _GAP and abs((j - b) - (i - a)) < _SLIP:
                stretches[-1].append((i, j))
                continue
        stretches.append([(i, j)])
    return [s for s in stretches if s[-1][0] - s[0][0] + _RUNS[-1] >= _LEAST]


def _filled(
    stretch: Sequence[tuple[int, int]], old: Sequence[str], new: Sequence[str]
) -> list[tuple[int, int]]:
    """The stretch's points, the words between them, and the equal words at either end."""
    found = list(stretch)
    for (a, b), (i, j) in pairwise(stretch):
        x, y = a + 1, b + 1
        while x < i and y < j:
            if old[x] == new[y]:
                found.append((x, y))
                x, y = x + 1, y + 1
            elif x + 1 < i and old[x + 1] == new[y]:
                x += 1
            elif y + 1 < j and old[x] == new[y + 1]:
                y += 1
            else:
                # Another word in its place.
                found.append((x, y))
                x, y = x + 1, y + 1
    x, y = stretch[-1][0] + 1, stretch[-1][1] + 1
    while x < len(old) and y < len(new) and old[x] == new[y]:
        found.append((x, y))
        x, y = x + 1, y + 1
    x, y = stretch[0][0] - 1, stretch[0][1] - 1
    while x >= 0 and y >= 0 and old[x] == new[y]:
        found.append((x, y))
        x, y = x - 1, y - 1
    return found
