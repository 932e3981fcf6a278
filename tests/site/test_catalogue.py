"""The one catalogue holds every word that the pages say: with each entry marked, all that is left is the cook's.

And a second language is a second catalogue: German here, as far as the pages of one recipe need it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import feedparser
import pytest
import yaml
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

from pipeline.measure.duration import read_duration, say_time
from pipeline.measure.heat import read_heat, say_heat
from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel, Link
from pipeline.recipe.model import Recipe
from pipeline.site.build import build
from pipeline.site.cautions import cautions
from pipeline.site.post import post_text
from pipeline.site.terms import english, how_many
from pipeline.site.theme import Theme, shipped_words
from pipeline.site.words import Words

HOLE = re.compile(r"\{[a-z]+\}")
MARK = re.compile(r"⟦[^⟧]*⟧")
ADDRESS = re.compile(r"https?://\S+")
WORD = re.compile(r"[^\W\d_]{2,}|(?<![\w’'])[a-z](?![\w’'])")
AS_IT_IS = ("language.plural", "measure.decimal")  # a formula and a sign


def marked(key: str, text: str) -> str:
    return f"⟦{key}⟧" + "".join(HOLE.findall(text))


def marked_catalogue() -> str:
    """Every entry of the shipped catalogue as its own name in marks, with its holes."""
    out: dict[str, dict[str, Any]] = {}
    for key, entry in shipped_words().entries.items():
        section, _, name = key.partition(".")
        if key in AS_IT_IS or section == "sets_off":
            continue
        if key == "language.months":
            value: Any = ", ".join(f"⟦month {i}⟧" for i in range(12))
        elif key == "found.season_words":
            value = ", ".join(f"⟦season {i}⟧/xseason{i}" for i in range(4))
        else:
            value = marked(key, entry) if isinstance(entry, str) else [marked(key, text) for text in entry]
        out.setdefault(section, {})[name] = value
    return yaml.safe_dump(out, allow_unicode=True, width=1000)


# Every word of the cook's begins with an x, save the foods, which the program must know, and what joins them.
FOODS = "flour all purpose egg eggs lemon lemons juice milk chicken thigh thighs sugar granulated aubergine eggplant"
FOODS += " water olive oil garlic honey butter large peeled plain salt aubergines eggplants"
JOINING = "and it in the a at oven pan"
SOURCE = """\
title: Xbuns
slug: xbuns
summary: Xsoft xbuns.
published: 2026-10-09
yield: 6 xbuns
times: {prep: 20 min, cook: 1 h 15 min, rest: 2 to 3 days, total: about 3 days}
category: Xbread
cuisine: Xland
keywords: [xseason1, xtag]
equipment: ["9 x 13 in pan", xbowl]
components:
  xdough:
    - 250 g or 2 cups all-purpose flour
    - 2 large eggs
    - 1.5 kg chicken thighs
    - juice of 1 lemon
    - {amount: 15 ml, name: milk, note: xwarm, optional: yes}
    - about 3 tbsp olive oil
    - 2-3 large cloves garlic, peeled
    - 1 lb butter
    - 2 metric cups water
    - {name: honey, amount: 1 tbsp, divided: yes}
  xtop:
    - 1 to 1 1/2 cups granulated sugar
    - 400 g aubergine
    - salt, xcoarse
steps:
  - component: xdough
    title: Xmix
    at: 0:10
    text: "Xmix {flour: 1 cup} and {eggs} xfor {PT1H30M} xin a 9 x 13 in pan."
  - component: xtop
    title: Xbake
    at: 1:10
    text: "Xbake {sugar} and {aubergine} and {flour: rest} and {xdough} xin the oven xat {400 F} xfor {PT15M}."
