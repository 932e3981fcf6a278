"""Chapter marks as a WebVTT file (W3C WebVTT, "WebVTT files with chapter title text")."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.clock import say_exact
from pipeline.film.mark import Chapter
from pipeline.film.spans import spans


def webvtt_chapters(chapters: Sequence[Chapter], length: int | None = None) -> str:
    """The whole file's text; ``length`` is the film's, in ms. Titles are plain text: "&" is escaped, and a
    cue has one line of text."""
    blocks = ["WEBVTT\n"]
    for number, (start, end, chapter) in enumerate(spans(chapters, length), 1):
        title = chapter.title.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
        blocks.append(f"{number}\n{say_exact(start)} --> {say_exact(end)}\n{title}\n")
    return "\n".join(blocks)
