"""Another batch: amounts, eggs, whole pieces, pans, and what things are called elsewhere (cases in scaling.yaml)."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

import pipeline.measure
from pipeline.measure.both import both
from pipeline.measure.lookup import load
from pipeline.measure.pan import read_pans, say_pan, such_pans
from pipeline.measure.scaling import Scalable, growing, pieces, say_scaled
from pipeline.recipe.weigh import weigh

CASES = yaml.safe_load((Path(__file__).parent / "scaling.yaml").read_text("utf-8"))


def said(one: Scalable, by: Fraction) -> str:
    text, derived = say_scaled(one, by)
    return f"≈{text}" if derived else text


@pytest.mark.parametrize("case", CASES["amounts"], ids=[f"{c['line']} × {c['by']}" for c in CASES["amounts"]])
def test_another_batch(case: dict[str, object]) -> None:
    told = weigh(str(case["line"]), load())
    grows = growing(told.dual, told.line.amounts, told.match.row if told.match else None, told.line.size)
    by = Fraction(str(case["by"]))
    second = grows.counted or grows.volume[0]
    assert [said(grows.weight[0], by), said(second, by)] == case["says"]


@pytest.mark.parametrize("case", CASES["amounts"], ids=[case["line"] for case in CASES["amounts"]])
def test_the_same_batch_says_what_the_page_says(case: dict[str, object]) -> None:
    told = weigh(str(case["line"]), load())
    grows = growing(told.dual, told.line.amounts, told.match.row if told.match else None, told.line.size)
    for shown, several in ((told.dual.weight, grows.weight), (told.dual.volume, grows.volume)):
        if shown is not None:
            texts = [say_scaled(one, Fraction(1)).text for one in several]
            assert texts == shown.text.split(" / ")


@pytest.mark.parametrize("case", CASES["pieces"], ids=[case["line"] for case in CASES["pieces"]])
def test_nobody_measures_whole_pieces_by_the_cup(case: dict[str, object]) -> None:
    told = weigh(str(case["line"]), load())
    assert told.match is not None
    dual = both(told.line.amounts, told.match.row, words=f"{told.line.name}, {told.line.note}")
    assert (dual.volume is not None) is case["cups"]


@pytest.mark.parametrize("case", CASES["pans"], ids=[case["text"] for case in CASES["pans"]])
def test_pans_grow_by_area(case: dict[str, object]) -> None:
    by = Fraction(str(case["by"]))
    assert [say_pan(pan, by) for pan in read_pans(str(case["text"]))] == case["says"]
    assert such_pans(by) == case["such"]


def test_a_batch_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        say_scaled(Scalable("grams", Fraction(1), Fraction(1)), Fraction(0))


def test_something_never_becomes_nothing() -> None:
    assert pieces(Fraction(1, 100)) == Fraction(1, 4)
    assert pieces(Fraction(5, 4)) == Fraction(3, 2)  # ties go up


def test_two_names_of_one_thing_are_one_row() -> None:
    """Names on either side of the ocean: the ingredient table takes both for the same, or knows neither."""
    path = Path(pipeline.measure.__path__[0]) / "data" / "regional.csv"
    rows = list(csv.DictReader(line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")))
    assert rows
    table = load()
    seen: set[str] = set()
    for row in rows:
        names = [*row["us"].split(";"), *row["uk"].split(";")]
        assert not seen & set(names), names
        seen.update(names)
        found = {name: table.find(name) for name in names}
        assert len({(m.row.name, m.row.state) if m else None for m in found.values()}) == 1, found
