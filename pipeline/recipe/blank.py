"""A new recipe's first file: nothing in it is invented, every field that it lacks is there as a comment."""

from __future__ import annotations

import json
from pathlib import Path

from pipeline.recipe.values import folder_name

_BLANK = """\
# A recipe for Level Cup. `levelcup check` says what is still missing.
title: {title}
draft: true            # take this line out to publish, and give the date instead:
# published: 2026-01-31
summary: ""            # one or two sentences: the hook under the film
# yield: serves 4      # or: 12 rolls

ingredients:           # both measures as you say them: 650 g or 2 3/4 cups water
  - salt to taste

steps:                 # {{water}} prints both measures; {{450 F or 230 C}} a heat; {{30 min}} a time
  - title: First step
    text: Season with {{salt}}.
    # at: 0:00         # the film's moment

# video:
#   address: https://
#   length: 12:34
#   captions: captions.vtt
# photos:
#   - file: finished.jpg
#     alt: what a reader who can't see it should know
"""


def blank(title: str, folder: Path) -> Path | None:
    """Writes a new recipe.yaml into a folder of its own under ``folder``; None where one stands there already."""
    path = folder / folder_name(title) / "recipe.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(_BLANK.format(title=json.dumps(title, ensure_ascii=False)))
    except FileExistsError:
        return None
    return path
