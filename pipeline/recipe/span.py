"""Where a value was typed. A span is born when the YAML is read and travels with the value."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
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
    the end), so that any piece of a quoted or folded scalar can be shown where it stands.
    """

    __slots__ = ("_starts", "places", "span")
    span: Span
    places: tuple[int, ...] | range
    _starts: list[int]

    @classmethod
    def at(cls, value: str, span: Span, places: tuple[int, ...] | range, starts: list[int]) -> Text:
        """``starts`` are the offsets of the file's line beginnings."""
        self = cls(value)
        self.span = span
        self.places = places
        self._starts = starts
        return self

    def part(self, start: int, end: int) -> Span:
        """The span of ``self[start:end]`` in the file."""
        from bisect import bisect_right

        first = self.places[min(start, len(self.places) - 1)]
        last = self.places[min(end, len(self.places)) - 1] + 1 if end > start else first
        line = bisect_right(self._starts, first)
        return Span(self.span.file, line, first - self._starts[line - 1] + 1, first, max(last, first))

    def slice(self, start: int, end: int) -> Text:
        """``self[start:end]`` as a Text of its own."""
        return Text.at(str(self)[start:end], self.part(start, end), self.places[start : end + 1], self._starts)
