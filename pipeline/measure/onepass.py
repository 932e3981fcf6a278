"""Reading a short text once from left to right."""

from __future__ import annotations

import re


class OnePass:
    """One pass over a text; ``pos`` is where it stands."""

    __slots__ = ("pos", "text")

    def __init__(self, text: str, pos: int = 0) -> None:
        self.text = text
        self.pos = pos

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Passes over what matches here, if it is not nothing; None where nothing does."""
        m = pattern.match(self.text, self.pos)
        if m and m.end() > self.pos:
            self.pos = m.end()
            return m
        return None
