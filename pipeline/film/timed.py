"""Plain timed text: ``[m:ss] words``, a paragraph for each moment. Markdown around it is allowed."""

from __future__ import annotations

import re

from pipeline.film.clock import STAMP, read_stamp
from pipeline.film.raw import RawCue, Read

# What may stand before a stamp: list marks, quote marks, heading marks, emphasis, a bracket.
_STAMP = re.compile(
    rf"""[ \t]*(?:[-*+>]\s+|\#{{1,6}}\s+|\d+[.)]\s+)*   # Markdown before it
    [*_`]{{0,3}}
    (?P<open>[\[(]?)\s*
    (?P<start>{STAMP})
    (?:\s*(?:-+>?|–|—|to|→)\s*(?P<end>{STAMP}))?
    \s*(?P<close>[\])]?)
    (?P<link>\([^)\s]*\))?                               # [0:05](address)
    [*_`]{{0,3}}
    (?P<after>\s*[:–—-]?\s+|\s*$)""",
    re.VERBOSE,
)
_PAIRS = {"": "", "[": "]", "(": ")"}
_MARKUP = re.compile(r"\*\*|__|`|(?<!\w)[*_](?=\S)|(?<=\S)[*_](?!\w)")
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")
_HEADING = re.compile(r"\s*(?:#{1,6}\s|-{3,}\s*$|={3,}\s*$|\*{3,}\s*$)")
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)


def _match(line: str) -> re.Match[str] | None:
    m = _STAMP.match(line)
    if m is None or _PAIRS[m["open"]] != m["close"]:
        return None
    # "2:1 ratio" begins no paragraph: a moment's seconds have two digits.
    return m if read_stamp(m["start"]) is not None and re.search(r":\d\d(?!\d)", m["start"]) else None


def is_timed(text: str) -> bool:
    """Whether any line begins with a time stamp."""
    return any(_match(line) for line in text.split("\n"))


def read_timed(text: str) -> Read:
    """Timed text: a paragraph begins with its time and lasts to the next one. Headings, rules, comments and
    front matter are passed over; other words before the first time are left out, with a note."""
    read = Read()
    lines = _COMMENT.sub(lambda m: "\n" * m[0].count("\n"), text).split("\n")
    at = _front_matter_end(lines)
    cue: tuple[int, int, int | None] | None = None
    content: list[str] = []
    early = 0
    for number in range(at + 1, len(lines) + 1):
        line = lines[number - 1]
        m = _match(line)
        if m is not None:
            if cue is not None:
                read.cues.append(RawCue(*cue, tuple(content)))
            end = read_stamp(m["end"]) if m["end"] else None
            start = read_stamp(m["start"])
            assert start is not None
            cue, content = (number, start, end), []
            line = line[m.end() :]
        elif _HEADING.match(line):
            continue
        words = _plain(line)
        if not words:
            continue
        if cue is None:
            early = early or number
        else:
            content.append(words)
    if cue is not None:
        read.cues.append(RawCue(*cue, tuple(content)))
    if early:
        read.note(early, "words before the first time were left out")
    return read


def _front_matter_end(lines: list[str]) -> int:
    if lines and lines[0].strip() == "---":
        for at in range(1, len(lines)):
            if lines[at].strip() in ("---", "..."):
                return at + 1
    return 0


def _plain(line: str) -> str:
    """The words without Markdown's marks; a quote mark or list mark at the beginning goes, too."""
    line = _LINK.sub(r"\1", re.sub(r"^\s*(?:[>*+-]\s+)+", "", line))
    return _MARKUP.sub("", line).strip()
