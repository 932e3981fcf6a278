"""A saved page of schema.org Recipe becomes a recipe.yaml that the reader takes."""

from __future__ import annotations

import html
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.recipe.model import Recipe
from pipeline.recipe.page import PageError, draft_from_page
from pipeline.recipe.page.fields import seconds_of
from pipeline.recipe.page.markup import Item, items
from pipeline.recipe.read import read_text

CASES: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "page_cases.yaml").read_text(encoding="utf-8"))


def page_of(case: dict[str, Any]) -> str:
    block = f'<script type="application/ld+json">{case["json"]}</script>' if "json" in case else ""
    return f"<!doctype html><html><head><title>x</title>{block}</head><body>{case.get('page', '')}</body></html>"


def step_texts(recipe: Recipe) -> list[str]:
    return [" ".join(str(s.text).replace("{{", "{").replace("}}", "}").split()) for s in recipe.steps]


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_what_is_drafted(case: dict[str, Any]) -> None:
    draft = draft_from_page(page_of(case))
    recipe = read_text(draft.text)
    name = case["name"]
    assert recipe.title == case["title"] == draft.title, name
    assert recipe.draft, name
    if "components" in case:
        told = {c.key: [str(line.text) for line in c.ingredients] for c in recipe.components}
        assert told == case["components"], name
    else:
        assert [str(line.text) for c in recipe.components for line in c.ingredients] == case["lines"], name
    assert step_texts(recipe) == case["steps"], name
    if "times" in case:
        assert {k: t.low for k, t in recipe.times.items()} == case["times"], name
    if "yield" in case:
        assert recipe.yield_ is not None and recipe.yield_.text == case["yield"], name
    for words in case.get("says", ()):
        assert words in draft.text, f"{name}: {words}"
    for words in case.get("notes", ()):
        assert any(words in note for note in draft.notes), f"{name}: {draft.notes}"


def test_the_other_recipe() -> None:
    case = next(c for c in CASES if c["name"] == "two recipes on one page")
    assert draft_from_page(page_of(case), which=2).title == "Second"
    with pytest.raises(PageError, match="there is no recipe 3 on this page: it holds 2 recipes"):
        draft_from_page(page_of(case), which=3)


@pytest.mark.parametrize(
    ("page", "says"),
    [
        ("<p>Just words.</p>", "this page has no structured data"),
        ("", "this page has no structured data"),
        ('<div itemscope itemtype="https://schema.org/Person"></div>', "this page describes Person, but no recipe"),
        ('<div itemscope itemtype="https://schema.org/Recipe"></div>', "neither ingredients nor steps"),
        ('<script type="application/ld+json">{"@type": </script>', "no recipe can be read from this page: block 1"),
    ],
)
def test_a_page_without_a_recipe(page: str, says: str) -> None:
    with pytest.raises(PageError, match=says):
        draft_from_page(page)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        # ISO 8601-1:2019, 5.5.2 (from memory of its examples), and the forms of schema.org's cookTime
        ("PT30M", 1800),
        ("PT1H30M", 5400),
        ("P1DT12H", 129_600),
        ("P2W", 1_209_600),
        ("PT1.5H", 5400),
        ("PT0,5H", 1800),
        ("P0Y0M0DT0H35M0.000S", 2100),
        ("pt45m", 2700),
        ("PT", None),
        ("PT0M", None),
        ("P1Y", None),
        ("", None),
        ("1 h 15 min", 4500),
        ("a while", None),
    ],
)
def test_durations(text: str, seconds: int | None) -> None:
    assert seconds_of(text) == seconds


def _plain(value: str | Item) -> object:
    if isinstance(value, Item):
        return {"types": list(value.types), **{k: [_plain(v) for v in vs] for k, vs in value.properties.items()}}
    return " ".join(html.unescape(value).split())


def _other(item: Any) -> object:
    types = [str(t).rsplit("/", 1)[-1] for t in getattr(item, "itemtype", None) or []]
    found: dict[str, Any] = {"types": types}
    for name, values in item.props.items():
        found[name] = [_other(v) if hasattr(v, "props") else " ".join(str(v).split()) for v in values]
    return found


def test_microdata_as_another_library_reads_it() -> None:
    """Compared with the `microdata` package, which reads the same HTML standard over another parser; without itemref
    and line breaks, which it does not know."""
    microdata = pytest.importorskip("microdata")
    page = """<!doctype html><body><article itemscope itemtype="https://schema.org/Recipe">
    <h1 itemprop="name">Pea &amp; Mint Soup</h1><img itemprop="image" src="pea.jpg" alt="">
    <a itemprop="url" href="https://kitchen.example/pea">here</a>
    <time itemprop="totalTime" datetime="PT30M">half an hour</time>
    <div itemprop="author" itemscope itemtype="https://schema.org/Person"><b itemprop="name">Nobody</b></div>
    <ul><li itemprop="recipeIngredient">500 g <i>peas</i></li><li itemprop="recipeIngredient">1 l stock</li></ul>
    <p itemprop="recipeInstructions">Boil the peas.</p><meta itemprop="recipeYield" content="4 bowls"></article>"""
    ours, _ = items(page)
    theirs = microdata.get_items(page)
    assert [_plain(item) for item in ours] == [_other(item) for item in theirs]


@settings(max_examples=80)
@given(st.text(max_size=60), st.lists(st.text(max_size=50), max_size=5), st.lists(st.text(max_size=80), max_size=5))
def test_any_texts_are_read(title: str, ingredients: list[str], steps: list[str]) -> None:
    import json

    data = {
        "@type": "Recipe", "name": title, "recipeIngredient": ["1 egg", *ingredients], "recipeInstructions": steps,
        "description": title, "keywords": ingredients, "recipeYield": title, "tool": steps, "recipeCategory": steps,
    }  # fmt: skip
    block = json.dumps(data).replace("<", "\\u003c")
    draft = draft_from_page(f'<script type="application/ld+json">{block}</script>')
    recipe = read_text(draft.text)
    assert recipe.draft and recipe.steps and any(c.ingredients for c in recipe.components)


def test_a_page_nested_without_end() -> None:
    deep = (
        '{"@type":"Recipe","name":"A","recipeIngredient":["1 egg"],"recipeInstructions":'
        + "[" * 5000
        + "]" * 5000
        + "}"
    )
    page = f'<script type="application/ld+json">{deep}</script>' + "<div>" * 20_000
    with pytest.raises(PageError) as error:
        draft_from_page(page)
    assert "nested too deeply" in str(error.value)


def test_bytes_are_decoded_as_the_page_says() -> None:
    page = '<meta charset="iso-8859-1"><div itemscope itemtype="https://schema.org/Recipe"><b itemprop="name">Crème</b>'
    page += '<i itemprop="recipeIngredient">1 egg</i></div>'
    assert draft_from_page(page.encode("iso-8859-1")).title == "Crème"
