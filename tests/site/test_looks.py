"""How the pages stand, measured in a real browser: what a typographer would look for, as numbers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from outside import ROOT, tools

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read_text
from pipeline.site.build import Report, build

RECIPES = ["blueberry-corn-cake", "charred-pepper-sauce", "lemon-chicken-rice", "overnight-dimpled-bread"]
LONG = """\
title: Everything Long
slug: long
yield: 6 rolls
ingredients:
  - 1.25 to 1.5 kg chickpeas
  - 59 to 74 g or 1/4 cup + 1 tbsp granulated sugar
  - 2 to 3 cups blackberries
  - 1 3/4 cups + 2 tbsp confectioners sugar
  - 12 medium aubergines
  - about 2 1/4 tsp buttermilk
steps: ["Stir {granulated sugar} into {buttermilk}."]
"""


@pytest.fixture
def at(browser: Any) -> Iterator[Any]:
    """``at(page, width)``: the page in a window of that width; put right afterwards."""

    def go(page: Path, width: int) -> Any:
        tools().window(browser, width)
        browser.get("about:blank")
        browser.get(page.resolve().as_uri())
        browser.execute_script("sessionStorage.clear()")
        return browser

    yield go
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


# Every text of an amount, cut where it may be broken; what stands on more than one line, or outside its column.
TORN = """
const torn = [];
for (const said of document.querySelectorAll('.part td .said')) {
  const cell = said.closest('td').getBoundingClientRect();
  for (const node of said.childNodes) {
    const range = document.createRange();
    range.selectNodeContents(node);
    const lines = new Set([...range.getClientRects()].filter(r => r.width > 0).map(r => Math.round(r.top)));
    const box = range.getBoundingClientRect();
    if (lines.size > 1) torn.push(`${said.textContent}: ${node.textContent} on ${lines.size} lines`);
    if (!lines.size) continue;
    if (box.left < cell.left - 0.5 || box.right > cell.right + 0.5) torn.push(`${said.textContent} outside its column`);
  }
}
return torn;
"""
# Words of the ingredients that are cut in two without a hyphen.
CUT = """
const cut = [];
for (const cell of document.querySelectorAll('.part .what')) {
  const walk = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    for (const word of node.data.matchAll(/[^\\s-]+/g)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      if (new Set([...range.getClientRects()].map(r => Math.round(r.top))).size > 1) cut.push(word[0]);
    }
  }
}
return cut;
"""


@pytest.fixture(scope="module")
def long(tmp_path_factory: pytest.TempPathFactory, table: Table) -> Path:
    folder = tmp_path_factory.mktemp("long")
    out = build([read_text(LONG, folder / "recipe.yaml")], Channel(name="The Tin Whisk"), table, folder / "out").out
    return out / "recipes" / "long.html"


@pytest.mark.parametrize("batch", ["", "7", "11", "0.5"])
@pytest.mark.parametrize("width", [320, 360, 768, 1280])
def test_no_amount_is_torn_and_no_word_is_cut(width: int, batch: str, long: Path, demo: Report, at: Any) -> None:
    for page in [long, *(demo.out / "recipes" / f"{name}.html" for name in RECIPES)]:
        driver = at(page, width)
        if batch:
            driver.execute_script(
                "const b = document.getElementById('batch'); b.value = arguments[0];"
                "b.dispatchEvent(new Event('change'))",
                batch,
            )
        assert driver.execute_script(TORN) == [], page.name
        assert driver.execute_script(CUT) == [], page.name
        assert driver.execute_script("return document.documentElement.scrollWidth") <= width, page.name


def test_a_range_of_grams_and_its_cup_are_whole_words(long: Path, at: Any) -> None:
    """The page says them in one run each, as they are typed; only a sum has a place to break."""
    driver = at(long, 360)
    cells = driver.execute_script("return [...document.querySelectorAll('.part td')].map(c => c.innerHTML)")
    assert any("59–74" in cell and "<wbr>" not in cell for cell in cells)
    assert any("1¾ cups <wbr>+ 2 tbsp" in cell for cell in cells)


def test_the_script_breaks_an_amount_where_the_program_does(long: Path, at: Any) -> None:
    driver = at(long, 360)
    texts = "return [...document.querySelectorAll('.part td')].map(c => c.innerHTML)"
    before = driver.execute_script(texts)
    show = "const b = document.getElementById('batch'); b.value = arguments[0]; b.dispatchEvent(new Event('change'))"
    driver.execute_script(show, "12")
    assert driver.execute_script(texts) != before
    # Cells that the script made anew for another kitchen and cells of the program's, piece for piece.
    driver.execute_script(show, "6")
    assert driver.execute_script(texts) == before


@pytest.mark.parametrize("width", [1100, 1280, 1600])
@pytest.mark.parametrize("name", RECIPES)
def test_both_columns_end_together(name: str, width: int, demo: Report, at: Any) -> None:
    """On a wide window neither column is empty for more than a third of the spread's height."""
    driver = at(demo.out / "recipes" / f"{name}.html", width)
    spread, first, second = driver.execute_script("""
        const box = s => document.querySelector(s).getBoundingClientRect();
        const spread = box('.spread');
        const foot = s => Math.max(...[...document.querySelectorAll(s)].map(e => e.getBoundingClientRect().bottom));
        return [spread.height, spread.bottom - foot('.ledger, .by-list'), spread.bottom - foot('.method, .by-method')];
    """)
    assert min(first, second) < 80
    assert max(first, second) < spread / 3


