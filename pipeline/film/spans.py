"""Chapters with their ends, for formats that want both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pipeline.film.mark import Chapter

# An unknown film length leaves the last chapter without an end; it is then given the shortest length that the
# film platform accepts for a chapter (10 s, from memory).
LAST = 10_000


def spans(chapters: Sequence[Chapter], length: int | None) -> Iterator[tuple[int, int, Chapter]]:
    """(start, end, chapter) in whole ms: each ends where the next begins, the last with the film
    (``length``), or LAST ms after its start where no length is known or it lies beyond it."""
    for i, chapter in enumerate(chapters):
        if i + 1 < len(chapters):
            end = chapters[i + 1].at
        else:
            end = length if length is not None and length > chapter.at else chapter.at + LAST
        yield chapter.at, end, chapter