notes: ["Xkeep it xcold at {40 F}."]
substitutions: {milk: Xwater.}
nutrition: {serving: 1 xbun, calories: 90 xkcal, fat: 2 x, protein: 1 x}
video: {address: "https://video.example/x", length: 3:00}
photos: [{file: p.jpg, alt: Xbuns xon a xboard.}, {file: q.jpg, alt: Xmore.}]
"""
SECOND = """\
title: Xjam
slug: xjam
category: Xother
keywords: [xtag]
ingredients: [200 g granulated sugar, 1 tbsp honey]
steps: ["Xboil {sugar}."]
"""


@pytest.fixture
def marked_site(
    cook: Callable[..., Recipe], picture: Callable[..., Path], table: Table, tmp_path: Path
) -> tuple[Path, str]:
    """A site in marks, and the text under its film."""
    folder = tmp_path / "content" / "recipes" / "xbuns"
    picture(folder / "p.jpg")
    picture(folder / "q.jpg", (500, 400))
    templates = tmp_path / "templates"
    templates.mkdir()
    (templates / "words.yaml").write_text(marked_catalogue(), "utf-8")
    channel = Channel(
        name="Xchannel", author="Xcook", tagline="Xline.", address="https://x.example", fan=True, gas=True,
        footer="Xfoot.", social=(Link("Xelsewhere", "https://social.example/x"),),
        links=(Link("Xscale", "https://shop.example/x"),),
    )  # fmt: skip
    recipes = [cook(SOURCE, "xbuns"), cook(SECOND, "xjam")]
    out = build(recipes, channel, table, tmp_path / "site_out", templates).out
    return out, post_text(recipes[0], channel, table, templates).text


class Said(HTMLParser):
    """What a reader sees, hears or finds elsewhere of a page: text, spoken attributes, descriptions, data about it."""

    ATTRIBUTES = ("alt", "aria-label", "aria-description", "aria-valuetext", "title", "placeholder", "label")
    ATTRIBUTES += ("data-gas", "data-fan")

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.within: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag in ("script", "style"):
            self.within.append("data" if told.get("type") == "application/ld+json" else "none")
        self.words += [value for name, value in attrs if name in self.ATTRIBUTES and value]
        name = told.get("name") or told.get("property") or ""
        if tag == "meta" and re.fullmatch(r"description|og:(?:title|description|image:alt|site_name)", name):
            self.words.append(told["content"] or "")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("script", "style"):
            self.within.pop()

    def handle_data(self, text: str) -> None:
        if not self.within:
            self.words.append(text)
        elif self.within[-1] == "data":
            self.words += said_in(json.loads(text))


FOR_PEOPLE = ("name", "description", "text", "recipeIngredient", "recipeYield", "unitText")


def said_in(data: Any, key: str = "") -> Iterator[str]:
    """The texts for people in schema.org data."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from said_in(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from said_in(value, key)
    elif isinstance(data, str) and key in (
        "name",
        "description",
        "text",
        "recipeIngredient",
        "recipeYield",
        "unitText",
    ):
        yield data


def bare(texts: list[str]) -> list[str]:
    """The words that neither the catalogue nor the cook has said."""
    known = {*FOODS.split(), *JOINING.split()}
    out = []
    for text in texts:
        left = [
            w
            for w in WORD.findall(ADDRESS.sub(" ", MARK.sub(" ", text)))
            if w[0] not in "xX" and w.lower() not in known
        ]
        out += [f"{word!r} in {text.strip()!r}" for word in left]
    return out


def test_no_page_says_a_word_of_its_own(marked_site: tuple[Path, str]) -> None:
    out, post = marked_site
    seen: set[str] = set()
    for path in sorted(out.rglob("*.html")):
        said = Said(path.read_text("utf-8")).words
        seen.update(MARK.findall(" ".join(said)))
        assert bare(said) == [], path.name
    assert bare([post]) == []
    feed = feedparser.parse((out / "feed.xml").read_bytes())
    assert feed.entries
    for entry in feed.entries:
        assert bare([*Said(entry.content[0].value).words, entry.title, entry.summary]) == []
    # The marks are there: units, times, heats, cautions, allergens, months, seasons, and by them the page's own words.
    for mark in (
        "units.cup", "units.clove", "units.kilogram", "units.pound", "units.hour", "units.day", "measure.about",
        "measure.heat_gas", "measure.heat_fan", "measure.whose_metric",
        "caution.poultry", "caution.allergens", "allergen.egg", "month 9",
        "season 1", "nutrition.protein", "recipe.the_rest_of", "recipe.from", "paper.card", "found.related",
    ):  # fmt: skip
        assert f"⟦{mark}⟧" in seen, mark


