"""What is wrong with a source file, where, and what to write instead."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import NamedTuple

from pipeline.recipe.span import Span

_WIDE = 110  # columns of a source line that are shown; a longer one is cut around the caret


class Problem(NamedTuple):
    """One thing that cannot be read. ``message`` is the headline and stands alone; ``why`` the ground; ``help`` what
    to write instead. ``line_text`` is the source line of ``span``, without its break ("" where there is none)."""

    span: Span
    message: str
    help: str = ""
    line_text: str = ""
    why: str = ""

    def __str__(self) -> str:
        """``file:line:column: error: headline``, the line, a caret, why and help."""
        out = [f"{self.span}: error: {self.message}"]
        if self.line_text.strip():
            line, caret = marked(self.line_text, self.span.column, self.span.end - self.span.start)
            number = str(self.span.line)
            out += [f"{number} | {line}", f"{' ' * len(number)} | {caret}"]
        out += [f"{label}: {words}" for label, words in (("why", self.why), ("help", self.help)) if words]
        return "\n".join(out)


class SourceError(Exception):
    """A source file that cannot be read. ``problems`` holds all of them, in the order of their places; ``source`` is
    the file's text, "" where it could not be had."""

    def __init__(self, problems: Sequence[Problem], source: str = "") -> None:
        self.source = source
        first: dict[tuple[str, int, str], Problem] = {}
        for problem in sorted(problems, key=lambda p: (p.span.file, p.span.start, p.span.end)):
            first.setdefault((problem.span.file, problem.span.start, problem.message), problem)
        self.problems = list(first.values())
        super().__init__("\n\n".join(str(p) for p in self.problems))

    def __reduce__(self) -> tuple[type[SourceError], tuple[list[Problem], str]]:
        return type(self), (self.problems, self.source)


def _width(text: str) -> int:
    """How many terminal columns a text takes: wide characters two, combining marks none (Unicode TR 11)."""
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def marked(line: str, column: int, length: int) -> tuple[str, str]:
    """A source line as shown and the carets that go under it. ``column`` counts characters from 1."""
    start = min(column - 1, len(line))
    stop = min(max(start + length, start + 1), max(len(line.rstrip()), start + 1))
    cut = 0
    if len(line) > _WIDE:
        cut = max(0, min(start - _WIDE // 3, len(line) - _WIDE))
        end = min(len(line), cut + _WIDE)
        line = ("…" if cut else "") + line[cut:end] + ("…" if end < len(line) else "")
        shift = cut - (1 if cut else 0)
        start, stop = start - shift, min(stop - shift, len(line))
    shown = "".join(c if c == "\t" or c.isprintable() else "�" for c in line)
    pad = "".join("\t" if c == "\t" else " " * _width(c) for c in shown[:start])
    return shown.rstrip(), pad + "^" * max(_width(shown[start:stop]), 1)
