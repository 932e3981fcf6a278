"""Discovery fails loudly; a crash is a finding; an acceptance covers what it names and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from pipeline.measure.lookup import load
from pipeline.measure.record import replace
from pipeline.proof.checks import yield_missing
from pipeline.proof.discovery import BrokenCheckError, checks, collect
from pipeline.proof.finding import Bench, Finding
from pipeline.proof.page import checks_page
from pipeline.proof.run import CRASHED, IDLE, run
from pipeline.recipe.channel import Channel

Proven = Callable[..., Any]
PLAIN = "title: T\ningredients: [300 g rice, 1 lemon]\nsteps: ['Simmer {rice}.']\n"


def module(name: str, check: object) -> ModuleType:
    made = ModuleType(f"pipeline.proof.checks.{name}")
    if check is not None:
        made.CHECK = check  # type: ignore[attr-defined]
    return made


def test_checks_are_sorted_and_unique() -> None:
    ids = [c.id for c in checks()]
    assert ids == sorted(ids) and len(ids) == len(set(ids)) >= 20


def test_a_file_without_a_check_stops_everything() -> None:
    with pytest.raises(BrokenCheckError, match="holds no CHECK"):
        collect([module("yield_missing", None)])


def test_a_file_named_otherwise_than_its_check_stops_everything() -> None:
    with pytest.raises(BrokenCheckError, match="name the file after the check"):
        collect([module("yield_gone", yield_missing.CHECK)])


def test_two_checks_with_one_id_stop_everything() -> None:
    with pytest.raises(BrokenCheckError, match="both hold"):
        collect([module("yield_missing", yield_missing.CHECK)] * 2)


def _crashing(bench: Bench) -> list[Finding]:
    raise ZeroDivisionError("half a pinch of nothing")


def test_a_crash_is_a_finding_and_the_rest_still_run(prove: Proven) -> None:
    broken = replace(yield_missing.CHECK, id="broken-check", run=_crashing)
    _, found = prove(PLAIN, only=[broken, yield_missing.CHECK])
    assert [f.check for f in found] == [CRASHED, "yield-missing"]
    assert found[0].severity == "error"
    assert "broken-check" in found[0].message and "half a pinch" in found[0].why


def test_what_a_check_found_before_it_crashed_is_kept(prove: Proven) -> None:
    def half(bench: Bench) -> Any:
        yield from yield_missing.CHECK.run(bench)
        raise KeyError("x")

    _, found = prove(PLAIN, only=[replace(yield_missing.CHECK, run=half)])
    assert sorted(f.check for f in found) == [CRASHED, "yield-missing"]


def test_a_crash_cannot_be_accepted(prove: Proven) -> None:
    source = PLAIN + f"accept: [{{finding: {CRASHED}, reason: no}}]\n"
    _, found = prove(source, only=[replace(yield_missing.CHECK, run=_crashing)])
    assert {f.check for f in found} == {CRASHED, IDLE}


def test_findings_come_in_the_order_of_the_source(prove: Proven) -> None:
    _, found = prove(PLAIN)
    places = [(f.span.line, f.span.column) for f in found]
    assert places == sorted(places) and len(places) > 1


def test_running_twice_gives_the_same(prove: Proven) -> None:
    recipe, found = prove(PLAIN)
    assert run(recipe, None, Channel(), load()) == found


def test_an_acceptance_covers_one_place_only(prove: Proven) -> None:
    source = PLAIN.replace("1 lemon", "1 lemon, 2 limes").replace("'Simmer", "'Cook")
    _, before = prove(source)
    assert [f.message.split()[-1] for f in before if f.check == "ingredient-unused"] == ["lemon", "limes"]
    _, after = prove(source + "accept: [{finding: ingredient-unused, where: uses lemon, reason: for the table}]\n")
    assert [f.message.split()[-1] for f in after if f.check == "ingredient-unused"] == ["limes"]
    assert not [f for f in after if f.check == IDLE]


def test_a_misspelt_acceptance_suggests_the_nearest(prove: Proven) -> None:
    _, found = prove(PLAIN + "accept: [{finding: ingredient-unsed, reason: for the table}]\n")
    idle = next(f for f in found if f.check == IDLE)
    assert "`ingredient-unused`" in idle.fixes[0].title


def test_the_page_is_made_from_the_checks() -> None:
    page = checks_page(checks())
    for check in checks():
        assert f"## {check.id}\n\n{check.question}\n\n{check.reason}" in page
        assert check.bad in page and check.good in page
    assert CRASHED in page and IDLE in page


def test_the_page_in_docs_is_the_page_that_is_made() -> None:
    stored = Path(__file__).parents[2] / "pipeline" / "proof" / "checks" / "README.md"
    assert stored.read_text(encoding="utf-8") == checks_page(checks()), "write pipeline/proof/checks/README.md anew"


def test_findings_from_elsewhere_can_be_accepted_too(prove: Proven) -> None:
    recipe, _ = prove(PLAIN + "accept: [{finding: captions-repaired, reason: I know}]\n")
    elsewhere = Finding("captions-repaired", "note", recipe.title.span, "an overlap")
    found = run(recipe, None, Channel(), load(), only=[], extra=[elsewhere])
    assert found == []
    recipe, _ = prove(PLAIN)
    assert run(recipe, None, Channel(), load(), only=[], extra=[elsewhere]) == [elsewhere]
