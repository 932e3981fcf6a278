"""What the printers print: the findings of one source each, and the machine's form of them.

The three forms (text, line, json) share nothing but these types; none of them decides anything.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, NamedTuple

from pipeline.proof.finding import SEVERITIES, Finding, Fix, Severity
from pipeline.recipe.model import Recipe
from pipeline.recipe.span import Span

VERSION = 1


class Sheet(NamedTuple):
    """One source and what was found in it. ``title`` and ``slug`` are "" where the source could not be read."""

    file: str
    title: str
    slug: str
    source: str
    findings: tuple[Finding, ...]

    def number(self, severity: Severity) -> int:
        return sum(f.severity == severity for f in self.findings)


def sheet(recipe: Recipe, findings: Sequence[Finding]) -> Sheet:
    """The sheet of a recipe that could be read."""
    return Sheet(str(recipe.path), str(recipe.title), recipe.slug, recipe.source, tuple(findings))


def exit_code(sheets: Sequence[Sheet]) -> int:
    """0 where nothing stops publishing, 1 with errors, 2 where a source could not be read at all."""
    found = [f for s in sheets for f in s.findings]
    if any(f.check == "source-unreadable" for f in found):
        return 2
    return 1 if any(f.severity == "error" for f in found) else 0


def summary(sheets: Sequence[Sheet]) -> str:
    """The closing line: "3 recipes: 1 error, 2 warnings" or "3 recipes: nothing found"."""
    counts = [(sum(s.number(severity) for s in sheets), severity) for severity in SEVERITIES]
    said = [f"{n} {word}{'' if n == 1 else 's'}" for n, word in counts if n]
    recipes = f"{len(sheets)} recipe{'' if len(sheets) == 1 else 's'}"
    return f"{recipes}: {', '.join(said) or 'nothing found'}"


def print_lines(sheets: Sequence[Sheet]) -> str:
    """One line a finding, for editors and CI: ``file:line:col: severity[check-id] message``."""
    return "".join(
        f"{safe(str(f.span))}: {f.severity}[{f.check}] {safe(f.message)}\n" for s in sheets for f in s.findings
    )


def print_json(sheets: Sequence[Sheet]) -> str:
    """The documented form; ``data/findings.schema.json`` is its JSON Schema. Ends with a newline."""
    return json.dumps(as_data(sheets), ensure_ascii=False, indent=2) + "\n"


def as_data(sheets: Sequence[Sheet]) -> dict[str, Any]:
    """The same as plain data. ``version`` grows only when a field changes its meaning or goes."""
    return {
        "version": VERSION,
        "summary": {
            "recipes": len(sheets),
            **{f"{severity}s": sum(s.number(severity) for s in sheets) for severity in SEVERITIES},
        },
        "recipes": [
            {"file": s.file, "title": s.title, "slug": s.slug, "findings": [_finding(f) for f in s.findings]}
            for s in sheets
        ],
    }


def _finding(f: Finding) -> dict[str, Any]:
    return {
        "check": f.check,
        "severity": f.severity,
        "message": f.message,
        "why": f.why,
        "place": _place(f.span),
        "second": _place(f.second) if f.second else None,
        "film_ms": f.at,
        "fixes": [_fix(fix) for fix in f.fixes],
    }


def _fix(fix: Fix) -> dict[str, Any]:
    return {"title": fix.title, "edits": [{"place": _place(e.span), "text": e.text} for e in fix.edits]}


def _place(span: Span) -> dict[str, Any]:
    """``line`` and ``column`` count from 1 in characters; ``start`` and ``end`` are character offsets from 0."""
    return {
        "file": span.file,
        "line": span.line,
        "column": span.column,
        "start": span.start,
        "end": span.end,
    }


# Characters that would steer a terminal or turn the reading direction round: C0, DEL, C1, line separators, bidi marks.
_STEERING = {
    *range(0x20), *range(0x7F, 0xA0), 0x2028, 0x2029, 0x200E, 0x200F, 0x061C, 0xFEFF,
    *range(0x202A, 0x202F), *range(0x2066, 0x206A), *range(0xD800, 0xE000),
}  # fmt: skip
_ESCAPES = {code: f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" for code in _STEERING}


def safe(text: str) -> str:
    """``text`` with everything that would steer a terminal written out: a source must not paint over its findings."""
    return text.translate(_ESCAPES)
