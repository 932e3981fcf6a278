"""Ways into the archive: lists, pages of lists, kin, and the search's data. Expected values are worked out by hand."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from typing import Any

import pytest
from outside import need, tools

from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.build import Report
from pipeline.site.compose import Composer
from pipeline.site.finder import finder_script, folded
from pipeline.site.listings import Listings, page_links
from pipeline.site.sheet import Desk
from pipeline.site.shelves import PAGE, Found, Kin, page_path, paged, season_names, seasons_of, shelves, slugged
from pipeline.site.theme import Theme, shipped_templates
from pipeline.site.view import CardView


def found(slug: str, *ingredients: str, keywords: tuple[str, ...] = (), kind: str = "", day: str = "") -> Found:
    card = CardView(slug, slug.title(), "", day, day, (kind,) if kind else (), (), keywords, "", 0, slug, None)
    return Found(card, ingredients)


def test_a_file_name_for_any_words() -> None:
    taken: set[str] = set()
    assert slugged("Crème Brûlée", taken) == "creme-brulee"
    assert slugged("creme brulee!", taken) == "creme-brulee-n2"
    assert slugged("creme  BRULEE?", taken) == "creme-brulee-n3"
    japanese, greek = slugged("味噌", taken), slugged("ψωμί", taken)
    assert japanese != greek and japanese.isalnum()
    # "bread-2" is what the second page of "bread" is called.
    assert slugged("bread 2", taken) == "bread-2-n"
    assert slugged("../../etc/passwd", taken) == "etc-passwd"
    assert slugged("x" * 300, taken) == "x" * 60


def test_names_that_differ_in_case_are_one_list() -> None:
    one, two = found("a").card, found("b").card
    (shelf,) = shelves("tags", [("Make Ahead", one), ("make  ahead", two), ("make ahead", two)])
    assert (shelf.name, shelf.href, shelf.count) == ("Make Ahead", "tags/make-ahead.html", 2)


def test_long_lists_are_cut_into_pages() -> None:
    cards = [found(f"r{i}").card for i in range(2 * PAGE + 1)]
    assert [len(cut) for cut in paged(cards)] == [PAGE, PAGE, 1]
    assert [page_path("tags/bread", n) for n in (1, 2)] == ["tags/bread.html", "tags/bread-2.html"]
    assert [n for n, _ in page_links("archive", 10, 50).jumps] == [1, 0, 8, 9, 10, 11, 12, 0, 50]
    assert [n for n, _ in page_links("archive", 1, 3).jumps] == [1, 2, 3]
    assert page_links("tags/bread", 2, 3).jumps[0] == (1, "bread.html")


def test_every_recipe_of_a_long_archive_is_on_one_page_of_it() -> None:
    many = [found(f"r{i}", "water", day=f"20{26 - i // 100}-01-01") for i in range(2 * PAGE + 30)]
    listings = Listings(Desk(Theme(None), Channel(name="X"), "ground"), many)
    pages = {page.path: page.render() for page in listings.pages()}
    archive = [text for path, text in pages.items() if path.startswith("archive")]
    assert len(archive) == 3
    assert [sum(f'recipes/{f.card.slug}.html"' in text for text in archive) for f in many] == [1] * len(many)
    assert 'href="archive-3.html"' in pages["archive.html"] and 'aria-current="page"' in pages["archive-2.html"]
    assert {"with/water.html", "with/water-2.html", "with/water-3.html"} <= set(pages)


def test_seasons_are_those_a_recipe_names() -> None:
    seasons = season_names("spring, summer, autumn/fall, winter")
    assert seasons[2] == ("autumn", frozenset({"autumn", "fall"}))
    assert seasons_of(found("a", keywords=("Fall baking", "late summer")).card, seasons) == ["summer", "autumn"]
    assert seasons_of(found("a", keywords=("waterfall", "springform")).card, seasons) == []


def test_kin_share_what_few_share() -> None:
    others = [found(f"x{i}", "flour", "water", f"thing {i}") for i in range(10)]
    all_found = [
        found("pie", "flour", "rhubarb", "sugar", "water", kind="Cake"),
        found("crumble", "flour", "rhubarb", "oats", "water", kind="Cake"),
        found("jam", "rhubarb", "sugar", "water"),
        found("alone", "saffron", "water"),
        *others,
    ]
    kin = Kin(all_found)
    # Pie and crumble share rhubarb and their kind; pie and jam rhubarb and sugar, both rarer than flour; water is
    # in every kitchen and flour in most of these, so neither brings anybody near.
    assert {near.slug for near in kin.near(0)} == {"crumble", "jam"}
    assert kin.near(3) == ()
    assert all(near.slug != all_found[i].card.slug for i in range(len(all_found)) for near in kin.near(i))


def test_the_data_says_what_the_cards_say() -> None:
    all_found = [found("soup", "water", "crème fraîche", keywords=("Soup",), kind="Starter"), found("tea", "water")]
    text = finder_script(all_found)
    data = json.loads(text.removeprefix("window.finder=").rstrip(";\n"))
    assert data["ingredients"] == ["water", "crème fraîche"] and data["staples"] == [0]
    soup, tea = data["recipes"]
    assert (soup[0], soup[1], tea[8]) == ("soup", "Soup", [0])
    assert {data["words"][i] for i in soup[9]} == {"soup", "water", "creme", "fraiche"}
    assert [data["kinds"][i] for i in soup[5]] == ["Starter"]
    assert folded("CRÈME Brûlée") == "creme brulee"


def test_the_script_folds_what_is_typed_as_the_data_is_folded() -> None:
    """What a reader types must meet what was stored, or nothing is ever found."""
    need("node", bool(shutil.which("node")))
    texts = ["CRÈME Brûlée", "Straße", "दाल मखनी", "ต้มยำกุ้ง", "Ελληνική σαλάτα", "бо́рщ", "חַלָּה", "مُلُوخِيَّة", "フレンチ"]
    texts += ["½ İnce 3rd"]
    script = (shipped_templates() / "assets" / "found.js").read_text("utf-8")
    ask = r"const cut = (t) => found.fold(t).match(/[\p{L}\p{N}]+/gu) ?? [];"
    code = f"{script}\n{ask}\nconsole.log(JSON.stringify({json.dumps(texts)}.map(cut)))"
    told = subprocess.run(["node", "-e", code], capture_output=True, text=True, check=True)
    assert json.loads(told.stdout) == [re.findall(r"[^\W_]+", folded(text)) for text in texts]


def test_a_hostile_name_stays_in_its_script() -> None:
    text = finder_script([found("a", "</script><script>alert(1)</script>")])
    assert "</script" not in text


def test_ingredients_go_by_the_tables_names(cook: Callable[..., Recipe], channel: Channel, table: Table) -> None:
    recipe = cook(
        "title: Toast\nslug: toast\ningredients: [2 tbsp unsalted butter, 1 cup plain flour, 1 cup dragon scales]\n"
        "steps: [Toast it.]\n",
        "toast",
    )
    assert Composer(channel, table).names(recipe) == ("butter", "all-purpose flour", "dragon scales")
    british = Composer(replace(channel, language="en-GB"), table)
    assert british.names(recipe) == ("butter", "plain flour", "dragon scales")
    assert Composer(replace(channel, language="de-AT"), table).names(recipe)[1] == "all-purpose flour"


@pytest.fixture
def pantry(demo: Report, browser: Any) -> Any:
    tools().window(browser, 1000)
    browser.get((demo.out / "pantry.html").as_uri())
    browser.execute_script("localStorage.clear()")
    browser.refresh()
    yield browser
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_what_to_cook_from_what_is_there(pantry: Any) -> None:
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.support.ui import WebDriverWait

    wait = WebDriverWait(pantry, 10)

    def offered() -> list[str]:
        return [e.text for e in pantry.find_elements(By.CSS_SELECTOR, ".cookable li a") if e.is_displayed()]

    def tick(name: str) -> None:
        pantry.find_element(By.CSS_SELECTOR, f'.larder input[aria-label="{name}"]').send_keys(Keys.SPACE)

    assert offered() == []
    tick("chicken thigh")
    wait.until(lambda _: offered() == ["Lemon Chicken and Rice in One Pan"])
    missing = pantry.find_element(By.CSS_SELECTOR, ".cookable .missing").text
    assert missing.startswith("Also needed:") and "chicken thigh" not in missing and "salt" not in missing
    tick("tahini")
    tick("bread flour")
    wait.until(lambda _: len(offered()) == 2)
    assert "tahini" in pantry.find_element(By.CSS_SELECTOR, ".have").text
    # Kept on the device, until all is unticked.
    pantry.refresh()
    wait.until(lambda _: len(offered()) == 2)
    pantry.find_element(By.CSS_SELECTOR, ".untick").send_keys(Keys.ENTER)
    wait.until(lambda _: offered() == [])
    find = pantry.find_element(By.ID, "larder-find")
    find.send_keys("BUTTER")
    left = [
        e.get_attribute("data-name") for e in pantry.find_elements(By.CSS_SELECTOR, ".larder li") if e.is_displayed()
    ]
    assert left == ["butter", "buttermilk"]


def test_without_script_every_ingredient_leads_to_its_recipes(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        browser.get((demo.out / "pantry.html").as_uri())
        assert not browser.find_element(By.CSS_SELECTOR, ".larder-form").is_displayed()
        browser.find_element(By.PARTIAL_LINK_TEXT, "tahini").send_keys(Keys.ENTER)
        assert [e.text for e in browser.find_elements(By.CSS_SELECTOR, ".shelf li a")] == [
            "Overnight Dimpled Bread with White Bean Dip"
        ]
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