def test_no_script_says_a_word_of_its_own(marked_site: tuple[Path, str], browser: Any) -> None:
    """Every control is used: the page is then judged as a reader has it."""
    out, _ = marked_site

    def judge(*marks: str) -> None:
        page = browser.execute_script("return document.documentElement.outerHTML")
        said = [*Said(page).words, browser.title]
        assert bare(said) == []
        for mark in marks:
            assert f"⟦{mark}⟧" in " ".join(said), mark

    def show(path: str) -> None:
        browser.get((out / path).resolve().as_uri())
        browser.execute_script("localStorage.clear(); sessionStorage.clear()")
        browser.refresh()

    show("recipes/xbuns.html")
    for drawer in browser.find_elements(By.CSS_SELECTOR, ".drawer"):
        browser.execute_script("arguments[0].open = true", drawer)
    judge("recipe.print", "counter.make", "counter.names_uk", "cups.us", "counter.step_done", "counter.ring")
    batch = browser.find_element(By.ID, "batch")
    for typed, marks in (
        ("7.5", ("counter.changed", "counter.pan", "units.inch", "counter.egg_or")),
        ("12", ("counter.pan_such", "measure.about", "recipe.from")),
        ("600", ()),
        ("none", ("counter.bad_number",)),
        ("99999", ("counter.bad_size",)),
        ("9", ("counter.changed",)),
    ):
        batch.clear()
        batch.send_keys(typed)
        browser.execute_script("document.getElementById('batch').blur()")
        said = browser.find_element(By.ID, "batch-said").text.replace("none", "x")  # her own typing, said back
        browser.execute_script("document.getElementById('batch-said').textContent = arguments[0]", said)
        judge(*marks)
    for name, values in {
        "cup": ("australian", "imperial", "us"),
        "heat": ("F", "C", "fan", "gas", ""),
        "lead": ("volume", "weight"),
        "names": ("us", "uk", ""),
    }.items():
        for value in values:
            Select(browser.find_element(By.ID, f"my-{name}")).select_by_value(value)
            judge()
    foods = Select(browser.find_element(By.ID, "have-of"))
    assert len(foods.options) > 8
    for i in range(len(foods.options)):
        foods.select_by_index(i)
        judge()
    bells = browser.find_elements(By.CSS_SELECTOR, ".ring")
    assert len(bells) == 2
    for bell in bells:
        browser.execute_script("arguments[0].click()", bell)
    judge("counter.clock_stop", "counter.clock_left", "counter.clock_title")

    show("archive.html")
    find = browser.find_element(By.ID, "find")
    for typed in ("xb", "xzz"):
        find.clear()
        find.send_keys(typed)
        judge("archive.tally", "archive.none")
    show("pantry.html")
    for box in browser.find_elements(By.CSS_SELECTOR, ".larder input")[:2]:
        browser.execute_script("arguments[0].click()", box)
        judge("found.pantry_have", "found.pantry_reset")
    browser.execute_script("localStorage.clear(); sessionStorage.clear()")


# -- what the measures say, in the catalogue ------------------------------------------------------------------------


def test_the_shipped_catalogue_says_what_the_measures_say() -> None:
    """So that a page and a finding about it read alike, and nothing is put in place of anything."""
    shipped = shipped_words()
    assert {key: shipped.entries.get(key) for key in english()} == english()
    assert {key for key in shipped.entries if key.startswith("units.")} <= set(english())
    assert shipped.terms.plain


