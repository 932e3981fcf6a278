"""YAML as a cook likes to edit it: plain where it can be plain, quoted where it must, comments in a column."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pipeline.recipe.values import slugify

_WIDE = 100  # characters a line of a step's text
_COLUMN = 52  # where comments begin, if the line leaves room
_PLAIN = re.compile(r"[\w¼-¾⅐-⅞(][^\n\r\t\x00-\x1f\x7f-\x9f]*\Z")
_UNSAFE = re.compile(r": |:\Z| #|[\[\]{}]|\\|\A[-?:] |\A[\d.,:_+-]+\Z")
_WORDS = frozenset(("yes", "no", "true", "false", "on", "off", "null", "none", "y", "n", "~"))
# Characters that YAML does not allow, or that end a line in it (YAML 1.1, 5.1).
_FORBIDDEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]+")
_LIST_LIKE = re.compile(r"([-+*>#]|\d+[.)])(?=\s|\Z)")


@dataclass(frozen=True, slots=True)
class Row:
    """One item of a list and what is said beside it."""

    value: str
    comment: str = ""


def clean(text: str) -> str:
    """One line of text that YAML allows."""
    return " ".join(_FORBIDDEN.sub(" ", text).split())


def scalar(text: str) -> str:
    """The text as a YAML value on one line."""
    text = clean(text)
    plain = (
        _PLAIN.match(text)
        and not _UNSAFE.search(text)
        and text.lower() not in _WORDS
        and not re.match(r"\d[\d_]*(?::[0-5]?\d)+\b|\d{4}-\d\d?-\d\d?\b|0[xob]|[\d.]+e[+-]?\d+\Z", text, re.IGNORECASE)
    )
    return text if plain else json.dumps(text, ensure_ascii=False)


def remark(text: str) -> str:
    """A comment's text, "" for none."""
    text = clean(text)
    return f"# {text}" if text else ""


def beside(line: str, comment: str) -> str:
    """A line with a comment behind it, in the comments' column where there is room."""
    if not comment:
        return line
    return f"{line:<{_COLUMN}}  {remark(comment)}" if len(line) < _COLUMN else f"{line}   {remark(comment)}"


def listing(rows: Iterable[Row], indent: int) -> list[str]:
    """A list's lines; a long comment goes above its line."""
    out: list[str] = []
    pad = " " * indent
    for row in rows:
        line = f"{pad}- {scalar(row.value)}"
        if len(row.comment) > 70:
            out.append(f"{pad}{remark(row.comment)}")
            out.append(line)
        else:
            out.append(beside(line, row.comment))
    return out


def block(text: str, indent: int) -> list[str]:
    """A literal block's lines (what follows ``text: |``), wrapped between words but never inside a mark."""
    pad = " " * indent
    out: list[str] = []
    for paragraph in text.split("\n"):
        tokens = re.findall(r"(?:\{[^{}]*\}|\S)+", clean(paragraph))
        line = ""
        for token in tokens:
            if line and len(line) + len(token) + 1 > _WIDE - indent:
                out.append(pad + _plain_start(line))
                line = token
            else:
                line = f"{line} {token}" if line else token
        if line:
            out.append(pad + _plain_start(line))
        elif out and tokens == [] and paragraph != text:
            out.append("")
    while out and not out[-1].strip():
        out.pop()
    return out


def _plain_start(line: str) -> str:
    """Keeps a line that begins like a list or a heading a plain one (CommonMark, 2.4 Backslash escapes)."""
    m = _LIST_LIKE.match(line)
    if m is None:
        return line
    return f"\\{line}" if not m[1][0].isdigit() else line[: m.end(1) - 1] + "\\" + line[m.end(1) - 1 :]


def slug_line(title: str) -> list[str]:
    """The `slug:` that a title needs from which no address can be made; none for any other."""
    return [] if slugify(title) else [beside("slug: recipe", "the page's name in its address: a-z, 0-9 and hyphens")]


def key(name: str, taken: Sequence[str]) -> str:
    """A component's key: lower case, letters, digits and spaces, unlike the others."""
    base = re.sub(r"[^\w]+", " ", clean(name).lower()).strip() or "part"
    if base in _WORDS or base.replace(" ", "").isdigit():
        base = f"{base} part"
    result, n = base, 2
    while result in taken:
        result, n = f"{base} {n}", n + 1
    return result
