"""Units: the stored factors against pint, UCUM and the published numbers; the words that stand for a unit."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from fractions import Fraction
from functools import cache
from importlib import resources

import pint
import pytest

from pipeline.measure.registry import factors
from pipeline.measure.units import STANDARDS, Standard, Unit, factor, find_unit, spellings, unit, unit_names

SIZED = [name for name in unit_names() if unit(name).kind != "count"]


def test_stored_factors_are_what_the_definitions_say() -> None:
    stored = json.loads(resources.files("pipeline.measure").joinpath("data", "factors.json").read_text("utf-8"))
    assert {k: Fraction(v) for k, v in stored.items()} == factors(), "run python -m pipeline.measure.registry"


# pint's default registry, exact here, is a second witness for every unit that it knows.
PINT = {
    "gram": "gram", "kilogram": "kilogram", "milligram": "milligram", "ounce": "ounce", "pound": "pound",
    "milliliter": "milliliter", "centiliter": "centiliter", "deciliter": "deciliter", "liter": "liter",
    "us_cup": "cup", "us_tablespoon": "tablespoon", "us_teaspoon": "teaspoon", "us_fluid_ounce": "fluid_ounce",
    "us_pint": "pint", "us_quart": "quart", "us_gallon": "gallon", "imperial_cup": "imperial_cup",
    "imperial_fluid_ounce": "imperial_fluid_ounce", "imperial_pint": "imperial_pint",
    "imperial_quart": "imperial_quart", "imperial_gallon": "imperial_gallon",
    "inch": "inch", "centimeter": "centimeter", "millimeter": "millimeter",
}  # fmt: skip


@cache
def default_registry() -> pint.UnitRegistry:
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(("ours", "theirs"), PINT.items())
def test_pint_agrees(ours: str, theirs: str) -> None:
    quantity = default_registry().Quantity(Fraction(1), theirs)
    base = next(b for b in ("gram", "milliliter", "millimeter") if quantity.is_compatible_with(b))
    assert factors()[ours] == pytest.approx(quantity.to(base).magnitude, rel=1e-12)


# UCUM 2.2 (ucum-essence.xml, as ucumvert 0.3.2 carries it): code, our unit.
UCUM = {
    "[cup_us]": "us_cup", "[tbs_us]": "us_tablespoon", "[tsp_us]": "us_teaspoon", "[foz_us]": "us_fluid_ounce",
    "[pt_us]": "us_pint", "[qt_us]": "us_quart", "[gal_us]": "us_gallon", "[lb_av]": "pound", "[oz_av]": "ounce",
    "[foz_br]": "imperial_fluid_ounce", "[pt_br]": "imperial_pint", "[qt_br]": "imperial_quart",
    "[gal_br]": "imperial_gallon", "[cup_m]": "label_cup", "[tbs_m]": "label_tablespoon", "[tsp_m]": "label_teaspoon",
    "[foz_m]": "label_fluid_ounce", "[in_i]": "inch",
}  # fmt: skip
# What the essence's chains of definitions end in, in g, ml and mm.
BASES = {"g": Fraction(1), "mg": Fraction(1, 1000), "mL": Fraction(1), "l": Fraction(1000), "cm": Fraction(10)}


@cache
def essence() -> dict[str, tuple[Fraction, str]]:
    text = resources.files("ucumvert").joinpath("vendor", "ucum-essence.xml").read_text("utf-8")
    result = {}
    for element in ET.fromstring(text).iter():
        value = element.find("./{*}value")
        if element.tag.endswith("}unit") and value is not None and re.fullmatch(r"[\d.e+-]+", value.get("value", "")):
            result[element.attrib["Code"]] = (Fraction(value.attrib["value"]), value.attrib["Unit"])
    return result


def ucum(code: str) -> Fraction:
    """A UCUM unit in g, ml or mm by following its definitions: ``[in_i]3``, ``[gil_br]/5``, ``mL``."""
    if code in BASES:
        return BASES[code]
    m = re.fullmatch(r"(\[\w+\]|\w+?)(\d)?(?:/(\d+))?", code)
    assert m, code
    if m[2]:
        cubed = ucum(m[1]) ** int(m[2])
        assert m[2] == "3", code
        return cubed / 1000 / int(m[3] or 1)  # mm3 to ml
    if m[1] in BASES:
        return BASES[m[1]] / int(m[3] or 1)
    number, of = essence()[m[1]]
    return number * ucum(of) / int(m[3] or 1)


@pytest.mark.parametrize(("code", "ours"), UCUM.items())
def test_ucum_agrees(code: str, ours: str) -> None:
    assert ucum(code) == factors()[ours]


PUBLISHED = [
    # NIST SP 811 (2008), Appendix B; NIST Handbook 44, Appendix C: exact
    ("pound", "us", "453.59237"),
    ("ounce", "us", "28.349523125"),
    ("gallon", "us", "3785.411784"),
    ("cup", "us", "236.5882365"),
    ("fluid ounce", "us", "29.5735295625"),
    ("tablespoon", "us", "14.78676478125"),
    ("teaspoon", "us", "4.92892159375"),
    ("inch", "us", "25.4"),
    # 21 CFR 101.9(b)(5)(viii)
    ("cup", "us-label", "240"),
    ("tablespoon", "us-label", "15"),
    ("teaspoon", "us-label", "5"),
    ("fluid ounce", "us-label", "30"),
    # UK Weights and Measures Act 1985
    ("pint", "imperial", "568.26125"),
    ("fluid ounce", "imperial", "28.4130625"),
    ("gallon", "imperial", "4546.09"),
    # common practice, no source
    ("cup", "metric", "250"),
    ("tablespoon", "metric", "15"),
    ("teaspoon", "metric", "5"),
    ("cup", "australian", "250"),
    ("tablespoon", "australian", "20"),
    ("teaspoon", "australian", "5"),
]


@pytest.mark.parametrize(("name", "standard", "published"), PUBLISHED)
def test_published_numbers(name: str, standard: Standard, published: str) -> None:
    assert factor(unit(name), standard) == Fraction(published)


@pytest.mark.parametrize("standard", STANDARDS)
def test_each_standard_is_of_one_piece(standard: Standard) -> None:
    size = {name: factor(unit(name), standard) for name in SIZED}
    assert size["pinch"] < size["dash"] < size["teaspoon"] < size["tablespoon"] < size["cup"] < size["pint"]
    assert size["gallon"] == 4 * size["quart"] == 8 * size["pint"]
    assert size["pound"] == 16 * size["ounce"]
    spoons = 4 if standard == "australian" else 3
    assert size["tablespoon"] == spoons * size["teaspoon"]


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("g", "gram"), ("gms", "gram"), ("Grams", "gram"), ("KG", "kilogram"), ("kilos", "kilogram"),
        ("oz", "ounce"), ("oz.", "ounce"), ("OZ", "ounce"), ("lbs", "pound"), ("lb.", "pound"), ("pounds", "pound"),
        ("ml", "milliliter"), ("mL", "milliliter"), ("millilitres", "milliliter"), ("cc", "milliliter"),
        ("l", "liter"), ("L", "liter"), ("litre", "liter"), ("dl", "deciliter"), ("c", "cup"), ("C", "cup"),
        ("cups", "cup"), ("Cup", "cup"), ("T", "tablespoon"), ("Tbsp", "tablespoon"), ("tbsp.", "tablespoon"),
        ("TBSP", "tablespoon"), ("Tb", "tablespoon"), ("tbs", "tablespoon"), ("tablespoons", "tablespoon"),
        ("t", "teaspoon"), ("tsp", "teaspoon"), ("tsps", "teaspoon"), ("Teaspoon", "teaspoon"),
        ("fl oz", "fluid ounce"), ("fl. oz.", "fluid ounce"), ("Fl Oz", "fluid ounce"), ("floz", "fluid ounce"),
        ("pt", "pint"), ("qts", "quart"), ("gal", "gallon"), ("pinches", "pinch"), ("dash", "dash"),
        ("inches", "inch"), ('"', "inch"), ("cm", "centimeter"), ("cloves", "clove"), ("sticks", "stick"),
        ("tins", "can"), ("leaves", "leaf"), ("bunches", "bunch"),
    ],
)  # fmt: skip
def test_words_for_units(word: str, name: str) -> None:
    found = find_unit(word)
    assert found is not None and found.name == name


@pytest.mark.parametrize("word", ["", "flour", "egg", "x", "cupcake", "grammar", "°F", "ozone", "s", "."])
def test_words_for_none(word: str) -> None:
    assert find_unit(word) is None


def test_spellings_lead_back() -> None:
    for word, meant in spellings().items():
        assert word == word.lower()
        if word not in ("", "t"):
            assert find_unit(word) == meant, word
    for name in unit_names():
        assert find_unit(name) == find_unit(unit(name).plural) == unit(name)


def test_a_count_has_no_size() -> None:
    with pytest.raises(ValueError, match="no fixed size"):
        factor(unit("clove"))
    with pytest.raises(ValueError, match="no fixed size"):
        factor(Unit("", "", "", "count"))
