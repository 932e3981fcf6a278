"""Every unit has its words in the pages' catalogue, so that a new one is not forgotten there."""

from __future__ import annotations

from pathlib import Path

import yaml

from pipeline.measure.units import unit_names

WORDS = Path(__file__).parents[2] / "templates" / "words.yaml"


def test_every_unit_has_its_words() -> None:
    said = yaml.safe_load(WORDS.read_text("utf-8"))["units"]
    assert [name for name in unit_names() if name.replace(" ", "_") not in said] == []
