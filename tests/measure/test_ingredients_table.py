"""The shipped ingredient table: its keys, its ranges, its sources, and SR28 itself beside it."""

from __future__ import annotations

import importlib.util
import re
import sys
from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pytest

from pipeline.measure.ingredients import Row, Weight
from pipeline.measure.lookup import Table, load
from pipeline.measure.phrase import singular, tokens

SCRIPT = Path(__file__).parents[1] / "tools" / "build_ingredients.py"
SOURCE = re.compile(r"USDA SR28 \(2016\), NDB \d{5}(; (counts|cup) from memory)?|from memory")
NOTE = re.compile(r"SR28: ([\d.]+) (.+?) = ([\d.]+) g")


def script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("build_ingredients", SCRIPT)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def builder() -> ModuleType:
    return script()


@pytest.fixture(scope="module")
def table() -> Table:
    return load()


@pytest.fixture(scope="module")
def rows(table: Table) -> list[Row]:
    return list(table.rows())


def label(row: Row) -> str:
    return f"{row.place} {row.name}, {row.state}"


def cup(table: Table, words: str) -> Weight:
    match = table.find(words)
    assert match is not None and match.row.cup is not None, words
    return match.row.cup


def test_enough_rows_of_which_most_are_published(rows: list[Row]) -> None:
    cited = [r for r in rows if r.source.startswith("USDA")]
    print(f"{len(rows)} rows, {len(cited)} cite SR28, {len(rows) - len(cited)} from memory")
    assert len(rows) >= 450
    assert len(cited) >= len(rows) * 0.6


def test_keys_are_unique(rows: list[Row]) -> None:
    keys = [(r.name, r.state) for r in rows]
    assert sorted(k for k in set(keys) if keys.count(k) > 1) == []


def test_no_name_leads_to_two_ingredients(rows: list[Row]) -> None:
    seen: dict[tuple[str, ...], Row] = {}
    twice = []
    for row in rows:
        for alias in (row.name, *row.aliases):
            other = seen.setdefault(tokens(alias), row)
            if other.name != row.name:
                twice.append(f"{alias}: {label(row)} and {label(other)}")
    assert twice == []


def test_every_row_has_a_weight_a_form_and_a_source(rows: list[Row]) -> None:
    wrong = [label(r) for r in rows if not (r.cup or r.counts) or not SOURCE.fullmatch(r.source)]
    assert wrong == []


def test_ranges_are_sane(rows: list[Row]) -> None:
    wrong = []
    for row in rows:
        for what, w in (("cup", row.cup), *row.counts.items()):
            if w is None:
                continue
            if not 0 < w.low <= w.typical <= w.high:
                wrong.append(f"{label(row)} {what}: {w}")
            if what == "cup" and not (2 <= w.typical <= 360 and w.high / w.low <= 7):
                wrong.append(f"{label(row)} {what}: {w}")
    assert wrong == []


def test_what_pours_is_told_within_a_twentieth(rows: list[Row]) -> None:
    # A liquid fills the cup by itself; only what clings, thins or varies by brand may be told more widely.
    wide = {"rice wine", "coconut milk", "liqueur", "almond milk", "stock", "salad dressing"}
    wrong = [
        f"{label(r)}: {float(r.cup.low)} to {float(r.cup.high)}"
        for r in rows
        if r.form == "liquid" and r.cup and r.name not in wide and r.cup.high / r.cup.low > Fraction(125, 100)
    ]
    assert wrong == []


def test_liquids_have_the_density_of_liquids(rows: list[Row]) -> None:
    wrong = []
    for row in rows:
        density = row.density()
        if row.form == "liquid" and density and not Fraction(85, 100) <= density.typical <= Fraction(150, 100):
            wrong.append(f"{label(row)}: {float(density.typical):.2f} g/ml")
    assert wrong == []


def test_shipped_files_are_what_the_picks_and_sr28_give(builder: ModuleType) -> None:
    stale = [path.name for path, text in builder.built().items() if path.read_text(encoding="utf-8") != text]
    assert stale == [], "run tests/tools/build_ingredients.py"


def test_sr28_rows_say_what_sr28_says(rows: list[Row], builder: ModuleType) -> None:
    """Each cited cup weight, worked out again from WEIGHT.txt of USDA SR28 (public domain)."""
    weights: dict[str, list[tuple[str, str, Fraction]]] = {}
    for ndb, _, amount, words, grams, *_ in builder.sr28_lines("WEIGHT.txt"):
        weights.setdefault(ndb, []).append((amount, words.strip(), Fraction(grams)))
    scale = {"cup": 1, "tbsp": 16, "tablespoon": 16, "tsp": 48, "teaspoon": 48, "fl oz": 8}
    wrong, checked = [], 0
    for row in rows:
        note = NOTE.match(row.note)
        if note is None:
            continue
        ndb = re.search(r"NDB (\d{5})", row.source)
        assert ndb and row.cup, label(row)
        amount, words, grams = Fraction(note[1]), note[2], Fraction(note[3])
        same = [w for a, w, g in weights[ndb[1]] if Fraction(a) == amount and w == words and g == grams]
        unit = next((u for u in scale if words.startswith(u)), None)
        per_cup = grams / amount * scale[unit] if unit else None
        if not same or per_cup is None or abs(row.cup.typical - per_cup) > Fraction(5, 100):
            wrong.append(f"{label(row)}: {row.note}, NDB {ndb[1]}")
        checked += 1
    assert wrong == []
    assert checked > 500