GERMAN = """\
language:
  date: "{day}. {month} {year}"
  months: Januar, Februar, März, April, Mai, Juni, Juli, August, September, Oktober, November, Dezember
measure:
  {about: "etwa {amount}", to: "{low} bis {high}", decimal: ",", heat_fan: "{heat} Umluft", heat_gas: "Gasstufe {n}",
  whose_imperial: "britische {unit}"}
units:
  cup: [Tasse, Tassen]
  tablespoon: EL
  teaspoon: TL
  clove: [Zehe, Zehen]
  pound: Pfund
  hour: Std.
  minute: Min.
  day: [Tag, Tage]
  inch: Zoll
recipe: {ingredients: Zutaten, method: Zubereitung, scale: Waage, cup: Maß, or: oder, print: Seite drucken}
caution:
  poultry: "Geflügel an der dicksten Stelle auf 74 °C (165 °F) erhitzen; mit dem Thermometer prüfen."
  allergens: "In der Liste genannte Allergene: {some}. Es können weitere enthalten sein."
allergen: {egg: Ei, wheat: Weizen}
sets_off: {poultry: "Hähnchen; Huhn;Hühner", has_wheat: "Mehl;Weizenmehl", has_egg: "Ei;Eier"}
"""


@pytest.fixture
def german(tmp_path: Path) -> Words:
    folder = tmp_path / "templates"
    folder.mkdir()
    (folder / "words.yaml").write_text(GERMAN, "utf-8")
    return Theme(folder).words


@pytest.mark.parametrize(
    ("said", "size", "told"),
    [
        ("2¾ cups", "", "2¾ Tassen"),
        ("½ cup", "", "½ Tasse"),
        ("1 cup", "", "1 Tasse"),
        ("1½ cups + 1 tbsp", "", "1½ Tassen + 1 EL"),
        ("about 1–2 cups", "", "etwa 1–2 Tassen"),
        ("about 1 cup", "", "etwa 1 Tasse"),
        ("1.25 kg", "", "1,25 kg"),
        ("0.5 g", "", "0,5 g"),
        ("1 cup to 1 cup + 2 tbsp", "", "1 Tasse bis 1 Tasse + 2 EL"),
        ("1 lb 2½ oz", "", "1 Pfund 2½ oz"),
        ("2–3 large cloves", "large", "2–3 large Zehen"),
        ("1 large clove", "large", "1 large Zehe"),
        ("2 large", "large", "2 large"),
        ("12", "", "12"),
        ("a scant ½ cup", "", "a scant ½ Tasse"),
        ("1 h 30 min", "", "1 Std. 30 Min."),
        ("2 days 12 h", "", "2 Tage 12 Std."),
        ("45 min – 1 h", "", "45 Min. – 1 Std."),
        ("2 imperial cups", "", "2 britische Tassen"),
        ("1 US cup", "", "1 US Tasse"),
        ("½ cupboard", "", "½ cupboard"),
        ("", "", ""),
    ],
)
def test_an_amount_in_german(said: str, size: str, told: str, german: Words) -> None:
    """Expected by hand."""
    assert german.terms.amount(said, size) == told
    assert shipped_words().terms.amount(said, size) == said


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("450 F", "450 °F"),
        ("180 C fan", "180 °C Umluft"),
        ("gas mark 6", "Gasstufe 6"),
        ("400-425 F", "400–425 °F"),
        ("gas mark 1/2", "Gasstufe ½"),
    ],
)
def test_a_heat_in_german(typed: str, told: str, german: Words) -> None:
    (heat,) = read_heat(typed) or ()
    assert german.terms.heat(heat) == told
    assert shipped_words().terms.heat(heat) == say_heat(heat)


def test_a_time_in_german(german: Words) -> None:
    (time,) = read_duration("about 1 h 30 min") or ()
    assert german.terms.time(time) == "etwa 1 Std. 30 Min."
    assert shipped_words().terms.time(time) == say_time(time)


