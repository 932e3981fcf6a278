"""A photo that those who cannot see it get nothing of."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.proof.photos import photos

ID = "photo-without-alt"


def run(bench: Bench) -> Iterable[Finding]:
    for photo in photos(bench.recipe):
        alt = " ".join(photo.alt.split())
        bare = alt.casefold() in (photo.file.casefold(), photo.file.rpartition(".")[0].casefold())
        if alt and not bare:
            continue
        says = "has only its file's name for alt text" if alt else "has no alt text"
        yield Finding(
            ID,
            "error",
            photo.file.span,
            f"the photo {photo.file} {says}",
            why="a screen reader reads the alt text aloud in the photo's place (WCAG 2.2, criterion 1.1.1)",
            fixes=(Fix("add `alt:` and say in one sentence what the picture shows"),),
        )


CHECK = Check(
    id=ID,
    question="Does every photo say in words what it shows?",
    reason="Who listens to the page, or loads it without pictures, has the alt text and nothing else.",
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
  - file: photo.jpg
""",
    run=run,
)
