"""YAML's own syntax errors in a cook's words, at the place where she can mend them."""

from __future__ import annotations

import re
from typing import Any

from pipeline.recipe.problem import Problem
from pipeline.recipe.source import Source

# A line up to where its value begins: dashes, then maybe `name: `.
_PREFIX = re.compile(
    r"[ \t]*(?:-[ \t]+)*(?:(?:\"[^\"]*\"|'[^']*'|[^\s:#\"'{\[|>&*!%@`,-][^:#{\"]*?)[ \t]*:(?:[ \t]+|$))?"
)
_TIGHT = re.compile(r"[ \t]*(?:- +)?([A-Za-z][\w-]*):(?=[^\s/:])")
_DASHED = re.compile(r"[ \t]*-(?=[^\s-])")
_COMMENT = re.compile(r"[ \t]#")
_OPENERS = {
    "{": "a text that begins with `{` must be in quotes, or begin on a line of its own after `|`",
    "[": "a text that begins with `[` must be in quotes",
    "*": "a text cannot begin with `*`",
    "&": "a text cannot begin with `&`",
    "!": "a text cannot begin with `!`",
    "%": "a text cannot begin with `%`",
    "@": "a text cannot begin with `@`",
    "`": "a text cannot begin with a backtick",
    ",": "a text cannot begin with a comma",
    "]": "a text cannot begin with `]`",
    "}": "a text cannot begin with `}`",
}


def quoted(text: str) -> str:
    """The text as a YAML scalar in quotes: double ones, or single ones where it holds double ones or a backslash. A
    very long text is shortened, for it is shown only."""
    text = text if len(text) <= 200 else f"{text[:190]} …"
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def syntax_problem(error: Any, source: Source) -> Problem:
    """What libyaml said, translated. ``error`` is a yaml.YAMLError, with marks where it has a place."""
    mark = getattr(error, "problem_mark", None)
    context = getattr(error, "context_mark", None)
    said = str(getattr(error, "problem", "") or error)
    size = len(source.text)
    at = min((mark.index if mark else 0) + source.bom, size)
    began = min((context.index if context else at) + source.bom, size)
    return _Translator(source, said, str(getattr(error, "context", "") or ""), at, began).problem()


