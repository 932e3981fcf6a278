"""Marks moved from an old cut of a film to a new one, by the words that both say.

Why not a library's diff: difflib's time is quadratic where few words repeat and worse where many do (a recipe's do),
and no diff by edits follows a scene that was moved. Here, runs of words that stand exactly once in each text are the
fixed points; a scene keeps hundreds of them wherever it went, so the time is linear in words.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
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
# A mark whose own word was not kept is still told by the words behind it when one is this near. Never by those before:
# a scene that was cut stood behind words that stay.
_BESIDE = 3
_ONWARD = 12  # words behind a word by which two places for it are compared
_SHOWN = 8
# A word begins at a mark when it begins so few ms before it; a mark typed in whole seconds stands up to a second before
# its word.
_ROUND, _SECOND = 50, 1_000


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
    for near in range(index, index + _BESIDE + 1):
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
    """The index of the word that a mark at ``time`` means: the first that begins then or later. Only where none does
    soon, the one that is being said."""
    words = film.words
    index = bisect_left(words, time - _ROUND, key=lambda word: word.start)
    said = index > 0 and words[index - 1].end > time
    if said and (index == len(words) or words[index].start > time + _SECOND):
        return index - 1
    return min(index, max(len(words) - 1, 0))


def _places(old: Sequence[str], new: Sequence[str]) -> dict[int, int]:
    """For each word of ``old`` that ``new`` kept, its index there."""
    points: list[tuple[int, int]] = []
    size = _RUNS[0]
    for size in _RUNS:
        first, second = _once(old, size), _once(new, size)
        points = sorted((at, second[run]) for run, at in first.items() if run in second)
        if len(points) * 10 >= min(len(old), len(new)):
            break
    stretches = sorted(_stretches(points), key=len, reverse=True)
    found: dict[int, int] = {}
    taken: set[int] = set()
    pairs = [pair for s in stretches for pair in (*_within(s, size, old, new), *_ends(s, size, old, new))]
    # A scene's first words belong to that scene, though those before it may meet the same by chance: of two places
    # for a word, that one counts where more words behind it are the same.
    onward: dict[tuple[int, int], int] = {}
    for i, j in sorted(pairs, reverse=True):
        onward[i, j] = min(onward.get((i + 1, j + 1), 0) + 1, _ONWARD)
    for i, j in sorted(pairs, key=lambda pair: -onward[pair]):
        if i not in found and j not in taken:
            found[i] = j
            taken.add(j)
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


def _within(
    stretch: Sequence[tuple[int, int]], size: int, old: Sequence[str], new: Sequence[str]
) -> Iterator[tuple[int, int]]:
    """The stretch's runs and the words between them."""
    last_i, last_j = stretch[-1]
    yield from ((last_i + n, last_j + n) for n in range(size))
    for (a, b), (i, j) in pairwise(stretch):
        yield a, b
        x, y = a + 1, b + 1
        while x < i and y < j:
            if old[x] != new[y]:
                if x + 1 < i and old[x + 1] == new[y]:
                    x += 1
                elif y + 1 < j and old[x] == new[y + 1]:
                    y += 1
            # Equal words, or another word in its place.
            yield x, y
            x, y = x + 1, y + 1


def _ends(
    stretch: Sequence[tuple[int, int]], size: int, old: Sequence[str], new: Sequence[str]
) -> Iterator[tuple[int, int]]:
    """The equal words right behind and right before a stretch."""
    x, y = stretch[-1][0] + size, stretch[-1][1] + size
    while x < len(old) and y < len(new) and old[x] == new[y]:
        yield x, y
        x, y = x + 1, y + 1
    x, y = stretch[0][0] - 1, stretch[0][1] - 1
    while x >= 0 and y >= 0 and old[x] == new[y]:
        yield x, y
        x, y = x - 1, y - 1
