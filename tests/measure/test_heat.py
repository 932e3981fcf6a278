"""Heats: how they are read, converted, put on a dial and rounded for food."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from pipeline.measure.food_heat import food, safe_for, safe_temperatures
from pipeline.measure.heat import (
    GAS_MARKS,
    Heat,
    HeatError,
    celsius,
    is_food,
    is_oven,
    read_heat,
    say_heat,
    to_celsius,
    to_fahrenheit,
)
from pipeline.measure.oven import difference, gas_mark, to_dial, with_fan, without_fan
from pipeline.measure.pair_heat import compare_heat

CASES: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "heats.yaml").read_text(encoding="utf-8"))


def heat(text: str) -> Heat:
    found = read_heat(text)
    assert found is not None and len(found) == 1, text
    return found[0]


@pytest.mark.parametrize(("text", "said"), CASES["reads"].items())
def test_read(text: str, said: list[str]) -> None:
    found = read_heat(text)
    assert found is not None
    assert [say_heat(h) for h in found] == said
    assert not any(h.about for h in found)
    assert all(h.text in " ".join(text.split()) for h in found), "each statement keeps its own words"


@pytest.mark.parametrize(("text", "said"), CASES["about"].items())
def test_read_about(text: str, said: list[str]) -> None:
    found = read_heat(text)
    assert found is not None
    assert [say_heat(h) for h in found] == said
    assert all(h.about for h in found)


@pytest.mark.parametrize(("text", "fixes"), CASES["which_scale"].items())
def test_degrees_without_a_scale(text: str, fixes: list[str]) -> None:
    with pytest.raises(HeatError) as caught:
        read_heat(text)
    assert caught.value.words.endswith("which scale?")
    assert list(caught.value.fixes) == fixes
    given = read_heat(text, "F")
    assert given is not None and given[-1].scale == "F"


@pytest.mark.parametrize(("text", "why"), CASES["refused"].items())
def test_impossible_heats(text: str, why: str) -> None:
    with pytest.raises(HeatError, match=why):
        read_heat(text)


@pytest.mark.parametrize("text", CASES["not_a_heat"])
def test_not_a_heat(text: object) -> None:
    assert read_heat(str(text)) is None


@given(st.text(alphabet="0123456789 ½¼/°-–.,()FCfcgasmrkntodeqou~", max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        found = read_heat(text)
    except HeatError:
        return
    assert found is None or all(h.low <= h.high for h in found)


def test_long_texts_are_not_looked_at() -> None:
    assert read_heat("9" * 10_000) is None
    assert read_heat("450 F or " * 1000) is None


# pint's default registry is the outside witness for the two scales (its degF and degC follow NIST SP 811).
REGISTRY = pint.UnitRegistry()


@given(st.integers(min_value=-459, max_value=2000))
def test_scales_agree_with_pint(degrees: int) -> None:
    quantity = REGISTRY.Quantity(degrees, REGISTRY.degF).to(REGISTRY.degC)
    assert float(to_celsius(Fraction(degrees))) == pytest.approx(quantity.magnitude, abs=1e-9)


@given(st.fractions(min_value=-459, max_value=2000))
def test_scales_round_trip_exactly(degrees: Fraction) -> None:
    assert to_fahrenheit(to_celsius(degrees)) == degrees


# Whole-degree settings that cooks' tables print for each °F. Common practice, from memory.
DIALS = {225: 110, 250: 120, 275: 140, 300: 150, 325: 160, 350: 180, 375: 190, 400: 200, 425: 220, 450: 230, 500: 260}


@pytest.mark.parametrize(("f", "c"), DIALS.items())
def test_dial(f: int, c: int) -> None:
    shown = to_dial(heat(f"{f} F"), "C")
    assert say_heat(shown) == f"{c} °C"
    assert abs(difference(shown, heat(f"{f} F"))) <= 5
    assert say_heat(to_dial(shown, "F")) == f"{f} °F", "and back"


@pytest.mark.parametrize(
    ("text", "scale", "fan", "said"),
    [
        ("200 C", "C", True, "180 °C fan"),
        ("180 C fan", "C", False, "200 °C"),
        ("400 F", "F", True, "375 °F fan"),
        ("450 F", "C", True, "210 °C fan"),
        ("180 C fan", "F", False, "400 °F"),
        ("180 C fan", "gas", None, "gas mark 6"),
        ("180 C fan", "F", None, "350 °F fan"),
        ("gas 4", "C", None, "180 °C"),
        ("gas 4", "F", None, "350 °F"),
        ("gas 4", "C", True, "160 °C fan"),
        ("400-425 F", "C", None, "200–220 °C"),
        ("375 F", "F", None, "375 °F"),
        ("360 F", "F", None, "360 °F"),  # it was stated so; nothing was converted
        ("450 F", "gas", None, "gas mark 8"),
        ("230 C", "gas", None, "gas mark 8"),
    ],
)
def test_fan_and_gas(text: str, scale: Any, fan: bool | None, said: str) -> None:
    assert say_heat(to_dial(heat(text), scale, fan)) == said


def test_gas_marks_both_ways() -> None:
    for mark, (c, f) in GAS_MARKS.items():
        assert gas_mark(Fraction(c)) == mark
        assert gas_mark(to_celsius(Fraction(f))) == mark
        assert abs(to_celsius(Fraction(f)) - c) <= Fraction(25, 3), "the two columns mean one heat"
    hot = [c for c, _ in GAS_MARKS.values()]
    assert hot == sorted(hot)
    assert celsius(heat("gas 4½")) == (185, 185)


def test_a_gas_oven_has_no_fan() -> None:
    with pytest.raises(ValueError, match="fan"):
        with_fan(heat("gas 4"))
    with pytest.raises(ValueError, match="fan"):
        to_dial(heat("200 C"), "gas", fan=True)


@given(st.integers(min_value=100, max_value=300), st.booleans())
def test_dial_error_is_at_most_half_a_step(degrees: int, fan: bool) -> None:
    stated = Heat(Fraction(degrees), Fraction(degrees), "C", fan)
    assert abs(difference(to_dial(stated, "F"), stated)) <= Fraction(25, 2) * Fraction(5, 9) + (9 if fan else 0)
    assert without_fan(with_fan(without_fan(stated))) == without_fan(stated)


# USDA FSIS, Safe Minimum Internal Temperature Chart, prints both scales (read as reprinted by others).
USDA = {145: "62.8", 160: "71.1", 165: "73.9", 140: "60.0"}
SAFE_SIDE = {145: 63, 160: 72, 165: 74, 140: 60}


@pytest.mark.parametrize(("f", "c"), USDA.items())
def test_food_is_rounded_to_the_safe_side(f: int, c: str) -> None:
    assert f"{float(to_celsius(Fraction(f))):.1f}" == c
    assert food(heat(f"{f} F"), "C").low == SAFE_SIDE[f]


def test_food_that_must_not_get_warmer() -> None:
    assert food(heat("40 F"), "C", "max").low == 4
    assert food(heat("41 F"), "C", "max").low == 5  # FDA Food Code 2022: 5 °C (41 °F)
    assert food(heat("5 C"), "F", "max").low == 41
    assert food(heat("300 F"), "C").low == 149  # hard crack, the lower end. From memory


@given(st.integers(min_value=-40, max_value=400), st.sampled_from(["F", "C"]), st.sampled_from(["min", "max"]))
def test_food_never_errs_to_the_unsafe_side(degrees: int, scale: Any, safe: Any) -> None:
    stated = Heat(Fraction(degrees), Fraction(degrees), scale)
    shown = food(stated, "C" if scale == "F" else "F", safe)
    off = difference(shown, stated)
    assert shown.low.denominator == 1
    assert 0 <= (off if safe == "min" else -off) < 1


def test_gas_marks_are_no_food_temperature() -> None:
    with pytest.raises(ValueError, match="gas mark"):
        food(heat("gas 4"), "C")
    assert not is_food(heat("gas 4"))


def test_what_a_heat_may_be_of() -> None:
    assert is_oven(heat("450 F")) and is_oven(heat("gas 4")) and is_oven(heat("60 C"))
    assert not is_oven(heat("40 F")) and not is_oven(heat("37 C")) and not is_oven(heat("900 C"))
    assert is_food(heat("-18 C")) and is_food(heat("165 F")) and is_food(heat("375 F"))
    assert not is_food(heat("450 F")) and not is_food(heat("180 C fan"))


def test_safe_minimums() -> None:
    chart = {row.key: (row.fahrenheit, row.rest) for row in safe_temperatures()}
    assert chart["poultry"] == (165, 0)
    assert chart["ground"] == (160, 0)
    assert chart["whole-cut"] == (145, 3)
    assert chart["fish"] == (145, 0)
    assert chart["egg-dish"] == (160, 0)
    assert chart["leftovers"] == (165, 0)
    assert all("Food Safety and Inspection Service" in row.source for row in safe_temperatures())


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("boneless chicken thighs", "poultry"),
        ("ground beef", "ground"),
        ("minced lamb", "ground"),
        ("ground turkey", "poultry"),
        ("pork chops", "whole-cut"),
        ("salmon fillets", "fish"),
        ("smoked ham", "ham"),
        ("bread flour", None),
        ("eggplant", None),
    ],
)
def test_which_minimum(words: str, key: str | None) -> None:
    found = safe_for(words)
    assert (found.key if found else None) == key


PAIRS = [
    [part.strip() for part in line.split("|")]
    for line in (Path(__file__).parent / "heat_pairs.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.mark.parametrize(("text", "status", "slip", "fixes"), PAIRS, ids=[case[0] for case in PAIRS])
def test_pair_of_heats(text: str, status: str, slip: str, fixes: str) -> None:
    found = read_heat(text)
    assert found is not None and len(found) == 2
    verdict = compare_heat(*found)
    assert (verdict.status, verdict.slip.id if verdict.slip else "-") == (status, slip)
    assert "; ".join(verdict.fixes) == fixes


@given(st.integers(-40, 300), st.integers(-40, 300), st.sampled_from("FC"), st.sampled_from("FC"))
def test_a_proposed_pair_of_heats_agrees_and_is_new(a: int, b: int, x: Any, y: Any) -> None:
    one, two = Heat(Fraction(a), Fraction(a), x), Heat(Fraction(b), Fraction(b), y)
    verdict = compare_heat(one, two)
    for fix in verdict.fixes:
        again = read_heat(fix)
        assert again is not None and fix != f"{a} {x} or {b} {y}"
        assert len(again) == 1 or compare_heat(*again).status in ("agrees", "loose")
