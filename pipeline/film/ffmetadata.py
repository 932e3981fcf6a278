"""Chapter marks as a metadata file for ffmpeg (its documentation, "Metadata": a header, sections,
``key=value``)."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pipeline.film.mark import Chapter, clean_title
from pipeline.film.spans import spans

_SPECIAL = re.compile(r"([=;#\\\n])")


def _escaped(value: str) -> str:
    # ffmpeg 5.1 takes a line end behind an escaped backslash for an escaped line end and swallows the next section
    # (measured), so a title does not end in one.
    value = value.rstrip("\\ ")
    return _SPECIAL.sub(r"\\\1", value)


def ffmetadata(chapters: Sequence[Chapter], length: int | None = None, title: str = "") -> str:
    """The whole file's text, times in 1/1000 s; ``length`` is the film's, in ms, ``title`` the film's
    title."""
    lines = [";FFMETADATA1"]
    if title:
        lines.append(f"title={_escaped(clean_title(title))}")
    for start, end, chapter in spans(chapters, length):
        lines += [
            "[CHAPTER]",
            "TIMEBASE=1/1000",
            f"START={start}",
            f"END={end}",
            f"title={_escaped(chapter.title)}",
        ]
    return "\n".join(lines) + "\n"
