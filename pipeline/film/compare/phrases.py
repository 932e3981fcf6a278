"""The phrases of ``data/phrases.txt``, each kind as one expression, compiled when it is first needed."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path


@cache
def _kinds() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    text = (Path(__file__).parent / "data" / "phrases.txt").read_text(encoding="utf-8")
    for line in text.splitlines():
        if line and not line.startswith("#"):
            kind, _, phrase = line.partition(" ")
            found.setdefault(kind, []).append(phrase)
    return found


@cache
def phrase(kind: str, at_end: bool = False) -> re.Pattern[str]:
    """Any phrase of that kind as whole words; ``at_end`` only where the text ends with it. Raises KeyError for an
    unknown kind."""
    kinds = _kinds()
    any_of = "|".join(kinds[kind]).replace("KIN", "|".join(kinds["kin"]))
    end = "$" if at_end else r"\b"
    return re.compile(rf"\b(?:{any_of}){end}")
