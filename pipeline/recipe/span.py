"""Where a value was typed. A span is born when the YAML is read and travels with the value."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple


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


Places = Sequence[int]
Walk = Callable[[], tuple[Places, Places | None]]


class _Origin:
    """Where the characters of a scalar were typed; walked through when the first of its pieces asks for it, which most
    never do."""

    __slots__ = ("_ends", "_places", "_walk")

    def __init__(self, places: Places = (), ends: Places | None = None, walk: Walk | None = None) -> None:
        self._places = places
        self._ends = ends
        self._walk = walk

    def known(self) -> tuple[Places, Places | None]:
        if self._walk is not None:
            self._places, self._ends = self._walk()
            self._walk = None
        return self._places, self._ends


class Text(str):
    """A string that knows where it was typed.

    ``places`` holds for each character of the value the offset in the file's text where it came from (one more at
    the end), so that any piece of a quoted or folded scalar can be shown where it stands. ``ends`` holds where each
    character's source stops; None where each was typed as itself, one character long.
    """

    __slots__ = ("_file", "_offset", "_origin", "_span", "_starts")
    _file: str
    _offset: int  # where in its origin it begins
    _origin: _Origin
    _span: Span | None  # worked out when it is asked for: most pieces of a text are cut only to be read
    _starts: list[int]

    @classmethod
    def at(
        cls,
        value: str,
        span: Span,
        places: Places,
        starts: list[int],
        ends: Places | None = None,
        walk: Walk | None = None,
    ) -> Text:
        """``starts`` are the offsets of the file's line beginnings; ``walk`` gives places and ends when they are
        asked for, instead of those told."""
        self = cls(value)
        self._file = span.file
        self._offset = 0
        self._origin = _Origin(places, ends, walk)
        self._span = span
        self._starts = starts
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        """A copy for another process says where it stands; its pieces are not asked for there."""
        return Text.at, (str(self), self.span, range(self.span.start, self.span.start + len(self) + 1), self._starts)

    @property
    def places(self) -> Places:
        places, _ = self._origin.known()
        return places[self._offset : self._offset + len(self) + 1]

    @property
    def ends(self) -> Places | None:
        _, ends = self._origin.known()
        return None if ends is None else ends[self._offset : self._offset + len(self)]

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
        places, ends = self._origin.known()
        offset, length = self._offset, len(self)
        first = last = places[min(offset + start, len(places) - 1)]
        if end > start and length:
            start, stop = offset + start, offset + min(end, length)
            last = ends[stop - 1] if ends is not None else places[stop - 1] + 1
            if last < first:  # pieces joined in another order than they were typed
                first = min(places[start:stop])
                last = max(ends[start:stop]) if ends is not None else first + 1
        line = bisect_right(self._starts, first) or 1
        return Span(self._file, line, first - self._starts[line - 1] + 1, first, last if last > first else first)

    def slice(self, start: int, end: int) -> Text:
        """``self[start:end]`` as a Text of its own."""
        piece = Text(self[start:end])
        piece._file = self._file
        piece._offset = self._offset + min(start, len(self))
        piece._origin = self._origin
        piece._span = None
        piece._starts = self._starts
        return piece

    def trimmed(self) -> Text:
        """Without white space at either end."""
        length = len(self)
        right = len(self.rstrip())
        left = length - len(self.lstrip())
        return self if left == 0 and right == length else self.slice(left, max(left, right))