class _Translator:
    def __init__(self, source: Source, said: str, context: str, at: int, began: int) -> None:
        self.source = source
        self.said = said
        self.context = context
        self.at = at
        self.began = began
        self.number = source.span(at, at).line
        self.line = source.line(self.number)

    def problem(self) -> Problem:
        if "nesting" in self.said:
            return self.say(
                self.at, self.at + 1, "this is nested far too deep", "put a text that has brackets in quotes"
            )
        for attempt in (
            self.tab,
            self.quote,
            self.escape,
            self.header,
            self.opener,
            self.colon,
            self.name,
            self.layout,
        ):
            found = attempt()
            if found is not None:
                return found
        return self.say(
            self.at,
            self.at + 1,
            "this cannot be read from here on",
            "look for a quote, bracket or colon that should be inside quotes",
            f"YAML says: {self.said}",
        )

    def say(self, start: int, end: int, message: str, help: str, why: str = "") -> Problem:
        start = min(start, len(self.source.text))
        span = self.source.span(start, min(end, len(self.source.text)))
        return self.source.problem(span, message, help, why)

    def offset(self, number: int, column: int) -> int:
        return self.source.starts[number - 1] + column

    def tab(self) -> Problem | None:
        m = re.match(r" *(\t+)", self.line)
        if m is None or ("tab" not in self.said and "cannot start any token" not in self.said and self.number < 1):
            return None
        start = self.offset(self.number, m.start(1))
        return self.say(
            start,
            start + len(m[1]),
            "a tab stands in the indentation",
            "use spaces, two a level; most editors can change tabs to spaces",
            "YAML counts spaces, and a tab has no fixed width",
        )

    def quote(self) -> Problem | None:
        if "quoted scalar" not in self.context or "escape" in self.said:
            return None
        sign = self.source.text[self.began]
        words = "" if sign == '"' else ", and write an apostrophe inside single quotes twice (`Mum''s`)"
        return self.say(
            self.began, self.began + 1, f"this `{sign}` is never closed", f"put a `{sign}` where the text ends{words}"
        )

    def escape(self) -> Problem | None:
        if "escape" not in self.said:
            return None
        at = self.source.text.rfind("\\", self.began, self.at + 1)
        return self.say(
            max(at, self.began),
            self.at + 1,
            "a backslash inside double quotes begins an escape, and this is none",
            "use single quotes, or write the backslash twice",
        )

    def header(self) -> Problem | None:
        if "block scalar" not in self.context:
            return None
        sign = self.source.text[self.began]
        return self.say(
            self.began,
            self.began + 1,
            f"after `{sign}` the text begins on the next line",
            f"press Enter after `{sign}` and indent the text, or put the text in quotes",
        )

    def value(self, number: int) -> tuple[str, str]:
        """A line's lead (dashes and name) and its value."""
        line = self.source.line(number)
        m = _PREFIX.match(line)
        cut = m.end() if m else 0
        return line[:cut], line[cut:]

    def opener(self) -> Problem | None:
        began = self.source.span(self.began, self.began).line
        for number in dict.fromkeys((self.number, began if "flow" in self.context else self.number)):
            lead, value = self.value(number)
            sign = value[:1]
            start = self.offset(number, len(lead))
            if not value or start > self.at:
                continue
            whole = f"`{lead.strip()}{' ' if lead.strip() else ''}{quoted(value.rstrip())}`"
            if sign in ("{", "[") and "flow" in self.context and self.said.startswith("did not find expected ','"):
                if value.count(sign) > value.count("}" if sign == "{" else "]") and not re.match(r"\{[^:,{}]+$", value):
                    return self.say(
                        start,
                        start + 1,
                        f"this `{sign}` is never closed",
                        f"close it, or put the text in quotes: {whole}",
                    )
                return self.say(start, start + 1, _OPENERS[sign], f"write {whole}")
            if sign in _OPENERS and "quoted" not in self.context and (sign not in "{[" or self.at > start):
                if sign in "{[" and "mapping values" in self.said and not re.search(r"[}\]]\s*\S", value):
                    continue
                return self.say(start, start + 1, _OPENERS[sign], f"write {whole}")
            if sign in ("'", '"') and self.at > start and "expected" in self.said and ":" not in self.said:
                inner = value.rstrip()
                bare = inner[1:-1] if inner.endswith(sign) and len(inner) > 1 else inner.replace(sign, "")
                return self.say(
                    self.at,
                    self.at + 1,
                    "the text goes on after its closing quote",
                    f"put all of it in quotes: `{lead.strip()} {quoted(bare)}`",
                    f"the quote that opened at column {len(lead) + 1} was closed before this",
                )
        return None

    def before(self) -> int:
        """The number of the line before that is neither blank nor a comment, or 0."""
        number = self.number - 1
        while number and (not (line := self.source.line(number).strip()) or line.startswith("#")):
            number -= 1
        return number

    def colon(self) -> Problem | None:
        if "block sequence entries" in self.said:
            return self.say(
                self.at,
                self.at + 1,
                "a list begins on a line of its own",
                "press Enter after the colon and indent each `- ` line; put a text that begins with a dash in quotes",
            )
        if "mapping keys are not allowed" in self.said:
            lead, value = self.value(self.number)
            return self.say(
                self.at, self.at + 1, "a text cannot begin with `? `", f"write `{lead.strip()} {quoted(value.strip())}`"
            )
        if "mapping values are not allowed" not in self.said:
            return None
        column = self.at - self.source.starts[self.number - 1]
        head = self.line[:column]
        above = self.before()
        if above and (m := _TIGHT.match(self.source.line(above))) and ":" not in head.strip(" -"):
            return self.tight(above, m)
        if self.line.lstrip().startswith("-") and _DASHED.match(self.line):
            return self.dashed(self.number)
        if above and ":" not in head and re.fullmatch(r"[ \t]*(?:- +)?[\w -]+", head):
            lead, value = self.value(above)
            indent = len(head) - len(head.lstrip(" "))
            if value.strip() and indent > len(lead) - len(lead.lstrip(" ")):
                name = head.strip(" -")
                start = self.offset(self.number, indent)
                return self.say(
                    start,
                    self.at,
                    f"`{name}` is indented under a line that already has its value",
                    "line it up with the names it belongs beside;"
                    " if it goes on with the text above, put that text in quotes or after `|`",
                    f"line {above} ends in `{value.strip()[-30:]}`",
                )
        lead, value = self.value(self.number)
        where = f"`{lead.strip()} {quoted(value.strip())}`" if lead.strip() else "the text in quotes, or after `|`"
        return self.say(
            self.at,
            self.at + 1,
            "a colon and a space stand inside a text without quotes",
            f"write {where}",
            "a colon followed by a space ends a name",
        )

    def tight(self, number: int, m: re.Match[str]) -> Problem:
        start = self.offset(number, m.end() - 1)
        line = self.source.line(number)
        return self.say(
            start,
            start + 1,
            f"a space is missing after `{m[1]}:`",
            f"write `{line[: m.end()].strip()} {line[m.end() :].strip()}`",
        )

    def dashed(self, number: int) -> Problem:
        line = self.source.line(number)
        column = line.index("-")
        start = self.offset(number, column)
        return self.say(
            start, start + 1, "a space is missing after the dash", f"write `- {line[column + 1 :].strip()}`"
        )

    def name(self) -> Problem | None:
        """A line that is neither `name: value` nor `- item`."""
        if "could not find expected ':'" not in self.said:
            return None
        number = self.source.span(self.began, self.began).line
        line = self.source.line(number)
        if m := _TIGHT.match(line):
            return self.tight(number, m)
        if _DASHED.match(line):
            return self.dashed(number)
        start = self.offset(number, len(line) - len(line.lstrip()))
        return self.say(
            start,
            start + len(line.strip()),
            "this line is neither `name: value` nor a list item",
            "write `- ` before it if it is an item; indent it further if it goes on with the text above",
            self.cut_above(number),
        )

    def cut_above(self, number: int) -> str:
        above = number - 1
        line = self.source.line(above) if above else ""
        if (m := _COMMENT.search(line)) and line.strip()[:1] != "#":
            return (
                f"the text in line {above} ends at `{line[m.end() - 1 :][:20]}`, where a comment begins;"
                " quotes keep a `#` in the text"
            )
        return ""

    def layout(self) -> Problem | None:
        """A line that does not line up; stray document marks."""
        if "document start" in self.said or "directive" in self.context or "directive" in self.said:
            return self.say(
                self.at if "directive" not in self.context else self.began,
                self.at + 1,
                "a line like this belongs to no recipe",
                "take it out, or put the text in quotes",
            )
        indent = len(self.line) - len(self.line.lstrip(" "))
        column = self.at - self.source.starts[self.number - 1]
        if "did not find expected" not in self.said or column > indent or not self.line.strip():
            return None
        why = self.cut_above(self.number)
        if self.line.lstrip().startswith(": "):
            return self.say(self.at, self.at + 1, "a name is missing before this colon", "write `name: value`")
        return self.say(
            self.at,
            self.at + max(len(self.line.strip()), 1),
            "this line does not line up with what stands above it",
            "begin it in the same column as the lines that it belongs with",
            why,
        )
