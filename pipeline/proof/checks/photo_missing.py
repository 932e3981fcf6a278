"""A photo that is named and not there."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pipeline.proof.finding import Bench, Check, Edit, Finding, Fix
from pipeline.proof.photos import photos

ID = "photo-missing"


def run(bench: Bench) -> Iterable[Finding]:
    folder = bench.recipe.folder
    for photo in photos(bench.recipe):
        if (folder / photo.file).is_file():
            continue
        from difflib import get_close_matches

        span = photo.file.span
        typed = bench.recipe.source[span.start : span.end] == photo.file
        near = get_close_matches(str(photo.file), _pictures(folder), n=2, cutoff=0.6)
        yield Finding(
            ID,
            "error",
            span,
            f"there is no file {photo.file} beside the recipe",
            why="the page would show a hole where the photo should be",
            fixes=(
                *(Fix(f"`{name}`, which is there", (Edit(span, name),) if typed else ()) for name in near),
                Fix("put the photo into the recipe's folder"),
            ),
        )


def _pictures(folder: Path) -> list[str]:
    kinds = (".jpg", ".jpeg", ".png", ".webp", ".avif")
    if not folder.is_dir():
        return []
    return sorted(p.name for p in folder.iterdir() if p.suffix.lower() in kinds)


CHECK = Check(
    id=ID,
    question="Is every photo where the recipe says?",
    reason="A misspelt file name shows nobody the finished dish; nothing else complains until the page is out.",
    good="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
photos:
  - file: photo.jpg
    alt: A blue bowl heaped with popcorn.
""",
    bad="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
photos:
  - file: phote.jpg
    alt: A blue bowl heaped with popcorn.
""",
    run=run,
)
