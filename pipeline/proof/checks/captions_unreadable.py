"""A captions file that cannot be read."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.film.captions import read_captions
from pipeline.film.transcript import CaptionError
from pipeline.proof.finding import Bench, Check, Finding, Fix
from pipeline.recipe.span import Span

ID = "captions-unreadable"


def run(bench: Bench) -> Iterable[Finding]:
    recipe, video = bench.recipe, bench.recipe.video
    if video is None or video.captions is None or bench.transcript is not None:
        return
    path = recipe.folder / video.captions
    if not path.is_file():
        return
    try:
        read_captions(path)
    except CaptionError as error:
        for line, message in error.problems:
            yield Finding(
                ID,
                "error",
                Span(str(path), max(line, 1), 1, 0, 0),
                message,
                why="the captions cannot be read, so nothing that was said can be compared",
                fixes=(Fix("mend that line of the captions file"),),
                second=video.captions.span,
            )


CHECK = Check(
    id=ID,
    question="Can the captions be read?",
    reason=(
        "Small faults (a missing number, an overlap) are mended while reading. What is left here is a file that is "
        "empty or something other than captions."
    ),
    good="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
video:
  address: https://video.example/popcorn
  length: 2:10
  captions: captions.vtt
""",
    bad="""\
title: Popcorn
yield: serves 4
ingredients:
  - 100 g popcorn
steps:
  - Pop {popcorn}.
video:
  address: https://video.example/popcorn
  length: 2:10
  captions: broken.vtt
""",
    run=run,
)
