"""Reads the case files: `## name`, a fenced source, then what is expected of it, one `- ` line each, or a fenced text.

In a source ``⇥`` stands for a tab and ``␣`` for a space at a line's end, which editors would eat.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "cases"
_CASE = re.compile(
    r"^## (?P<name>[^\n]+)\n+```yaml\n(?P<source>.*?)^```\n(?:\n*```text\n(?P<text>.*?)^```\n)?"
    r"(?P<expected>(?:\n*- [^\n]+\n)*)",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True)
class Case:
    file: str
    line: int
    name: str
    source: str
    expected: tuple[str, ...]
    text: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line} {self.name}"


def cases(file: str) -> list[Case]:
    """All cases of one file; fails where a heading has no case that can be read."""
    whole = (FOLDER / file).read_text(encoding="utf-8")
    found = [
        Case(
            file,
            whole.count("\n", 0, m.start()) + 1,
            m["name"].strip(),
            m["source"].replace("⇥", "\t").replace("␣", " "),
            tuple(line[2:].strip() for line in m["expected"].splitlines() if line.startswith("- ")),
            m["text"] or "",
        )
        for m in _CASE.finditer(whole)
    ]
    assert found, f"{file} holds no case"
    assert len(found) == len(re.findall(r"^## ", whole, re.MULTILINE)), f"{file}: a case cannot be read"
    return found
