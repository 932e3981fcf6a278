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

    __slots__ = ("_starts", "ends", "places", "span")
    span: Span
    places: tuple[int, ...] | range
    ends: tuple[int, ...] | None
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
        self.span = span
        self.places = places
        self.ends = ends
        self._starts = starts
        return self

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
        first = self.places[min(start, len(self.places) - 1)]
        last = first
        if end > start and len(self):
            stop = min(end, len(self)) - 1
            last = self.ends[stop] if self.ends is not None else self.places[stop] + 1
            if last < first:  # pieces joined in another order than they were typed
                first = min(self.places[start : stop + 1])
                last = max(self.ends[start : stop + 1]) if self.ends is not None else first + 1
        line = max(bisect_right(self._starts, first), 1)
        return Span(self.span.file, line, first - self._starts[line - 1] + 1, first, max(last, first))

    def slice(self, start: int, end: int) -> Text:
        """``self[start:end]`` as a Text of its own."""
        ends = self.ends[start:end] if self.ends is not None else None
        return Text.at(str(self)[start:end], self.part(start, end), self.places[start : end + 1], self._starts, ends)

    def trimmed(self) -> Text:
        """Without white space at either end."""
        plain = str(self)
        left = len(plain) - len(plain.lstrip())
        right = len(plain.rstrip())
        return self if left == 0 and right == len(plain) else self.slice(left, max(left, right))
