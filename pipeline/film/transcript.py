"""What captions of every format become: words with their times, and nothing else."""

from __future__ import annotations

from typing import NamedTuple


class Word(NamedTuple):
    """A spoken word. Times are whole milliseconds from the film's start; ``cue`` is the index of its
    caption."""

    start: int
    end: int
    text: str
    cue: int


class Cue(NamedTuple):
    """One caption as read: times in whole milliseconds, its text, its first line in the file (from 1)."""

    start: int
    end: int
    text: str
    line: int


class Repair(NamedTuple):
    """Something that was put right while reading: file line (from 1), what was wrong and what was done."""

    line: int
    message: str


class Transcript(NamedTuple):
    """A film's speech. ``cues`` ascend and do not overlap; ``words`` ascend."""

    path: str
    cues: tuple[Cue, ...]
    words: tuple[Word, ...]
    repairs: tuple[Repair, ...] = ()


class CaptionError(ValueError):
    """Captions that cannot be read. ``problems`` holds (line, message) pairs, all of them, lines from 1."""

    def __init__(self, path: str, problems: list[tuple[int, str]]) -> None:
        self.path = path
        self.problems = problems
        super().__init__("\n".join(f"{path}:{line}: {message}" for line, message in problems))
