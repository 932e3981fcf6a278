"""Chapter marks as lines of the film's description: a stamp and a title."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.clock import HOUR, say_moment
from pipeline.film.mark import Chapter


def description_lines(chapters: Sequence[Chapter], length: int | None = None) -> list[str]:
    """One line a mark: "0:00 Intro", or "0:00:00 Intro" in every line where the film (``length`` in ms) or
    its marks go over an hour. A mark's milliseconds are dropped, so that it never comes late."""
    hours = max([length or 0, *(chapter.at for chapter in chapters)]) >= HOUR
    return [f"{say_moment(chapter.at, hours)} {chapter.title}" for chapter in chapters]
