"""A source file's bytes become text: its size, its encoding, and characters that have no business in it."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from pathlib import Path
from typing import NamedTuple

from pipeline.recipe.problem import Problem, SourceError
from pipeline.recipe.span import Span

LIMIT = 1_000_000  # bytes; a long recipe has 10,000

_BREAK = re.compile(r"\r\n|\n|\r")
# What YAML 1.1 (section 5.1) does not print, and the line breaks and marks that an editor does not show as such.
# The rare ones are looked for one by one: a regular expression over all of Unicode takes longer to build than to use.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
_RARE = "\u2028\u2029\ufeff\ufffe\uffff"
_MOST = 20  # stray characters told one by one


class Source(NamedTuple):
    """A file's decoded text (a byte order mark stays in it, as U+FEFF) and the offsets where its lines begin."""

    file: str
    text: str
    starts: list[int]

    @property
    def bom(self) -> int:
        """The length of the byte order mark, 0 or 1."""
        return 1 if self.text.startswith("\ufeff") else 0

    def span(self, start: int, end: int) -> Span:
        """The span from one offset to another."""
        line = max(bisect_right(self.starts, start), 1)
        return Span(self.file, line, start - self.starts[line - 1] + 1, start, max(start, end))

    def line(self, number: int) -> str:
        """A line's text, without its break; numbers count from 1."""
        start = self.starts[number - 1]
        end = self.starts[number] if number < len(self.starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")

    def problem(self, span: Span, message: str, help: str = "", why: str = "") -> Problem:
        return Problem(span, message, help, self.line(span.line), why)


def source_of(text: str, file: str) -> Source:
    """A Source from decoded text. Raises SourceError for characters that cannot stand in it."""
    bom = 1 if text.startswith("\ufeff") else 0
    source = Source(file, text, [bom, *(m.end() for m in _BREAK.finditer(text, bom))])
    if len(text) > LIMIT or (len(text) > LIMIT // 4 and len(text.encode("utf-8", "replace")) > LIMIT):
        raise SourceError([_too_big(file)])
    strays = _strays(text, bom)
    if strays:
        problems = [_stray(source, at) for at in strays[:_MOST]]
        if len(strays) > _MOST:
            last = problems[-1]
            problems[-1] = source.problem(
                last.span, f"{last.message}, and {len(strays) - _MOST} more like it below", last.help
            )
        raise SourceError(problems, text)
    return source


def _strays(text: str, start: int) -> list[int]:
    """Where characters stand that cannot be seen, in order."""
    found = [m.start() for m in _CONTROL.finditer(text, start)]
    if text.isascii():
        return found
    for rare in _RARE:
        at = text.find(rare, start)
        while at >= 0:
            found.append(at)
            at = text.find(rare, at + 1)
    try:
        text.encode()
    except UnicodeEncodeError:  # half a surrogate pair, which no file in UTF-8 has
        found += [i for i, char in enumerate(text) if "\ud800" <= char <= "\udfff"]
    return sorted(found)


def decode(data: bytes, file: str) -> Source:
    """A Source from a file's bytes. Raises SourceError for what is not UTF-8 text of at most 1 MB."""
    if len(data) > LIMIT:
        raise SourceError([_too_big(file)])
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise SourceError([_utf_16(file)])
    if b"\x00" in data[:400] and data[:400].count(b"\x00") * 3 > len(data[:400]):
        raise SourceError([_utf_16(file)])
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise SourceError([_not_utf_8(data, error, file)], data.decode("utf-8", "replace")) from None
    return source_of(text, file)


def load(path: Path) -> tuple[Source, bytes]:
    """A file's Source and its bytes. Raises SourceError for one that is missing, no file, too big, or not UTF-8."""
    file = str(path)
    try:
        if path.is_dir():
            raise SourceError([Problem(_top(file), "this is a folder, not a file", "name the recipe.yaml inside it")])
        if path.exists() and not path.is_file():
            raise SourceError([Problem(_top(file), "this is not an ordinary file")])
        with path.open("rb") as stream:
            data = stream.read(LIMIT + 1)
    except FileNotFoundError:
        raise SourceError([Problem(_top(file), "there is no such file")]) from None
    except (OSError, ValueError) as error:
        words = str(getattr(error, "strerror", None) or error).lower()
        raise SourceError([Problem(_top(file), f"the file cannot be opened: {words}")]) from None
    return decode(data, file), data


def _top(file: str) -> Span:
    return Span(file, 1, 1, 0, 0)


def _too_big(file: str) -> Problem:
    return Problem(
        _top(file),
        "the file is over 1 MB, which no recipe is",
        "check that it is the right file; pictures and films stand beside the recipe, not inside it",
    )


def _utf_16(file: str) -> Problem:
    return Problem(
        _top(file),
        "the file is saved as UTF-16",
        "save it again as UTF-8: most editors offer that under `Save as`, as `Encoding`",
    )


def _not_utf_8(data: bytes, error: UnicodeDecodeError, file: str) -> Problem:
    text = data.decode("utf-8", "replace")
    start = len(data[: error.start].decode("utf-8"))
    bom = 1 if text.startswith("\ufeff") else 0
    source = Source(file, text, [bom, *(m.end() for m in _BREAK.finditer(text, bom))])
    byte = data[error.start]
    meant, name = "", "Windows-1252"
    try:
        char = bytes((byte,)).decode("cp1252")
        meant = f"; in {name} that byte is `{char}`" if char.isprintable() else ""
    except UnicodeDecodeError:
        name = "Mac Roman"
        meant = f"; in {name} that byte is `{bytes((byte,)).decode('mac_roman')}`"
    return source.problem(
        source.span(start, start + 1),
        f"the file is not UTF-8 text: byte 0x{byte:02X} at offset {error.start}",
        f"open it as {name} and save it as UTF-8",
        f"every character outside plain English letters has its own bytes in UTF-8{meant}",
    )


def _stray(source: Source, at: int) -> Problem:
    char = source.text[at]
    known = {"\x00": "NUL", "\x85": "next line", "\ufeff": "byte order mark"}
    other = "control character" if ord(char) < 0xA0 else "no character"
    name = known.get(char) or unicodedata.name(char, other).lower()
    lined = char in "\x85\u2028\u2029"
    return source.problem(
        source.span(at, at + 1),
        f"an invisible character stands here: U+{ord(char):04X} ({name})",
        "delete it and press Enter in its place" if lined else "delete it; it came along with something pasted",
    )
