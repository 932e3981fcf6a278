"""The text form: findings grouped by recipe, each with its line of source, the mark under it, why, and help."""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from typing import IO

from pipeline.proof.finding import Finding, Severity
from pipeline.proof.report import Sheet, safe, summary
from pipeline.recipe.span import Span

_COLOUR: dict[Severity, str] = {"error": "31", "warning": "33", "note": "36"}
_WIDTH = 100  # columns of source shown; a longer line is cut around the mark
_TAB = "    "
_JOINER = "\u200d"  # zero-width joiner: glues two emoji into one


def wants_colour(stream: IO[str], env: Mapping[str, str] = os.environ) -> bool:
    """Colour only on a terminal, and never where NO_COLOR is set to anything (https://no-color.org) or TERM is dumb."""
    return not env.get("NO_COLOR") and env.get("TERM") != "dumb" and stream.isatty()


def print_text(sheets: Sequence[Sheet], colour: bool = False) -> str:
    """All findings as a person reads them, closed by a line that counts them. Ends with a newline."""
    paragraphs: list[str] = []
    for one in sheets:
        if one.findings:
            title = f"{one.title} ({one.file})" if one.title else one.file
            paragraphs.append(_ink(safe(title), "1", colour))
            paragraphs += ["\n".join(_lines(f, one, colour)) for f in one.findings]
    paragraphs.append(_ink(summary(sheets), "1", colour))
    return "\n\n".join(paragraphs) + "\n"


def _ink(text: str, code: str, colour: bool) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if colour else text


def _lines(f: Finding, one: Sheet, colour: bool) -> Iterator[str]:
    code = _COLOUR[f.severity]
    head = _ink(f"{f.severity}[{f.check}]", code, colour)
    yield f"{safe(str(f.span))}: {head} {safe(f.message)}"
    yield from _source(f, one, colour)
    if f.why:
        yield f"why: {safe(f.why)}"
    for n, fix in enumerate(f.fixes):
        yield f"{'help' if n == 0 else '  or'}: {safe(fix.title)}"


def _source(f: Finding, one: Sheet, colour: bool) -> Iterator[str]:
    """The marked line; the other half of a pair on the same line is underlined with dashes, else shown below."""
    if f.span.file != one.file or not one.source:
        return
    code = _COLOUR[f.severity]
    second = f.second if f.second and f.second.file == one.file else None
    gutter = len(str(max(f.span.line, second.line if second else 0)))
    if second and second.line == f.span.line:
        text, rule = _marked(one.source, f.span, second)
        shown = [(f.span.line, text, rule)]
    else:
        shown = [(f.span.line, *_marked(one.source, f.span, None))]
        if second:
            text, rule = _marked(one.source, second, None)
            shown.append((second.line, text, rule.replace("^", "-")))
    for number, text, rule in sorted(shown):
        if text.strip():
            yield f"{number:>{gutter}} | {text}"
            yield f"{' ' * gutter} | {_ink(rule, code, colour)}"


def _marked(source: str, span: Span, second: Span | None) -> tuple[str, str]:
    """The line that ``span`` starts in as it is shown, and the rule below it with ``^`` and ``-``."""
    start = max(source.rfind("\n", 0, span.start), source.rfind("\r", 0, span.start)) + 1
    ends = [at for at in (source.find("\n", start), source.find("\r", start)) if at >= 0]
    end = min(ends, default=len(source))
    raw = source[start:end]
    cells = [(_shown(c), _cells(raw, i)) for i, c in enumerate(raw)]
    marks = [" "] * (len(raw) + 1)
    for one, sign in ((second, "-"), (span, "^")):
        if one is not None:
            first = min(max(one.start - start, 0), len(raw))
            for i in range(first, min(max(one.end - start, first + 1), max(len(raw), first + 1))):
                marks[i] = sign
    text = "".join(t for t, _ in cells)
    rule = "".join(sign * width for sign, (_, width) in zip(marks, cells, strict=False)) + marks[-1]
    if not rule.strip():  # the mark stands on a character that has no width of its own
        at = sum(width for _, width in cells[: min(span.start - start, len(cells))])
        rule = " " * at + "^"
    rule = rule.rstrip()
    return _window(text, rule, cells)


def _window(text: str, rule: str, cells: Sequence[tuple[str, int]]) -> tuple[str, str]:
    """A long line cut to what stands around its marks, "…" where something was left out."""
    total = sum(width for _, width in cells)
    if total <= _WIDTH:
        return text.rstrip(), rule
    first = len(rule) - len(rule.lstrip())
    left = max(0, min(first - _WIDTH // 3, total - _WIDTH))
    out, column = [], 0
    for shown, width in cells:
        if column >= left and column + width <= left + _WIDTH:
            out.append(shown)
        elif column < left < column + width:
            out.append(" " * (column + width - left))
        column += width
    before, after = ("…" if left else ""), ("…" if left + _WIDTH < total else "")
    cut = rule[left : left + _WIDTH].rstrip()
    return before + "".join(out) + after, " " * len(before) + cut


def _shown(character: str) -> str:
    return _TAB if character == "\t" else safe(character)


def _cells(text: str, index: int) -> int:
    """How many terminal columns one character takes: Unicode Standard Annex 11, wide and fullwidth take two.

    A character joined to the one before it (an emoji sequence) takes none, like combining marks.
    """
    character = text[index]
    shown = _shown(character)
    if shown != character:
        return len(shown)
    if unicodedata.category(character) in ("Mn", "Me", "Cf") or (index and text[index - 1] == _JOINER):
        return 0
    if 0x1F3FB <= ord(character) <= 0x1F3FF and index:  # a skin tone colours the emoji before it
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1
