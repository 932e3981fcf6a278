"""Talk that makes no sense: pieces of the marked films thrown together. Whatever is said, nothing may fall over."""

from __future__ import annotations

import random

import pytest
from marked import films

from pipeline.film.align import aligned
from pipeline.film.captions import read_captions_text
from pipeline.film.compare import said_against
from pipeline.film.draft.compose import draft_from
from pipeline.measure.lookup import load
from pipeline.recipe.read import read

FILMS = [*films(), *films(apart=True)]
PARAGRAPHS = [p.text.split() for film in FILMS for p in film.paragraphs]


def talk(rng: random.Random) -> str:
    """Two minutes of it as timed text, half of the lines without stops and capitals."""
    lines = []
    for at in range(0, 120, 10):
        words: list[str] = []
        for _ in range(rng.randint(3, 8)):
            some = rng.choice(PARAGRAPHS)
            start = rng.randrange(len(some))
            words += some[start : start + rng.randint(1, 5)]
        line = " ".join(words)
        if rng.random() < 0.5:
            line = " ".join(word.strip(".,!?;:").lower() for word in words)
        lines.append(f"[{at // 60}:{at % 60:02d}] {line}")
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("seed", range(8))
def test_any_talk_is_heard_compared_aligned_and_drafted(seed: int) -> None:
    rng = random.Random(seed)
    recipe = read(rng.choice(FILMS).recipe)
    for _ in range(12):
        text = talk(rng)
        film = read_captions_text(text, "talk.txt")
        said_against(recipe, film, load())
        assert draft_from(film, load(), "talk.txt", "talk").startswith("#")
    assert len(aligned(recipe, film, load()).marks) <= len(recipe.steps)
