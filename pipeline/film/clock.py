"""The film's clock: whole milliseconds in, a written time out, and back. A time is split into its fields
once."""

from __future__ import annotations

import re

SECOND = 1_000
MINUTE = 60_000
HOUR = 3_600_000

# One to three colon fields, then a decimal part behind "." or "," (SubRip writes a comma, WebVTT a point).
# A fourth colon field is frames, or milliseconds when it has three digits: both are met in files that
# editors export.
STAMP = r"[-−–]?\d{1,4}(?::\d{1,3}){1,2}(?:[.,:;]\d{1,6})?"
_FIELDS = re.compile(r"([-−–]?)(?:(\d{1,4}):)?(\d{1,4}):(\d{1,3})(?:([.,:;])(\d{1,6}))?\s*\Z")

# Frames are seldom met and never with their rate; 25 a second is the European broadcast rate (common
# practice, no source). The error against 24 or 30 stays under a fifth of a second.
FRAMES = 25


def read_stamp(text: str) -> int | None:
    """Whole milliseconds of a written time ("1:05", "00:01:05,5", "1:02:03.250"), or None if it is none.

    A decimal part is a decimal part: ",5" is half a second. Below zero where the time is written so.
    Minutes above 59 are taken only when no hour is written ("75:10"), seconds above 59 never.
    """
    m = _FIELDS.match(text.strip())
    if m is None:
        return None
    sign, hours, minutes, seconds, mark, part = m.groups()
    if int(seconds) > 59 or (hours is not None and int(minutes) > 59):
        return None
    ms = int(hours or 0) * HOUR + int(minutes) * MINUTE + int(seconds) * SECOND
    if part:
        if mark in ":;" and len(part) < 3:
            if int(part) >= 60:
                return None
            ms += min(int(part) * SECOND // FRAMES, SECOND - 1)
        else:
            ms += int(part[:3].ljust(3, "0"))
    return -ms if sign else ms


def _split(ms: int) -> tuple[int, int, int, int]:
    if ms < 0:
        raise ValueError(f"a film has no time before its start: {ms} ms")
    hours, rest = divmod(ms, HOUR)
    minutes, rest = divmod(rest, MINUTE)
    return hours, minutes, *divmod(rest, SECOND)


def say_moment(ms: int, hours: bool | None = None) -> str:
    """ "1:05" or "1:02:03", the second in which ``ms`` falls. ``hours`` forces or forbids the hour field; by
    default it is written when it is not zero. Raises ValueError below zero, and where a forbidden hour is
    needed."""
    h, m, s, _ = _split(ms)
    if hours is None:
        hours = h > 0
    if hours:
        return f"{h}:{m:02}:{s:02}"
    if h:
        raise ValueError(f"{ms} ms needs an hour field")
    return f"{m}:{s:02}"


def say_exact(ms: int, mark: str = ".") -> str:
    """ "01:02:03.250": hours of at least two digits and three decimals, as WebVTT wants them (W3C WebVTT,
    "WebVTT timestamp"). ``mark`` "," gives SubRip's form. Raises ValueError below zero."""
    h, m, s, rest = _split(ms)
    return f"{h:02}:{m:02}:{s:02}{mark}{rest:03}"
