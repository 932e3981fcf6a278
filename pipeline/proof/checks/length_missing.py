"""A film that does not say how long it is."""

from __future__ import annotations

from collections.abc import Iterable

from pipeline.proof.finding import Bench, Check, Finding, Fix

ID = "length-missing"


def run(bench: Bench) -> Iterable[Finding]:
    video = bench.recipe.video
    if video is not None and video.length is None:
        yield Finding(
            ID,
            "warning",
            video.span,
            "the film's length is missing",
            why="the last chapter ends where the film ends, and nobody can say whether it is long enough",
            fixes=(Fix("add `length: 12:34` under `video`"),),
        )


CHECK = Check(
    id=ID,
    question="Is it known how long the film is?",
    reason="Chapter marks are held against the film's length: the last one must fit in, too.",
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
  captions: captions.vtt
""",
    run=run,
)
