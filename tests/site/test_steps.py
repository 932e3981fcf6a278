"""What stands in a step's text in place of its marks, and in the list beside it."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
import yaml

from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.cautions import allergens, cautions
from pipeline.site.compose import Composer
from pipeline.site.moments import at_second, clock

CASES = Path(__file__).parent / "cases"
AMOUNTS = yaml.safe_load((CASES / "amounts.yaml").read_text("utf-8"))
HEATS = yaml.safe_load((CASES / "heats.yaml").read_text("utf-8"))
Cook = Callable[..., Recipe]


def source(ingredients: list[str], text: str) -> str:
    return yaml.safe_dump({"title": "Soup", "slug": "soup", "ingredients": ingredients, "steps": [{"text": text}]})


@pytest.mark.parametrize("case", AMOUNTS["cases"], ids=[case["text"] for case in AMOUNTS["cases"]])
def test_amounts_in_a_step(case: dict[str, str], cook: Cook, channel: Channel, table: Table) -> None:
    recipe = cook(source(AMOUNTS["ingredients"], case["text"]))
    assert Composer(channel, table).recipe(recipe, {}).steps[0].plain == case["prints"]


@pytest.mark.parametrize("case", HEATS, ids=[case["text"] for case in HEATS])
def test_heats_in_a_step(case: dict[str, str], cook: Cook, channel: Channel, table: Table) -> None:
    step = Composer(channel, table).recipe(cook(source(["salt"], case["text"])), {}).steps[0]
    found = re.search(r'<span class="heat"[^>]*>(.*?)</span>', str(step.body))
    assert found is not None
    # The stroke stays with the heat before it.
    assert unescape(re.sub("<[^>]*>", "", found[1])).replace("\xa0/", " /") == case["prints"]


def test_fan_and_gas_only_where_asked_and_only_for_ovens(cook: Cook, channel: Channel, table: Table) -> None:
    text = "Heat the oven to {450 F}. Cook until the inside reads {165 F}."
    composer = Composer(replace(channel, fan=True, gas=True), table)
    plain = composer.recipe(cook(source(["salt"], text)), {}).steps[0].plain
    assert plain == (
        "Heat the oven to 450 °F / 230 °C / 210 °C fan / gas mark 8. Cook until the inside reads 165 °F / 74 °C."
    )


def rows(recipe: Recipe, channel: Channel, table: Table) -> dict[str, tuple[list[str], list[str], str]]:
    (part,) = Composer(channel, table).recipe(recipe, {}).components
    return {r.name: ([s.signed() for s in r.scale], [s.signed() for s in r.cup], r.plain) for r in part.rows}


def test_the_two_columns(cook: Cook, channel: Channel, table: Table) -> None:
    lines = [
        "650 g or 2 3/4 cups water, room temperature",
        "2 large eggs (100 g)",
        "2 cups granulated sugar",
        "salt, to taste",
        "juice of 1 lemon (about 3 tbsp)",
        "1 (14 oz / 400 g) can tomatoes",
        "1 pinch smoked paprika, optional",
    ]
    got = rows(cook(source(lines, "Stir.")), channel, table)
    assert got["water"] == (["650 g"], ["2¾ cups"], "650 g (2¾ cups) water, room temperature")
    assert got["eggs"] == (["100 g"], ["2 large"], "2 large (100 g) eggs")
    assert got["granulated sugar"] == (["≈400 g"], ["2 cups"], "about 400 g (2 cups) granulated sugar")
    assert got["salt"] == ([], [], "salt, to taste")
    assert got["lemon juice"][1] == ["about 3 tbsp", "from 1 lemon"]
    assert got["tomatoes"][:2] == (["400 g", "14 oz"], ["1 can"])
    assert got["smoked paprika"] == ([], ["1 pinch"], "1 pinch smoked paprika, optional")


def test_volume_leads_where_the_channel_wants_it(cook: Cook, channel: Channel, table: Table) -> None:
    recipe = cook(source(["650 g or 2 3/4 cups water"], "Pour in {water}."))
    view = Composer(replace(channel, lead="volume"), table).recipe(recipe, {})
    assert view.components[0].rows[0].plain == "2¾ cups (650 g) water"
    assert view.steps[0].plain == "Pour in 2¾ cups or 650 g water."
    assert not view.weight_first


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("coconut milk", ()),
        ("peanut butter", ("peanut",)),
        ("unsalted butter, melted", ("milk",)),
        ("eggplant", ()),
        ("nutmeg", ()),
        ("soy sauce", ("wheat", "soy")),  # USDA SR28 (2016), NDB 16123: "soy sauce made from soy and wheat (shoyu)"
        ("gluten-free soy sauce", ("soy",)),
        ("pecorino, grated", ("milk",)),
        ("orzo", ("wheat",)),
        ("hummus", ("sesame",)),
        ("buckwheat flour", ()),
        ("bread flour", ("wheat",)),
        ("tahini", ("sesame",)),
        ("walnuts, chopped", ("tree nuts",)),
        ("water chestnuts", ()),
        ("prawns", ("shellfish",)),
        ("anchovies", ("fish",)),
        ("cream of tartar", ()),
        ("butternut squash", ()),
        ("almond milk", ("tree nuts",)),
        ("cocoa butter", ()),
        ("egg noodles", ("egg", "wheat")),
    ],
)
def test_allergens_named(words: str, named: tuple[str, ...], cook: Cook) -> None:
    """Worked out by hand after the nine major allergens (FALCPA 2004, FASTER Act 2021)."""
    assert allergens(cook(source([f"100 g {words}"], "Stir."))) == named


@pytest.mark.parametrize(
    ("words", "about"),
    [
        ("chicken thighs", "165 °F (74 °C)"),
        ("ground beef", "160 °F (71 °C)"),
        ("pork loin", "145 °F (63 °C)"),
        ("long-grain rice", "Cool cooked rice"),
        ("honey", "under one year"),
        ("bread flour", "raw until it is cooked"),
        ("eggs", "pasteurised"),
        ("chicken stock", ""),
        ("rice vinegar", ""),
    ],
)
def test_usual_cautions(words: str, about: str, cook: Cook) -> None:
    texts = [c.text for c in cautions(cook(source([f"100 g {words}"], "Stir."))) if not c.text.startswith("Allergens")]
    assert any(about in text for text in texts) if about else texts == []


def test_preserving_is_cautioned_by_the_dish(cook: Cook) -> None:
    jam = source(["1 kg strawberries"], "Boil.").replace("title: Soup", "title: Strawberry Jam")
    assert any("Home Canning" in c.text for c in cautions(cook(jam)))


@pytest.mark.parametrize(
    ("ms", "words"),
    [
        (0, "0:00"),
        (65_999, "1:05"),
        (600_000, "10:00"),
        (3_599_999, "59:59"),
        (3_600_000, "1:00:00"),
        (36_061_000, "10:01:01"),
    ],
)
def test_clock(ms: int, words: str) -> None:
    assert clock(ms) == words


@pytest.mark.parametrize(
    ("address", "there"),
    [
        ("https://video.example/soup", "https://video.example/soup?t=65s"),
        ("https://video.example/watch?v=1", "https://video.example/watch?v=1&t=65s"),
        ("https://video.example/soup#top", "https://video.example/soup?t=65s#top"),
        ("https://files.example/soup.mp4", "https://files.example/soup.mp4#t=65"),  # W3C Media Fragments 1.0
        ("../films/soup.webm", "../films/soup.webm#t=65"),
    ],
)
def test_at_second(address: str, there: str) -> None:
    assert at_second(address, 65) == there
