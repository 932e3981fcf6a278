"""What is said beside what is written: cases a cook could read, and the figures on the marked films."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import score_compare
import yaml
from marked import films

from pipeline.film.captions import read_captions_text
from pipeline.film.compare import Remark, said_against
from pipeline.measure.lookup import load
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read, read_text

CASES = Path(__file__).with_name("compare_cases.yaml")


@dataclass(frozen=True)
class Case:
    name: str
    line: int
    data: dict[str, Any]

    def __str__(self) -> str:
        return f"{CASES.name}:{self.line} {self.name}"

    def recipe(self) -> Recipe:
        source: dict[str, Any] = {"title": "T", "yield": "serves 4"}
        if "list" in self.data:
            source["ingredients"] = self.data["list"]
        else:
            source["components"] = {
                key: {"title": key, "ingredients": lines} for key, lines in self.data["components"].items()
            }
        source["steps"] = self.data["steps"]
        return read_text(yaml.safe_dump(source, sort_keys=False, allow_unicode=True), Path("recipe.yaml"))

    def remarks(self) -> tuple[Remark, ...]:
        said = self.data["said"]
        if self.data.get("flat"):
            said = "\n".join(
                re.sub(r"[^\w\s'\[\]:]", "", line).lower() if line.startswith("[") else line
                for line in said.splitlines()
            )
        return said_against(self.recipe(), read_captions_text(said, "captions.txt"), load())


def cases() -> list[Case]:
    text = CASES.read_text(encoding="utf-8")
    node = yaml.compose(text, Loader=yaml.CSafeLoader)
    found = [
        Case(data["name"], place.start_mark.line + 1, data)
        for data, place in zip(yaml.safe_load(text), node.value, strict=True)
    ]
    assert len(found) > 30
    return found


@pytest.mark.parametrize("case", cases(), ids=str)
def test_case(case: Case) -> None:
    got = [f"{r.kind} {r.weight} {r.name}" for r in case.remarks() if r.kind != "unsaid"]
    assert got == case.data["expect"], [(r.said, r.written, r.words) for r in case.remarks()]
