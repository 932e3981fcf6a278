"""A film without captions, or with a captions file that is not there."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix

ID = "captions-missing"


def run(bench: Bench) -> Iterable[Finding]:
    recipe, video = bench.recipe, bench.recipe.video
    if video is None or bench.transcript is not None:
        return
    if video.captions is None:
        yield Finding(
            ID,
            "warning",
            video.span,
            "the film has no captions",
            why="without them nobody can watch it without sound, and what is said cannot be compared with the recipe",
            fixes=(Fix("put the captions beside the recipe and add `captions: captions.vtt` (or .srt) under `video`"),),
        )
    elif not (recipe.folder / video.captions).is_file():
        yield Finding(
            ID,
            "error",
            video.captions.span,
            f"there is no file {video.captions} beside the recipe",
            why="the captions are named, but cannot be found",
            fixes=(Fix("put the captions into the recipe's folder, or mend the name"),),
        )


CHECK = Check(
    id=ID,
    question="Does the film have captions, and are they there?",
    reason=(
        "Many watch without sound, or cannot hear it (WCAG 2.2, criterion 1.2.2). The captions are also the only "
        "record of the numbers that were said."
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
""",
    run=run,
)