def test_words_of_a_number_go_by_how_many() -> None:
    """ "½ cup", "1 cup", "1½ cups", "0.5 cup": as English has them."""
    numbers = {"1": 1, "½": 1, "1½": 2, "2": 2, "12": 12, "0.5": 1, "1.5": 2, "⅔": 1, "2¾": 2, "0": 0}
    assert {number: how_many(number) for number in numbers} == numbers


def test_more_forms_than_two(tmp_path: Path) -> None:
    """Polish has three: the formula is that of GNU gettext's manual, "Plural forms" (from memory)."""
    (tmp_path / "words.yaml").write_text(
        "language: {plural: 'n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2'}\n"
        "units: {cup: [szklanka, szklanki, szklanek]}\n",
        "utf-8",
    )
    terms = Theme(tmp_path).words.terms
    said = [terms.amount(text) for text in ("1 cup", "2 cups", "5 cups", "22 cups", "½ cup", "1½ cups")]
    assert said == ["1 szklanka", "2 szklanki", "5 szklanek", "22 szklanki", "½ szklanka", "1½ szklanki"]


HUHN = """\
title: Huhn mit Mehl
slug: huhn
published: 2026-03-03
yield: 4 Portionen
times: {prep: 20 min, total: 1 h 30 min}
ingredients:
  - {name: Hähnchen, amount: 1.5 kg}
  - {name: Weizenmehl, amount: 250 g or 2 cups}
  - {name: Aubergine, amount: 2 large}
  - {name: Knoblauch, amount: 2 cloves}
steps:
  - "{Weizenmehl} und {Hähnchen} im Ofen bei {gas mark 6} backen."
"""


def test_a_site_in_another_language(
    cook: Callable[..., Recipe], german: Words, table: Table, tmp_path: Path, browser: Any
) -> None:
    channel = Channel(name="Der Blechbesen", language="de-AT", address="https://x.example", fan=True)
    out = build([cook(HUHN, "huhn")], channel, table, tmp_path / "site_out", tmp_path / "templates").out
    page = (out / "recipes" / "huhn.html").read_text("utf-8")
    assert '<html lang="de-AT">' in page and '<meta property="og:locale" content="de_AT">' in page
    said = " ".join("".join(Said(page).words).split())
    for text in (
        "3. März 2026", "1 Std. 30 Min.", "1,5 kg", "2 Tassen", "2 Zehen", "Zutaten", "250 g oder 2 Tassen Weizenmehl",
        "Gasstufe 6 / 400 °F / 200 °C / 180 °C Umluft", "Geflügel an der dicksten Stelle", "Allergene: Weizen.",
    ):  # fmt: skip
        assert text in said.replace("\u00a0", " "), text
    assert 'id="my-names"' not in page and "data-us" not in page  # American and British names are for English only
    assert '"inLanguage":"de-AT"' in page and '"1,5 kg Hähnchen"' in page
    paper = (out / "print" / "huhn.html").read_text("utf-8")
    assert '<html lang="de-AT">' in paper and "2\u00a0Tassen" in paper
    feed = (out / "feed.xml").read_text("utf-8")
    assert 'xml:lang="de-AT"' in feed and "250 g (2 Tassen) Weizenmehl" in feed

    browser.get((out / "recipes" / "huhn.html").resolve().as_uri())
    batch = browser.find_element(By.ID, "batch")
    batch.clear()
    batch.send_keys("3")
    browser.execute_script("document.getElementById('batch').blur()")
    text = browser.find_element(By.CSS_SELECTOR, ".ledger").text
    assert "1½ Tassen" in text and "1,13 kg" in text and "1½ Zehen" in text


def test_a_caution_is_set_off_in_the_recipes_own_language(cook: Callable[..., Recipe], german: Words) -> None:
    recipe = cook(HUHN, "huhn")
    assert [c.text[:8] for c in cautions(recipe, german)] == ["Geflügel", "In der L"]
    assert cautions(recipe) == ()