def test_sr28_numbers_are_of_the_food_they_stand_for(rows: list[Row], builder: ModuleType) -> None:
    """A slip in an NDB number would give one food the weight of another; its description must share a word."""
    names = builder.sr28_names()
    # Where SR28 calls the thing otherwise, or another stands in for it: read and found right by hand.
    by_hand = {"ketchup", "wasabi", "broad beans", "fresh black-eyed peas", "textured vegetable protein"}
    words: dict[str, set[str]] = {}
    for row in rows:
        words.setdefault(row.name, set()).update(w.rstrip("s") for n in (row.name, *row.aliases) for w in tokens(n))
    wrong = []
    for row in rows:
        ndb = re.search(r"NDB (\d{5})", row.source)
        if ndb is None or row.name in by_hand:
            continue
        said = {singular(w).rstrip("s") for w in re.findall(r"[a-z]+", names[ndb[1]].lower())}
        if not words[row.name] & said:
            wrong.append(f"{label(row)}: {names[ndb[1]]}")
    assert wrong == []


# USDA SR28 (2016), WEIGHT.txt; the same figures stand in the brief of the project's data sources.
SPOT = [
    ("butter", 227), ("whole milk", 244), ("water", 237), ("granulated sugar", 200), ("all-purpose flour", 125),
    ("whole-wheat flour", 120), ("table salt", 18 * 16), ("honey", 339), ("packed brown sugar", 220),
    ("baking powder", Fraction("4.6") * 48), ("baking soda", Fraction("4.6") * 48), ("olive oil", 216),
    ("white rice", 185), ("cooked white rice", 158), ("cocoa powder", 86), ("heavy cream", 238), ("maple syrup", 315),
    ("rolled oats", 81), ("grated parmesan", 100), ("chopped walnuts", 117), ("raspberries", 123),
]  # fmt: skip


@pytest.mark.parametrize(("words", "grams"), SPOT, ids=[w for w, _ in SPOT])
def test_spot_values(table: Table, words: str, grams: Fraction) -> None:
    assert abs(cup(table, words).typical - grams) <= Fraction(1, 10)


def test_egg_sizes_and_the_stick(table: Table) -> None:
    """Eggs: USDA SR28, NDB 01123, 01124, 01125. Stick: a quarter of the pound of NIST Handbook 44, Appendix C."""
    egg, white, yolk = (table.find(w) for w in ("egg", "egg white", "egg yolk"))
    assert egg and white and yolk
    sizes = ("small", "medium", "large", "extra large", "jumbo")
    assert [egg.row.counts[s].typical for s in sizes] == [38, 44, 50, 56, 63]
    assert egg.row.counts[""].typical == egg.row.counts["large"].typical
    assert (white.row.counts["large"].typical, yolk.row.counts["large"].typical) == (33, 17)
    butter = table.find("butter")
    assert butter
    stick = butter.row.counts["stick"]
    assert stick.low <= Fraction("453.59237") / 4 <= stick.high


def test_water_weighs_what_physics_says(table: Table) -> None:
    """0.998 g/ml at 20 °C (CRC Handbook of Chemistry and Physics, from memory), 0.958 near boiling is outside."""
    water = table.find("water")
    assert water
    density = water.row.density()
    assert density and density.low <= Fraction("0.9982") <= density.high
    assert density.low > Fraction("0.958")


# Which of two states packs more into the cup: common sense, no source.
HEAVIER = [
    ("flour", "sifted flour"), ("packed brown sugar", "lightly packed brown sugar"), ("table salt", "kosher salt"),
    ("powdered sugar", "sifted powdered sugar"), ("kosher salt", "flaky sea salt"),
    ("cheddar, diced", "grated cheddar"),
    ("grated parmesan", "finely grated parmesan"), ("walnuts, chopped", "walnuts, ground"),
    ("mashed banana", "banana, sliced"),
    ("cooked spinach", "spinach"), ("breadcrumbs", "fresh breadcrumbs"), ("cream", "whipped cream"), ("honey", "water"),
    ("water", "olive oil"), ("active dry yeast", "nutritional yeast"), ("melted chocolate", "chopped chocolate"),
]  # fmt: skip


@pytest.mark.parametrize(("heavy", "light"), HEAVIER, ids=[f"{a} over {b}" for a, b in HEAVIER])
def test_states_are_in_order(table: Table, heavy: str, light: str) -> None:
    assert cup(table, heavy).typical > cup(table, light).typical


SIZED = re.compile(r"(small|medium|large|extra large)(?: \(|$)")


def test_every_size_that_sr28_weighs_is_in_the_range_of_its_word(rows: list[Row], builder: ModuleType) -> None:
    """USDA SR28 (2016), WEIGHT.txt: "1 small", "1 medium (2-1/2" dia)". Who weighs the same has made no slip."""
    weights = builder.sr28_weights()
    cited = [(r, ndb[1]) for r in rows if "" in r.counts and (ndb := re.search(r"NDB (\d{5})", r.source))]
    held, wrong = 0, []
    for row, ndb in cited:
        for (food, _), measure in weights.items():
            size = SIZED.match(measure.words) if food == ndb else None
            if size is None:
                continue
            held += 1
            ours = row.counts.get(size[1])
            if ours is None or not ours.low <= measure.grams / measure.amount <= ours.high:
                wrong.append(f"{label(row)}: {measure}, ours {ours}")
    assert held > 80 and not wrong, wrong


@pytest.mark.parametrize("name", ["onion", "potatoes", "carrots", "apples", "bananas", "zucchini", "lemon"])
def test_one_cooks_small_is_the_next_ones_medium(table: Table, name: str) -> None:
    """Sizes of what grows overlap; those of eggs, graded by weight, hardly touch (common practice, no source)."""
    match = table.find(name)
    assert match is not None
    small, medium, large = (match.row.counts[s] for s in ("small", "medium", "large"))
    assert small.high >= medium.typical and large.low <= medium.high
    egg = table.find("egg")
    assert egg is not None and egg.row.counts["medium"].high < egg.row.counts["large"].typical
