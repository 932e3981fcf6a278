"""A caption as its file has it, before anything is put right: what every format's reader hands on."""

from __future__ import annotations

from typing import NamedTuple

from pipeline.film.transcript import Repair


class RawCue(NamedTuple):
    """One caption. ``line`` is the file line of its time (from 1), ``lines`` its text lines with all their
    tags.

    Times are whole milliseconds, below zero where the file says so. None where the file's time could not be
    read (``start``), or where the format has none (``end`` in timed text).
    """

    line: int
    start: int | None
    end: int | None
    lines: tuple[str, ...]


class Read:
    """What a format's reader found: captions in file order, repairs, and problems as (line, message)."""

    __slots__ = ("cues", "problems", "repairs")

    def __init__(self) -> None:
        self.cues: list[RawCue] = []
        self.repairs: list[Repair] = []
        self.problems: list[tuple[int, str]] = []

    def note(self, line: int, message: str) -> None:
        self.repairs.append(Repair(line, message))
