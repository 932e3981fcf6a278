"""In a real browser, from file://: scripts, styles under their policy, search, films, narrow windows, paper."""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdf
import pytest
from outside import NODE, ROOT, need, tools

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read
from pipeline.site.build import Report, build

PAGES = [
    "index.html",
    "archive.html",
    "browse.html",
    "seasons.html",
    "seasons/october.html",
    "pantry.html",
    "tags/mediterranean.html",
    "with/butter.html",
    "404.html",
    "recipes/overnight-dimpled-bread.html",
    "recipes/lemon-chicken-rice.html",
]


def visit(driver: Any, path: Path, fragment: str = "") -> None:
    driver.get("about:blank")
    driver.get_log("browser")
    driver.get(path.resolve().as_uri() + fragment)


def complaints(driver: Any) -> list[str]:
    return [entry["message"] for entry in driver.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")]


# The 404 page speaks of the host's top, where a host shows it; from file:// it has no styles.
@pytest.mark.parametrize("page", [p for p in PAGES if p != "404.html"])
def test_the_policy_lets_everything_of_ours_in(page: str, demo: Report, browser: Any) -> None:
    visit(browser, demo.out / page)
    assert complaints(browser) == []
    assert browser.execute_script("return document.styleSheets.length") == 5
    # The packaged face is there and used.
    assert browser.execute_async_script(
        "document.fonts.ready.then(() => arguments[0]([...document.fonts].some(f => f.status === 'loaded')))"
    )


@pytest.mark.parametrize("width", [320, 360, 768, 1280])
@pytest.mark.parametrize("page", PAGES)
def test_nothing_is_wider_than_the_window(page: str, width: int, demo: Report, browser: Any) -> None:
    """WCAG 2.2, 1.4.10: reflow at 320 CSS px."""
    tools().window(browser, width)
    visit(browser, demo.out / page)
    inner, outer = browser.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    assert inner <= outer <= width


def test_both_measures_stand_in_columns_of_one_size(demo: Report, browser: Any) -> None:
    tools().window(browser, 1280)
    visit(browser, demo.out / "recipes" / "overnight-dimpled-bread.html")
    left, right, size_left, size_right = browser.execute_script("""
        const row = document.querySelector('.part tbody tr');
        const [a, b] = row.querySelectorAll('td');
        const size = cell => parseFloat(getComputedStyle(cell.querySelector('.said')).fontSize);
        return [a.offsetWidth, b.offsetWidth, size(a), size(b)];
    """)
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    assert abs(left - right) <= 2
    assert size_left == size_right >= 24  # px: about twice a printed recipe's figures


def test_the_archive_is_sieved(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By
    from selenium.webdriver.support.ui import Select, WebDriverWait

    visit(browser, demo.out / "archive.html")
    wait = WebDriverWait(browser, 10)

    def shown() -> list[str]:
        return [e.text for e in browser.find_elements(By.CSS_SELECTOR, ".shelf li a") if e.is_displayed()]

    everything = shown()
    assert len(everything) == demo.recipes
    find = browser.find_element(By.ID, "find")
    find.send_keys("tahini bread")
    # The archive's data is loaded at the first question, from the disk as from a host.
    wait.until(lambda _: shown() == ["Overnight Dimpled Bread with White Bean Dip"])
    assert browser.find_element(By.CSS_SELECTOR, ".tally").text == "1 recipe"
    find.clear()
    find.send_keys("no such thing")
    wait.until(lambda _: shown() == [])
    assert browser.find_element(By.CSS_SELECTOR, ".none").is_displayed()
    find.clear()
    Select(browser.find_element(By.ID, "pick-minutes")).select_by_value("120")
    wait.until(lambda _: 0 < len(shown()) < len(everything))
    fewer = shown()
    assert "Overnight Dimpled Bread with White Bean Dip" not in fewer
    # The choice stands in the address: the page opened from it shows the same.
    address = browser.current_url
    browser.get("about:blank")
    browser.get(address)
    wait.until(lambda _: shown() == fewer)


def test_without_script_the_list_stands_whole(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By

    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        visit(browser, demo.out / "archive.html")
        links = browser.find_elements(By.CSS_SELECTOR, ".shelf li a")
        assert len(links) == demo.recipes and all(link.is_displayed() for link in links)
        assert not browser.find_element(By.CSS_SELECTOR, ".sieve").is_displayed()
        visit(browser, demo.out / "recipes" / "overnight-dimpled-bread.html")
        assert not browser.find_element(By.CSS_SELECTOR, "button.print").is_displayed()
        assert len(browser.find_elements(By.CSS_SELECTOR, ".step")) == 15
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def test_moments_lead_to_the_film(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By

    visit(browser, demo.out / "recipes" / "overnight-dimpled-bread.html")
    link = browser.find_element(By.CSS_SELECTOR, "#step-1 a.moment")
    assert link.get_attribute("href") == "https://video.example/the-tin-whisk/overnight-dimpled-bread?t=62s"


def test_a_page_from_the_right_keeps_its_fractions(table: Table, tmp_path: Path, browser: Any) -> None:
    """UAX #9: a digit and the fraction after it would change places in a right-to-left line."""
    recipe = read(ROOT / "content" / "recipes" / "overnight-dimpled-bread" / "recipe.yaml")
    out = build([recipe], Channel(name="The Tin Whisk", language="he-IL"), table, tmp_path / "site_out").out
    for page in ("recipes", "print"):
        visit(browser, out / page / "overnight-dimpled-bread.html")
        assert browser.execute_script("return document.documentElement.dir") == "rtl"
        places = browser.execute_script("""
            const said = [...document.querySelectorAll('.said, .use b')];
            const whole = said.filter(e => /^1¾\\scups$/.test(e.textContent));
            return whole.map(e => [0, 1, 3].map(i => {
                const range = document.createRange();
                range.setStart(e.firstChild, i); range.setEnd(e.firstChild, i + 1);
                return range.getBoundingClientRect().left;
            }));
        """)
        assert len(places) == 2 and all(place == sorted(place) for place in places), page


def test_an_upright_photo_leaves_room_for_the_recipe(demo: Report, browser: Any) -> None:
    tools().window(browser, 1280)
    visit(browser, demo.out / "recipes" / "overnight-dimpled-bread.html")
    height = browser.execute_script("""
        const image = document.querySelector('.shot img');
        image.width = 1000; image.height = 1500;
        return image.getBoundingClientRect().height;
    """)
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    assert 0 < height <= 34 * 22


def test_no_page_fails_axe(demo: Report, browser: Any) -> None:
    """axe-core's rules for WCAG 2.2 A and AA, in both colour schemes."""
    script = NODE / "axe-core" / "axe.min.js"
    need("axe-core (npm install in tests/)", script.is_file())
    found: list[str] = []
    for dark in (False, True):
        tools().window(browser, 1000, dark=dark)
        for page in [*PAGES, "print/overnight-dimpled-bread.html"]:
            if page == "404.html":
                continue
            visit(browser, demo.out / page)
            browser.execute_cdp_cmd("Runtime.evaluate", {"expression": script.read_text("utf-8")})
            result = browser.execute_async_script(
                "const done = arguments[0];"
                "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice']})"
                ".then(r => done(JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))))"
            )
            found += [f"{page} {'dark' if dark else 'light'}: {v}" for v in json.loads(result)]
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    assert found == []


def axe(driver: Any) -> list[Any]:
    """What axe-core finds on the page as it stands: [rule, where]."""
    script = NODE / "axe-core" / "axe.min.js"
    need("axe-core (npm install in tests/)", script.is_file())
    driver.execute_cdp_cmd("Runtime.evaluate", {"expression": script.read_text("utf-8")})
    told = driver.execute_async_script(
        "const done = arguments[0];"
        "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice']})"
        ".then(r => done(JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))))"
    )
    return list(json.loads(told))


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_in_a_page_in_use(dark: bool, demo: Report, browser: Any) -> None:
    """The archive with something found and with nothing, the pantry ticked, paper in each form."""
    from selenium.webdriver.common.by import By
    from selenium.webdriver.support.ui import WebDriverWait

    wait = WebDriverWait(browser, 10)
    tools().window(browser, 360, dark=dark)
    try:
        for typed, shown in (("tahini", ".sieved li"), ("no such thing", ".none:not([hidden])")):
            visit(browser, demo.out / "archive.html")
            browser.find_element(By.ID, "find").send_keys(typed)
            wait.until(lambda d, shown=shown: d.find_elements(By.CSS_SELECTOR, shown))
            assert axe(browser) == [], typed
        visit(browser, demo.out / "pantry.html")
        browser.execute_script("for (const b of document.querySelectorAll('.jars input')) b.click()")
        wait.until(lambda d: d.find_elements(By.CSS_SELECTOR, ".cookable li"))
        assert axe(browser) == []
        browser.execute_script("localStorage.clear()")
        visit(browser, demo.out / "print" / "overnight-dimpled-bread.html")
        for form in ("large", "card", "a6"):
            browser.find_element(By.ID, f"as-{form}").click()
            assert axe(browser) == [], form
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("page", [p for p in PAGES if p != "404.html"])
def test_a_page_from_the_right_is_not_broken(page: str, width: int, demo: Report, browser: Any) -> None:
    """Every kind of page under dir=rtl: nothing is cut off at either side, and the reading edge is the right one."""
    tools().window(browser, width)
    visit(browser, demo.out / page)
    cut, inner, first = browser.execute_script("""
        document.documentElement.dir = 'rtl';
        const seen = e => e.checkVisibility() && !e.closest('.unseen, .skip') && e.getBoundingClientRect().width > 1;
        const words = [...document.querySelectorAll('main *, header *')].filter(seen);
        const out = words.filter(e => {
          const r = e.getBoundingClientRect();
          return r.left < -1 || r.right > innerWidth + 1;
        }).map(e => `${e.tagName}.${e.className}`);
        const head = document.querySelector('h1').getBoundingClientRect();
        return [out, document.documentElement.scrollWidth, innerWidth - head.right];
    """)
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    assert cut == []
    assert inner <= width
    assert first < width / 5


def test_a_pantrys_ticks_stay_on_the_device(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By

    visit(browser, demo.out / "pantry.html")
    browser.execute_script("localStorage.clear()")
    visit(browser, demo.out / "pantry.html")
    tick = browser.find_element(By.CSS_SELECTOR, "li[data-name='butter'] input")
    browser.execute_script("arguments[0].click()", tick)
    assert json.loads(browser.execute_script("return localStorage.getItem('levelcup-larder')")) == ["butter"]
    assert browser.execute_script("return [document.cookie, location.search, location.hash]") == ["", "", ""]
    visit(browser, demo.out / "pantry.html")
    assert browser.find_element(By.CSS_SELECTOR, "li[data-name='butter'] input").is_selected()
    browser.execute_script("arguments[0].click()", browser.find_element(By.CSS_SELECTOR, ".untick"))
    assert browser.execute_script("return localStorage.length") == 0


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_an_ordinary_recipe_prints_on_one_sheet(
    paper: str,
    size: tuple[int, int],
    demo: Report,
    table: Table,
    tmp_path: Path,
    browser: Any,
) -> None:
    """Page size and count by pypdf; no chrome on paper, both measures on it (Letter and ISO 216 A4 in points)."""
    recipes = [read(path) for path in sorted((ROOT / "content").glob("recipes/*/recipe.yaml"))]
    channel = Channel(name="The Tin Whisk", address="https://the-tin-whisk.example", paper=paper, fan=True, gas=True)  # type: ignore[arg-type]
    out = build(recipes, channel, table, tmp_path / "site_out").out
    for path in sorted((out / "recipes").glob("*.html")):
        visit(browser, path)
        document = pypdf.PdfReader(BytesIO(tools().pdf(browser)))
        assert len(document.pages) == 1, path.name
        box = document.pages[0].mediabox
        assert (round(float(box.width)), round(float(box.height))) == pytest.approx(size, abs=1)
        text = document.pages[0].extract_text()
        assert "Watch the film" not in text and "Skip to" not in text and "All recipes" not in text
        assert "Print this page" not in text
        assert path.stem in text.replace("\n", "")  # its address
    visit(browser, out / "recipes" / "overnight-dimpled-bread.html")
    text = " ".join(pypdf.PdfReader(BytesIO(tools().pdf(browser))).pages[0].extract_text().split())
    for both in ("550 g", "4 cups", "415 g", "1¾ cups", "450 °F", "230 °C"):
        assert both in text, both


def test_the_keyboard_reaches_everything(demo: Report, browser: Any) -> None:
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    visit(browser, demo.out / "recipes" / "overnight-dimpled-bread.html")
    body = browser.find_element(By.TAG_NAME, "body")
    body.send_keys(Keys.TAB)
    skip = browser.switch_to.active_element
    assert skip.get_attribute("class") == "skip"
    assert browser.execute_script("return arguments[0].getBoundingClientRect().top >= 0", skip)
    skip.send_keys(Keys.ENTER)
    assert browser.execute_script("return document.activeElement.id") == "main"
    reached = set()
    for _ in range(40):
        browser.switch_to.active_element.send_keys(Keys.TAB)
        focused = browser.switch_to.active_element
        reached.add(focused.get_attribute("class") or focused.tag_name)
        style = browser.execute_script("return getComputedStyle(document.activeElement).outlineStyle")
        assert style != "none" or focused.tag_name == "body"
        if focused.tag_name == "body":
            break
    assert {"print", "watch", "moment screen"} <= reached
