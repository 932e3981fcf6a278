"""Whole recipes in many styles, all true: none may get an error or a warning (a false alarm is worse than a miss)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

RECIPES = sorted((Path(__file__).parent / "honest_recipes").glob("*.yaml"))
Proven = Callable[..., Any]


def test_there_are_some() -> None:
    assert len(RECIPES) >= 12


@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_no_alarm(path: Path, prove: Proven) -> None:
    _, found = prove(path.read_text(encoding="utf-8"))
    assert [f"{f.span.line}: {f.check}: {f.message}" for f in found if f.severity != "note"] == []
    assert len(found) <= 3, [f.message for f in found]
