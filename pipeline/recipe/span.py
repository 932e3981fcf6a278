"""Where a value was typed. A span is born when the YAML is read and travels with the value."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple


class Span(NamedTuple):
    """A stretch of one file. ``line`` and ``column`` count from 1 (characters); ``start`` and ``end`` are character
    offsets into the file's decoded text, so that ``text[start:end]`` is what was typed."""

    file: str
    line: int
    column: int
    start: int
    end: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Text(str):
    """A string that knows where it was typed.

    ``places`` holds for each character of the value the offset in the file's text where it came from (one more at
    the end), so that any piece of a quoted or folded scalar can be shown where it stands. ``ends`` holds where each
    character's source stops; None where each was typed as itself, one character long.
    """

    __slots__ = ("_file", "_span", "_starts", "ends", "places")
    places: tuple[int, ...] | range
    ends: tuple[int, ...] | None
    _file: str
    _span: Span | None  # worked out when it is asked for: most pieces of a text are cut only to be read
    _starts: list[int]

    @classmethod
    def at(
        cls,
        value: str,
        span: Span,
        places: tuple[int, ...] | range,
        starts: list[int],
        ends: tuple[int, ...] | None = None,
    ) -> Text:
        """``starts`` are the offsets of the file's line beginnings."""
        self = cls(value)
        self._file = span.file
        self._span = span
        self.places = places
        self.ends = ends
        self._starts = starts
        return self

    @property
    def span(self) -> Span:
        """Where it stands."""
        if self._span is None:
            self._span = self.part(0, len(self))
        return self._span

    @classmethod
    def joined(cls, parts: Sequence[Text | str], span: Span) -> Text:
        """The parts one after another; a plain str among them is glue that stands nowhere. At least one is a Text."""
        texts = [p for p in parts if isinstance(p, Text)]
        places: list[int] = []
        ends: list[int] = []
        here = texts[0].places[0]
        for part in parts:
            if isinstance(part, Text):
                places.extend(part.places[: len(part)])
                ends.extend(part.ends or (p + 1 for p in part.places[: len(part)]))
                here = ends[-1] if ends else here
            else:
                places.extend([here] * len(part))
                ends.extend([here] * len(part))
        return cls.at("".join(parts), span, (*places, here), texts[0]._starts, tuple(ends))

    def part(self, start: int, end: int) -> Span:
        """The span of ``self[start:end]`` in the file."""
        places, ends, length = self.places, self.ends, len(self)
        first = last = places[start if start < len(places) else -1]
        if end > start and length:
            stop = (end if end < length else length) - 1
            last = ends[stop] if ends is not None else places[stop] + 1
            if last < first:  # pieces joined in another order than they were typed
                first = min(places[start : stop + 1])
                last = max(ends[start : stop + 1]) if ends is not None else first + 1
        line = bisect_right(self._starts, first) or 1
        return Span(self._file, line, first - self._starts[line - 1] + 1, first, last if last > first else first)

    def slice(self, start: int, end: int) -> Text:
        """``self[start:end]`` as a Text of its own."""
        piece = Text(self[start:end])
        piece._file = self._file
        piece._span = None
        piece.places = self.places[start : end + 1] or self.places[-1:]
        piece.ends = self.ends[start:end] if self.ends is not None else None
        piece._starts = self._starts
        return piece

    def trimmed(self) -> Text:
        """Without white space at either end."""
        length = len(self)
        right = len(self.rstrip())
        left = length - len(self.lstrip())
        return self if left == 0 and right == length else self.slice(left, max(left, right))
