"""A cook's own ingredients: what her file may say, what is wrong with it, and that it wins."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from pipeline.measure.lookup import load
from pipeline.measure.rows import rows_from

GOOD: list[tuple[dict[str, Any], tuple[Any, Any, Any]]] = [
    ({"name": "Banana flour", "cup": "120-130"}, (120, 125, 130)),
    ({"name": "teff flakes", "cup": 100}, (95, 100, 105)),
    ({"name": "teff flakes", "cup": "90..100..140"}, (90, 100, 140)),
    ({"name": "teff flakes", "cup": "90 – 110 g"}, (90, 100, 110)),
    ({"name": "my spice", "tablespoon": "7-9"}, (112, 128, 144)),
    ({"name": "my spice", "teaspoon": "2,5 to 3.5"}, (120, 144, 168)),
]


@pytest.mark.parametrize(("entry", "cup"), GOOD, ids=[str(e) for e, _ in GOOD])
def test_weights_as_cooks_write_them(entry: dict[str, Any], cup: tuple[int, int, int]) -> None:
    rows, problems = rows_from([entry], "ingredients.yaml")
    assert problems == []
    assert rows[0].cup is not None
    assert (rows[0].cup.low, rows[0].cup.typical, rows[0].cup.high) == cup
    assert rows[0].name == entry["name"].lower()
    assert rows[0].source == "own figure in ingredients.yaml"


BAD: list[tuple[Any, str, str]] = [
    ("flour", "", "not a mapping"),
    ({"cup": 100}, "name", "needs a name"),
    ({"name": "x"}, "", "no weight"),
    ({"name": "x", "cup": "heavy"}, "cup", "not a weight"),
    ({"name": "x", "cup": "200-100"}, "cup", "not a weight"),
    ({"name": "x", "cup": -5}, "cup", "not a weight"),
    ({"name": "x", "cup": 0}, "cup", "not a weight"),
    ({"name": "x", "cup": True}, "cup", "not a weight"),
    ({"name": "x", "cup": 12000}, "cup", "no kitchen weight"),
    ({"name": "x", "cup": 100, "teaspoon": 2}, "teaspoon", "both give"),
    ({"name": "x", "cup": 100, "form": "gas"}, "form", "not a form"),
    ({"name": "x", "cup": 100, "grams": 3}, "grams", "not a key"),
    ({"name": "x", "counts": ["large"]}, "counts", "not a mapping"),
    ({"name": "x", "counts": {"large": "big"}}, "counts", "not a weight"),
]


@pytest.mark.parametrize(("entry", "key", "words"), BAD, ids=[str(e) for e, _, _ in BAD])
def test_mistakes_are_values_with_a_place_and_help(entry: Any, key: str, words: str) -> None:
    rows, problems = rows_from([{"name": "good one", "cup": 100}, entry], "f.yaml")
    assert [r.name for r in rows] == ["good one"]
    assert words in " ".join(p.message for p in problems)
    assert all(p.at == 1 and p.help for p in problems)
    assert key in {p.key for p in problems}


def test_all_mistakes_at_once() -> None:
    entries = [{"cup": "x", "form": "y", "z": 1}, {"name": "a", "cup": 50}, {"name": "a", "cup": 60}]
    _, problems = rows_from(entries, "f")
    assert {(p.at, p.key) for p in problems} == {(0, "z"), (0, "name"), (0, "cup"), (0, "form"), (2, "name")}


def test_own_row_makes_an_unknown_ingredient_known() -> None:
    assert load().find("dragonfruit powder") is None
    rows, _ = rows_from([{"name": "dragonfruit powder", "aliases": "pitaya powder; pink powder", "cup": 110}], "f")
    table = load().with_rows(rows)
    for words in ("dragonfruit powder", "organic pitaya powder, sifted", "pink powder"):
        match = table.find(words)
        assert match and match.row.name == "dragonfruit powder"
    assert load().find("dragonfruit powder") is None
    assert len(table) == len(load()) + 1


def test_own_row_overrides_and_keeps_what_it_does_not_say() -> None:
    rows, _ = rows_from([{"name": "egg", "counts": {"large": 53}}, {"name": "butter", "cup": "230-240"}], "f")
    table = load().with_rows(rows)
    egg, butter = table.find("large eggs"), table.find("unsalted butter")
    assert egg and butter and butter.row.cup
    assert egg.row.counts["large"].typical == 53
    assert egg.row.counts["medium"].typical == 44
    assert egg.row.cup is not None
    assert butter.row.cup.typical == 235
    assert butter.row.form == "solid"
    assert butter.row.source == "own figure in f"


def test_own_name_wins_over_a_shipped_alias() -> None:
    rows, _ = rows_from([{"name": "double cream", "cup": 250, "form": "liquid"}], "f")
    table = load().with_rows(rows)
    mine, theirs = table.find("double cream"), table.find("heavy cream")
    assert mine and mine.row.name == "double cream" and mine.row.cup
    assert mine.row.cup.typical == Fraction(250)
    assert theirs and theirs.row.name == "heavy cream"


def test_own_state_joins_its_ingredient() -> None:
    rows, _ = rows_from([{"name": "butter", "state": "frozen grated", "cup": 120}], "f")
    table = load().with_rows([*rows])
    plain = table.find("butter")
    assert plain and plain.row.state == ""
