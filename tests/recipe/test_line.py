"""Ingredient lines: a case file that a cook can read, and properties over anything typed."""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.recipe.line import read_line
from pipeline.recipe.read import read_text
from pipeline.recipe.weigh import typed

CASES = [
    line.split(" ~ ")
    for line in (Path(__file__).parent / "line_cases.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]
FLAGS = ("optional", "divided", "to_taste")


@pytest.mark.parametrize("case", CASES, ids=[c[0] for c in CASES])
def test_line(case: list[str]) -> None:
    text, amounts, size, name, note, flags = (part.strip() for part in case)
    line = read_line(typed(text))
    said = [f"{a.low if a.low == a.high else f'{a.low}..{a.high}'} {a.unit.symbol or '#'}" for a in line.amounts]
    assert "; ".join(said) == amounts
    assert (line.size, str(line.name), line.note) == (size, name, note)
    assert " ".join(f for f in FLAGS if getattr(line, f)) == flags


@given(st.text(alphabet=st.sampled_from("0123456789 ½¾/,.-–()[]{}gkcuptbsolz or+plus eachflouréü½\t"), max_size=60))
def test_any_text_is_read_and_its_amounts_point_into_it(text: str) -> None:
    line = read_line(typed(text))
    assert len(line.amounts) == len(line.item_spans)
    for amount, span in zip(line.amounts, line.item_spans, strict=True):
        assert Fraction(0) <= amount.low <= amount.high
        assert 0 <= span.start < span.end <= len(text)


@given(st.text(max_size=80))
def test_no_text_breaks_the_reader(text: str) -> None:
    read_line(typed(text))


def test_an_amount_knows_where_it_was_typed() -> None:
    text = "650 g or 2 3/4 cups water"
    line = read_line(typed(text))
    assert [text[s.start : s.end] for s in line.item_spans] == ["650 g", "2 3/4 cups"]


@pytest.mark.parametrize(
    "text,names",
    [
        ("1 tsp each salt and pepper", ["salt", "pepper"]),
        ("1 tbsp. each: soy sauce and mirin", ["soy sauce", "mirin"]),
        ("2 large eggs + 1 yolk", ["eggs", "yolk"]),
        ("1 egg plus 1 tbsp water, for egg wash", ["egg", "water"]),
        ("500 g flour plus 2 tbsp for dusting", ["flour"]),
        ("1 cup sugar plus 2 tbsp more for the top", ["sugar"]),
        ("½ tsp each cumin, coriander and paprika", ["cumin", "coriander", "paprika"]),
        ("salt and pepper, 1/2 tsp each", ["salt", "pepper"]),
        ("1/2 cup each of milk & cream", ["milk", "cream"]),
        ("2 potatoes (200 g each)", ["potatoes"]),
        ("2 eggs, 50 g each, beaten and strained", ["eggs"]),
    ],
)
def test_each_of_several_is_a_line_of_its_own(text: str, names: list[str]) -> None:
    source = f'title: x\ningredients:\n  - "{text}"\nsteps: [x]\n'
    lines = read_text(source, Path("recipe.yaml")).components[0].ingredients
    assert [str(line.name) for line in lines] == names
    assert all(line.amounts for line in lines)
    at = [source[line.name.span.start : line.name.span.end] for line in lines]
    assert at == names, "each name still points at where it was typed"
