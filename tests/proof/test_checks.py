"""Every check: its own examples, and its case file."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from pipeline.proof.discovery import checks
from pipeline.proof.finding import Check

CASES = Path(__file__).parent / "cases"
EVERY = checks()
Proven = Callable[..., Any]


@pytest.mark.parametrize("check", EVERY, ids=lambda c: c.id)
def test_every_check_says_what_it_is_for(check: Check) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z']+)*", check.id)
    assert check.question.endswith("?") and "\n" not in check.question
    assert len(check.reason) > 60, "a reason that would convince somebody"
    assert check.good.startswith("title: ") and check.bad.startswith("title: ")
    assert (check.good, check.good_captions) != (check.bad, check.bad_captions)


@pytest.mark.parametrize("check", EVERY, ids=lambda c: c.id)
def test_the_bad_example_is_found(check: Check, prove: Proven) -> None:
    _, found = prove(check.bad, captions=check.bad_captions)
    assert check.id in {f.check for f in found}


@pytest.mark.parametrize("check", EVERY, ids=lambda c: c.id)
def test_the_good_example_is_clean(check: Check, prove: Proven) -> None:
    _, found = prove(check.good, captions=check.good_captions)
    assert [f for f in found if f.check == check.id] == []
    assert [f for f in found if f.severity != "note"] == []


@dataclass(frozen=True)
class Case:
    check: str
    name: str
    line: int
    source: str
    expect: tuple[str, ...]
    fixed: str | None
    fix: int
    captions: str

    def __str__(self) -> str:
        return f"{self.check}.yaml:{self.line} {self.name}"


def cases() -> list[Case]:
    found: list[Case] = []
    for path in sorted(CASES.glob("*.yaml")):
        node = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
        data: list[dict[str, Any]] = yaml.safe_load(path.read_text(encoding="utf-8"))
        for entry, place in zip(data, node.value, strict=True):
            unknown = set(entry) - {"name", "source", "expect", "fixed", "fix", "captions"}
            assert not unknown, f"{path.name}:{place.start_mark.line + 1} unknown {unknown}"
            found.append(
                Case(
                    path.stem,
                    entry["name"],
                    place.start_mark.line + 1,
                    entry["source"],
                    tuple(entry.get("expect") or ()),
                    entry.get("fixed"),
                    entry.get("fix", 0),
                    entry.get("captions", ""),
                )
            )
    assert found, "no case files found"
    return found


EVERY_CASE = cases()


def test_every_case_file_belongs_to_a_check() -> None:
    ids = {check.id for check in EVERY} | {"acceptance-idle"}
    assert {case.check for case in EVERY_CASE} <= ids


@pytest.mark.parametrize("case", EVERY_CASE, ids=str)
def test_case(case: Case, prove: Proven) -> None:
    """A case expects findings of its own check only: ``id line:col severity`` each."""
    recipe, found = prove(case.source, captions=case.captions)
    own = [f for f in found if f.check == case.check]
    said = tuple(f"{f.check} {f.span.line}:{f.span.column} {f.severity}" for f in own)
    assert said == case.expect, [f.message for f in own]
    if case.fixed is not None:
        source = recipe.source
        for edit in sorted(own[0].fixes[case.fix].edits, key=lambda e: -e.span.start):
            source = source[: edit.span.start] + edit.text + source[edit.span.end :]
        assert source == case.fixed
        _, again = prove(source, captions=case.captions)
        assert [f.message for f in again if f.check == case.check] == []


def test_a_misspelt_mark_is_told_the_name_meant(prove: Proven) -> None:
    source = 'title: T\ningredients: [500 g bread flour, 7 g salt]\nsteps: ["Mix {flor} in, and {slat}."]\n'
    _, findings = prove(source)
    told = {f.message: [fix.title for fix in f.fixes] for f in findings if f.check == "ingredient-unlisted"}
    assert told["step 1 uses flor, which the list does not have"][0] == "`bread flour`, if that is meant"
    assert told["step 1 uses slat, which the list does not have"][0] == "`salt`, if that is meant"


def test_hot_oil_has_no_fan(prove: Proven) -> None:
    source = "title: T\ningredients: [1 l oil]\nsteps: ['Heat {oil} to {180 C or 330 F}. Bake at {180 C or 330 F}.']\n"
    _, findings = prove(source)
    fried, baked = (f.why for f in findings if f.check == "heat-disagrees")
    assert "fan" not in fried and "fan" in baked


def test_an_oven_lit_too_late_in_its_own_step(prove: Proven) -> None:
    step = "Bake {bread flour} at {450 F}; preheat the oven first."
    source = f"title: T\ningredients: [500 g bread flour]\nsteps: ['{step}']\n"
    _, findings = prove(source)
    (late,) = [f for f in findings if f.check == "oven-not-preheated"]
    assert late.message == "step 1 uses the oven before it says to heat it"
