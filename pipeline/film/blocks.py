"""SubRip and WebVTT: captions whose time line carries an arrow.

Why not a library: srt 3.5.3 and webvtt-py 0.6.0 were measured on the faults of real files. srt reads
"00:01,000" (no hours) as one minute and ",5" as 5 ms, both in silence, and gives up on the whole file at one
bad time; webvtt-py leaves out every caption whose time has a comma or a slip, in silence, and refuses a file
without its first line; neither tells a caption's line in the file, which each of our messages needs. Both
stay in the tests as witnesses: on sound files this reader and they must agree.
"""

from __future__ import annotations

import re

from pipeline.film.clock import STAMP, read_stamp
from pipeline.film.raw import RawCue, Read

# "-->" as it is meant, and as editors and word processors have been seen to leave it.
_ARROW = r"(?:-+\s*-*\s*(?:>|&gt;)|[–—]+\s*>|[→⟶➔])"
_TIMES = re.compile(rf"\s*({STAMP})\s*{_ARROW}\s*({STAMP})(?=\s|$)(.*)")
_MAYBE = re.compile(rf"\s*(\S.*?)\s*{_ARROW}\s*(\S+)")
_NUMBER = re.compile(r"\s*-?\d+\.?\d*\s*\Z")
_HEAD = re.compile(r"WEBVTT(?=[ \t\n]|\Z)", re.IGNORECASE)
_ASIDE = re.compile(r"(?:NOTE|STYLE|REGION)(?:[ \t:]|\Z)")


def is_arrowed(text: str) -> bool:
    """Whether the text has at least one time line with an arrow."""
    return any(_TIMES.match(line) for line in text.split("\n") if ":" in line)


def is_webvtt(text: str) -> bool:
    return _HEAD.match(text.lstrip()) is not None


def read_subrip(text: str) -> Read:
    """SubRip: a number, a time line, text lines, an empty line. Numbers may be missing or wrong, hours too;
    empty lines inside a caption are joined over."""
    return _read(text, webvtt=False)


def read_webvtt(text: str) -> Read:
    """WebVTT (W3C): its first line may be missing; NOTE, STYLE and REGION blocks are passed over."""
    return _read(text, webvtt=True)


def _read(text: str, webvtt: bool) -> Read:
    read = Read()
    lines = text.split("\n")
    at = _header_end(lines) if webvtt else 0
    cue: tuple[int, int | None, int | None] | None = None
    content: list[str] = []
    gap = True  # an empty line, or the beginning, stands before this line
    torn = False  # this caption goes on behind an empty line

    def close() -> None:
        nonlocal cue, content, torn
        if cue is not None:
            if torn:
                read.note(cue[0], "an empty line stood inside this caption; its parts were joined")
            read.cues.append(RawCue(cue[0], cue[1], cue[2], tuple(content)))
        cue, content, torn = None, [], False

    while at < len(lines):
        line = lines[at]
        number = at + 1
        at += 1
        if not line.strip():
            gap = True
            continue
        if webvtt and gap and _ASIDE.match(line) and not (at < len(lines) and _TIMES.match(lines[at])):
            close()
            while at < len(lines) and lines[at].strip():
                at += 1
            continue
        times = _times(line, number, read)
        if times is not None:
            # The line before belongs to this caption when it is its number or name, not the last one's text.
            close()
            cue = (number, *times)
            gap = False
            continue
        if at < len(lines) and _is_title(line, lines[at], gap, webvtt):
            close()
            continue
        if cue is None:
            read.note(number, "words before the first time were left out")
            while at < len(lines) and lines[at].strip() and not _MAYBE.match(lines[at]):
                at += 1
            gap = False
            continue
        torn = torn or (gap and bool(content))
        content.append(line)
        gap = False
    close()
    return read


def _header_end(lines: list[str]) -> int:
    """The index of the first line behind the header: it lasts until an empty line or a time line."""
    at = 0
    while at < len(lines) and not lines[at].strip():
        at += 1
    if at == len(lines) or not _HEAD.match(lines[at].lstrip()):
        return 0
    at += 1
    while at < len(lines) and lines[at].strip() and not _MAYBE.match(lines[at]):
        at += 1
    return at


def _is_title(line: str, after: str, gap: bool, webvtt: bool) -> bool:
    """A caption's number (SubRip) or name (WebVTT) right above its time line."""
    if not _TIMES.match(after) and not _looks_like_times(after):
        return False
    return bool(_NUMBER.match(line)) or (gap and webvtt)


def _looks_like_times(line: str) -> bool:
    """A time line with a slip in it: an arrow between two things with digits and colons."""
    m = _MAYBE.match(line)
    return m is not None and all(":" in part and re.search(r"\d", part) for part in m.groups())


def _times(line: str, number: int, read: Read) -> tuple[int | None, int | None] | None:
    """Start and end of a time line; (None, …) where a half of it is no time; None if it is no time line."""
    m = _TIMES.match(line)
    if m is None and not _looks_like_times(line):
        return None
    m = m or _MAYBE.match(line)
    assert m is not None
    start, end = read_stamp(m[1]), read_stamp(m[2])
    for typed, value in ((m[1], start), (m[2], end)):
        if value is None:
            read.note(number, f"“{typed[:30]}” is no time; it was taken from the captions around it")
    return start, end
