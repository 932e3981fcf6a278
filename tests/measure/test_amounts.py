"""Numbers and amounts as typed, and the interval that each stands for."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.measure.grammar import read_amount, read_statements
from pipeline.measure.numbers import Number, read_number
from pipeline.measure.rounding import rounding
from pipeline.measure.units import Standard, find_unit, unit


@pytest.mark.parametrize(
    "text,low,high",
    [
        ("650", "650", "650"), ("½", "1/2", "1/2"), ("1½", "3/2", "3/2"), ("1 ½", "3/2", "3/2"),
        ("1 1/2", "3/2", "3/2"), ("1-1/2", "3/2", "3/2"), ("3/4", "3/4", "3/4"), ("1⁄2", "1/2", "1/2"),
        ("1.5", "3/2", "3/2"), ("1,5", "3/2", "3/2"), (".5", "1/2", "1/2"), ("1,000", "1000", "1000"),
        ("2–3", "2", "3"), ("2 to 3", "2", "3"), ("2 - 3", "2", "3"), ("1/2-3/4", "1/2", "3/4"),
        ("1½–2", "3/2", "2"), ("2 or 3", "2", "3"), ("12,500", "12500", "12500"), ("0.25", "1/4", "1/4"),
    ],
)  # fmt: skip
def test_number(text: str, low: str, high: str) -> None:
    got = read_number(text)
    assert got is not None
    number, end = got
    assert (number.low, number.high, end) == (F(low), F(high), len(text))


@pytest.mark.parametrize("text", ["2% milk", "water", "", "/2", "1234567890123"])
def test_no_number(text: str) -> None:
    assert read_number(text) is None


def test_a_denominator_that_no_cook_writes_is_no_fraction() -> None:
    got = read_number("14/400 g")
    assert got is not None and got[0] == Number(F(14), F(14))


@given(st.fractions(min_value=0, max_value=10_000, max_denominator=8))
def test_a_mixed_number_reads_back(value: F) -> None:
    whole, part = divmod(value, 1)
    text = f"{whole} {part.numerator}/{part.denominator}" if part and whole else str(value)
    got = read_number(text)
    if value.denominator in (1, 2, 3, 4, 5, 6, 8):
        if value.denominator in (5, 6, 7):
            return
        assert got is not None and got[0].low == value


@pytest.mark.parametrize(
    "word,name",
    [
        ("Tbsp.", "tablespoon"), ("T", "tablespoon"), ("t", "teaspoon"), ("TSP", "teaspoon"), ("c.", "cup"),
        ("Cups", "cup"), ("fl. oz.", "fluid ounce"), ("LBS.", "pound"), ("mL", "milliliter"), ("Litres", "liter"),
        ("grammes", "gram"), ("qt.", "quart"), ("gal", "gallon"), ("tin", "can"), ("leaves", "leaf"),
    ],
)  # fmt: skip
def test_units_in_every_dress(word: str, name: str) -> None:
    found = find_unit(word)
    assert found is not None and found.name == name


@pytest.mark.parametrize(
    "text,value,name",
    [
        ("1 tbsp + 1 tsp", "4/3", "tablespoon"), ("1 lb 2 oz", "9/8", "pound"), ("1 cup plus 2 tbsp", "9/8", "cup"),
        ("half a cup", "1/2", "cup"), ("a pinch", "1", "pinch"), ("one and a half cups", "3/2", "cup"),
        ("500g", "500", "gram"), ("8-oz", "8", "ounce"), ("two tablespoons", "2", "tablespoon"),
        ("½ cup less 1 tbsp", "7/16", "cup"), ("1 kg", "1", "kilogram"),
    ],
)  # fmt: skip
def test_amount(text: str, value: str, name: str) -> None:
    got = read_amount(text)
    assert got is not None
    assert (got.amount.value, got.amount.unit.name, got.end) == (F(value), name, len(text))


def test_about_widens_what_a_number_stands_for() -> None:
    plain, about = read_amount("3 tbsp"), read_amount("about 3 tbsp")
    assert plain and about
    assert about.amount.near > plain.amount.near and about.amount.far > plain.amount.far and about.amount.about


def test_scant_is_less_and_heaped_is_more() -> None:
    scant, heaped = read_amount("a scant cup"), read_amount("1 heaped tbsp")
    assert scant and heaped
    assert scant.amount.low < 1 == scant.amount.high
    assert heaped.amount.low == 1 < heaped.amount.high


@pytest.mark.parametrize("text", ["650 g water", "water", "1 cup or", "or 1 cup", "", "3 cups of"])
def test_only_amounts_and_nothing_else(text: str) -> None:
    assert read_statements(text) is None


def test_rounding_of_round_numbers_is_wider_than_of_odd_ones() -> None:
    g = unit("gram")
    near = {v: rounding(Number(F(v), F(v)), g)[0] for v in (227, 225, 650, 1000)}
    assert near[227] == F(1, 2) < near[225] < near[650] < near[1000]


@given(st.integers(1, 20_000))
def test_rounding_never_hides_more_than_a_twentieth(value: int) -> None:
    for name in ("gram", "milliliter"):
        near, far = rounding(Number(F(value), F(value)), unit(name))
        assert near <= far <= max(F(value, 20), F(1, 2))


@pytest.mark.parametrize(
    "text,standard,ml",
    [
        ("1 cup + 2 tbsp", "australian", 290), ("1 cup + 2 tbsp", "metric", 280),
        ("1 cup plus 1 tbsp", "us-label", 255),
        ("1 cup less 1 tbsp", "australian", 230), ("1 tbsp + 1 tsp", "australian", 25), ("2 cups", "australian", 500),
        ("1 cup + 1 tbsp + 1 tsp", "australian", 275), ("1 cup + 1 tbsp + 1 tsp", "metric", 270),
    ],
)  # fmt: skip
def test_a_sum_has_the_parts_of_the_cook_s_own_cup_and_spoon(text: str, standard: Standard, ml: int) -> None:
    """Worked out by hand: an Australian cup holds 250 ml and its tablespoon 20 ml, a metric one 15 ml (common
    practice, no source), a US labelling cup 240 ml and tablespoon 15 ml (21 CFR 101.9(b)(5)(viii))."""
    got = read_amount(text)
    assert got is not None
    assert got.amount.stated(standard) == (ml, ml)
    assert got.amount.scaled(F(2)).stated(standard) == (2 * ml, 2 * ml)
