"""Machine-made captions roll: each caption shows again what the one before it showed. What is shown twice
was said once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pipeline.film.clean import Token

# Captions that follow each other this closely belong to one roll; 100 ms covers the gaps that editors leave.
_TOUCH = 100
# A short line said twice ("Stir.") is no roll by itself; where half of all captions roll, it is.
_SURE = 3
# Rollers show a line alone for an instant while it moves up; nobody says a word in 50 ms.
_FLASH = 50
_ROLLS = 0.5
# In a file that rolls the next caption may come after a pause of so many ms and still show the line before it.
_PAUSE = 10_000
# Where so many of all captions, and three at least, are the one before them once more, each was written twice: nobody
# says every sentence twice.
_DOUBLED, _DOUBLED_LEAST = 0.4, 3


class Spoken:
    """A caption's words by line, in ms; ``lines`` lose what earlier captions have already shown."""

    __slots__ = ("end", "line", "lines", "start")

    def __init__(self, line: int, start: int, end: int, lines: list[list[Token]]) -> None:
        self.line = line
        self.start = start
        self.end = end
        self.lines = lines

    def words(self) -> list[Token]:
        return [token for line in self.lines for token in line]


def unroll(cues: Sequence[Spoken]) -> int:
    """Take the repeated words out of ``cues`` (ascending), in place. Returns how many captions had repeated
    some.

    Three ways of rolling are told: whole lines move up ("A", "A / B", "B / C"), a line grows ("we knead",
    "we knead the dough"), and words slide through ("so we knead", "we knead the dough"). A repeat that is not
    part of a roll, and not the same caption twice at the same time, was said twice and stays.
    """
    shown = [[_key(line) for line in cue.lines] for cue in cues]
    found = [_repeats(cues[i - 1], cues[i], shown[i - 1], shown[i]) for i in range(1, len(cues))]
    pairs = max(len(found), 1)
    doubled = sum(1 for one in found if one.whole) >= max(_DOUBLED_LEAST, _DOUBLED * pairs)
    if sum(1 for one in found if one.roll) >= max(2, _ROLLS * pairs):
        counts = [one.same or one.lines for one in found]
    elif sum(1 for one in found if one.slide >= 2) >= max(3, 0.5 * pairs):
        counts = [one.same or one.slide for one in found]
    else:
        # The file does not roll. Two rolls one behind the other, or captions that lie over each other, may still be
        # a scene that does; one alone is a sentence that was said twice.
        rolls = [0, *(one.roll for one in found), 0]
        counts = [
            one.same or (now if before or after or one.over else 0)
            for one, before, now, after in zip(found, rolls[:-2], rolls[1:-1], rolls[2:], strict=True)
        ]
    if doubled:
        counts = [count or one.whole for count, one in zip(counts, found, strict=True)]
    for cue, count in zip(cues[1:], counts, strict=True):
        _drop(cue, count)
    return sum(1 for n in counts if n)


class _Repeat(NamedTuple):
    """How many words a caption shows again of the one before it: ``same``, all of them at the same time; ``whole``, all
    of them; ``lines``, whole lines or a line that grew; ``roll``, those of which that is sure enough in any file;
    ``slide``, the longest run. ``over``: the one lies over the other."""

    same: int = 0
    whole: int = 0
    lines: int = 0
    roll: int = 0
    slide: int = 0
    over: bool = False


def _repeats(cue: Spoken, after: Spoken, before: Sequence[tuple[str, ...]], now: Sequence[tuple[str, ...]]) -> _Repeat:
    whole_before, whole_now = _flat(before), _flat(now)
    if not whole_before or not whole_now:
        return _Repeat()
    over = after.start < cue.end
    whole = len(whole_now) if before == now else 0
    if whole and over:
        return _Repeat(same=whole, whole=whole, lines=whole, roll=whole, over=over)
    count = _lines_again(before, now)
    if not count and len(whole_now) > len(whole_before) and whole_now[: len(whole_before)] == whole_before:
        count = len(whole_before)
    more = count < len(whole_now)
    if after.start > cue.end + _TOUCH:
        # Behind a pause a roll still shows the line from before it, with new words below.
        near = more and len(now) > 1 and after.start <= cue.end + _PAUSE
        return _Repeat(whole=whole, lines=count if near else 0)
    flash = not more and after.end - after.start <= _FLASH
    sure = flash or (count >= 2 and len(now) > 1) or (count >= _SURE and more)
    return _Repeat(0, whole, count, count if sure else 0, _slide(whole_before, whole_now), over)


def _key(line: list[Token]) -> tuple[str, ...]:
    return tuple(token.text.casefold().strip('.,!?;:…"“”') for token in line)


def _flat(lines: Sequence[tuple[str, ...]]) -> list[str]:
    return [word for line in lines for word in line]


def _lines_again(before: Sequence[tuple[str, ...]], now: Sequence[tuple[str, ...]]) -> int:
    """How many words of ``now`` are whole lines with which ``before`` ended."""
    for n in range(min(len(before), len(now)), 0, -1):
        if before[-n:] == now[:n]:
            return sum(len(line) for line in now[:n])
    return 0


def _slide(before: list[str], now: list[str]) -> int:
    """The longest end of ``before`` with which ``now`` begins, in words."""
    for n in range(min(len(before), len(now)), 0, -1):
        if before[-n:] == now[:n]:
            return n
    return 0


def _drop(cue: Spoken, count: int) -> None:
    for line in cue.lines:
        taken = min(count, len(line))
        del line[:taken]
        count -= taken
