"""Lists of words and phrases that a text is searched for, compiled when they are first needed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator


class Phrases:
    """Any of some words or phrases, capitals or not, as whole words.

    Written one alternative (a regular expression) to a line; ``before`` and ``after`` hold for all of them. Most
    recipes need few of these lists, and compiling one costs more than using it.
    """

    __slots__ = ("_compiled", "_source")

    def __init__(self, lines: str, before: str = r"\b", after: str = r"\b") -> None:
        alternatives = "|".join(line.strip() for line in lines.strip().splitlines())
        self._source = f"{before}(?:{alternatives}){after}"
        self._compiled: re.Pattern[str] | None = None

    @property
    def pattern(self) -> re.Pattern[str]:
        if self._compiled is None:
            self._compiled = re.compile(self._source, re.IGNORECASE)
        return self._compiled

    def search(self, text: str) -> re.Match[str] | None:
        return self.pattern.search(text)

    def match(self, text: str, position: int = 0) -> re.Match[str] | None:
        return self.pattern.match(text, position)

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        return self.pattern.finditer(text)

    def sub(self, with_: str | Callable[[re.Match[str]], str], text: str) -> str:
        return self.pattern.sub(with_, text)
