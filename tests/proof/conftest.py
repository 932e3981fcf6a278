"""A kitchen to run checks in: a folder with a photo and captions beside each recipe, and the shipped table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from pipeline.film.captions import read_captions_text
from pipeline.measure.lookup import load
from pipeline.proof.finding import Check, Finding
from pipeline.proof.run import run
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text

CAPTIONS = "WEBVTT\n\n00:00.000 --> 00:04.000\nHello, and welcome to the kitchen.\n"

Proven = Callable[..., tuple[Recipe, list[Finding]]]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "photo.jpg").write_bytes(b"a picture")
    (tmp_path / "captions.vtt").write_text(CAPTIONS, encoding="utf-8")
    (tmp_path / "broken.vtt").write_text("", encoding="utf-8")
    return tmp_path


@pytest.fixture
def prove(folder: Path) -> Proven:
    """``prove(source)`` reads a source as ``recipe.yaml`` of that folder and gives (recipe, findings).

    ``captions`` are the film's, as timed text."""

    def go(
        source: str, only: Sequence[Check] | None = None, channel: Channel | None = None, captions: str = ""
    ) -> tuple[Recipe, list[Finding]]:
        recipe = read_text(source, folder / "recipe.yaml")
        transcript = read_captions_text(captions, folder / "captions.vtt") if captions else None
        return recipe, run(recipe, transcript, channel or Channel(), load(), only)

    return go