def test_the_sections_keep_their_order_for_who_listens(demo: Report, at: Any) -> None:
    driver = at(demo.out / "recipes" / "blueberry-corn-cake.html", 1280)
    heads = driver.execute_script("return [...document.querySelectorAll('.recipe h2')].map(h => h.id)")
    assert heads == ["ingredients", "steps", "equipment", "notes", "instead", "care"]
    tops = driver.execute_script(
        "return [...document.querySelectorAll('.more > section')].map(e => Math.round(e.getBoundingClientRect().top))"
    )
    assert tops == sorted(tops)


def test_a_clock_does_not_push_the_lines_apart(demo: Report, at: Any) -> None:
    """Lines with a clock's face stand as far apart as those without."""
    driver = at(demo.out / "recipes" / "overnight-dimpled-bread.html", 360)
    far, line = driver.execute_script("""
        const p = document.querySelector('#step-1 .body p');
        const range = document.createRange();
        range.selectNodeContents(p);
        const tops = [];
        const walk = document.createTreeWalker(p, NodeFilter.SHOW_TEXT);
        for (let n = walk.nextNode(); n; n = walk.nextNode()) {
          range.selectNodeContents(n);
          for (const r of range.getClientRects()) if (r.width > 1) tops.push(r.bottom);
        }
        tops.sort((a, b) => a - b);
        const steps = tops.slice(1).map((t, i) => t - tops[i]).filter(d => d > 8);
        return [Math.max(...steps), parseFloat(getComputedStyle(p).lineHeight)];
    """)
    assert far < line + 3


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_the_clocks_leave_most_of_the_window(width: int, demo: Report, at: Any) -> None:
    driver = at(demo.out / "recipes" / "overnight-dimpled-bread.html", width)
    driver.execute_script("for (const ring of document.querySelectorAll('.ring')) ring.click()")
    height, clocks = driver.execute_script(
        "return [document.querySelector('.clocks').offsetHeight, document.querySelectorAll('.clocks li').length]"
    )
    driver.execute_script("sessionStorage.clear()")
    assert clocks >= 8
    assert height < 900 * 0.3


def test_the_rows_of_the_list_line_up_on_paper(demo: Report, browser: Any) -> None:
    """Each row's three cells begin and end at one height; the rule over them is one line."""
    browser.get((demo.out / "recipes" / "blueberry-corn-cake.html").resolve().as_uri())
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        uneven = browser.execute_script("""
            return [...document.querySelectorAll('.part tbody tr')].filter(row => {
              const boxes = [...row.cells].map(c => c.getBoundingClientRect());
              return new Set(boxes.map(b => Math.round(b.top))).size > 1
                || new Set([...row.cells].map(c => getComputedStyle(c).verticalAlign)).size > 1
                || getComputedStyle(row.cells[1]).verticalAlign !== 'baseline';
            }).length;
        """)
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})
    assert uneven == 0


@pytest.mark.parametrize("form", ["sheet", "large", "card", "a6"])
def test_a_title_for_paper_is_not_squeezed_on_a_phone(form: str, demo: Report, at: Any) -> None:
    """Beside the picture and the code there is room for each word of the title."""
    for name in RECIPES:
        driver = at(demo.out / "print" / f"{name}.html", 360)
        driver.execute_script("document.getElementById(arguments[0]).click()", f"as-{form}")
        assert driver.execute_script(CUT.replace(".part .what", ".sheet h1")) == [], name
        assert driver.execute_script("return document.documentElement.scrollWidth") <= 360, name


def test_every_rule_of_colour_is_a_token() -> None:
    """A colour stands in tokens.css only; paper is black on white, and 64 tints stand for pictures."""
    import re

    for sheet in ("site.css", "found.css"):
        text = (ROOT / "templates" / "assets" / sheet).read_text("utf-8")
        text = re.sub(r"(?m)^\.tint-\d+ .*$", "", text)
        assert re.findall(r"#[0-9a-fA-F]{3,8}\b|\brgba?\(|\bhsla?\(", text) == [], sheet
