"""Machine-made captions roll: each caption shows again what the one before it showed. What is shown twice
was said once."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.clean import Token

# Captions that follow each other this closely belong to one roll; 100 ms covers the gaps that editors leave.
_TOUCH = 100
# A short line said twice ("Stir.") is no roll by itself; where a fifth of all captions roll, it is.
_SURE = 3
# Rollers show a line alone for an instant while it moves up; nobody says a word in 50 ms.
_FLASH = 50
_ROLLS = 0.2


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
    # What each caption repeats, in words, by the strict rule and by the lenient one for files that roll.
    strict = [0] * len(cues)
    lenient = [0] * len(cues)
    sliding = [0] * len(cues)
    for i in range(1, len(cues)):
        touching = cues[i].start <= cues[i - 1].end + _TOUCH
        before, now = shown[i - 1], shown[i]
        whole_before, whole_now = _flat(before), _flat(now)
        if not whole_before or not whole_now:
            continue
        if before == now and cues[i].start < cues[i - 1].end:
            strict[i] = lenient[i] = len(whole_now)
            continue
        if not touching:
            continue
        count = _lines_again(before, now)
        grown = len(whole_now) > len(whole_before) and whole_now[: len(whole_before)] == whole_before
        if not count and grown:
            count = len(whole_before)
        lenient[i] = count
        flash = count == len(whole_now) and cues[i].end - cues[i].start <= _FLASH
        if flash or (count >= 2 and len(now) > 1) or _SURE <= count < len(whole_now):
            strict[i] = count
        sliding[i] = _slide(whole_before, whole_now)
    pairs = max(len(cues) - 1, 1)
    if sum(1 for n in strict if n) >= max(2, _ROLLS * pairs):
        repeats = lenient
    elif sum(1 for n in sliding if n >= 2) >= max(3, 0.5 * pairs):
        repeats = sliding
    else:
        repeats = strict
    for cue, count in zip(cues, repeats, strict=True):
        _drop(cue, count)
    return sum(1 for n in repeats if n)


def _key(line: list[Token]) -> tuple[str, ...]:
    return tuple(token.text.casefold().strip('.,!?;:…"“”') for token in line)


def _flat(lines: list[tuple[str, ...]]) -> list[str]:
    return [word for line in lines for word in line]


def _lines_again(before: list[tuple[str, ...]], now: list[tuple[str, ...]]) -> int:
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
