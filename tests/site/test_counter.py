"""At the counter, in a real browser: batches, my kitchen, ticks, clocks, the lit screen, by mouse and by keyboard.

Amounts are worked out by hand from USDA SR28 (2016) household weights: a large egg 50 g (NDB 01123), all-purpose flour
125 g a cup (NDB 20081), granulated sugar 200 g a cup (NDB 19335).
"""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from outside import NODE, need, tools

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read_text
from pipeline.site.build import build

SOURCE = """\
title: Aubergine Rolls
slug: rolls
published: 2026-11-01
yield: 6 rolls
equipment: [9 inch square baking pan]
ingredients:
  - 250 g or 2 cups all-purpose flour
  - 1 large egg
  - 1 tbsp granulated sugar
  - 3 aubergines
  - juice of 1 lemon (about 3 tbsp)
  - salt, to taste
steps:
  - {title: Mix, at: 0:10, text: "Mix {all-purpose flour: 1 cup} with {egg}, {sugar} and {salt}. Wait {30 min}."}
  - title: Bake
    at: 1:10
    text: "Fold in {aubergines} and {flour: rest}. Bake at {400 F or 200 C} for {22 to 25 min}."
notes: ["Warm {sugar} to {165 F} for {10 min}.", "A plain { stays {water: some}."]
substitutions: {egg: "{sugar: 1 tsp} of something else."}
video: {file: film.mp4, length: 2:00}
"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory, table: Table) -> Path:
    folder = tmp_path_factory.mktemp("counter")
    path = folder / "content" / "recipes" / "rolls" / "recipe.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(SOURCE, "utf-8")
    (path.parent / "film.mp4").write_bytes(b"no film")
    build([read_text(SOURCE, path)], Channel(name="The Tin Whisk"), table, folder / "site_out")
    return folder / "site_out" / "recipes" / "rolls.html"


def view(driver: Any, width: int, dark: bool = False) -> None:
    """A window of that width, without motion: what scrolls smoothly cannot be clicked meanwhile."""
    tools().window(driver, width, dark=dark)
    features = [
        {"name": "prefers-reduced-motion", "value": "reduce"},
        {"name": "prefers-color-scheme", "value": "dark" if dark else "light"},
    ]
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})


@pytest.fixture
def open_page(page: Path, browser: Any) -> Iterator[Callable[..., Any]]:
    """``open_page(before=…)``: the page, fresh; ``before`` is script that runs ahead of the page's own."""
    added: list[str] = []

    def go(before: str = "", keep: bool = False) -> Any:
        if before:
            told = browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": before})
            added.append(told["identifier"])
        browser.get(page.as_uri())
        if not keep:
            browser.execute_script("try { localStorage.clear(); sessionStorage.clear(); } catch {}")
            browser.get("about:blank")
            browser.get_log("browser")
            browser.get(page.as_uri())
        return browser

    view(browser, 1100)
    yield go
    for one in added:
        browser.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", {"identifier": one})
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def find(driver: Any, selector: str) -> Any:
    from selenium.webdriver.common.by import By

    return driver.find_element(By.CSS_SELECTOR, selector)


def every(driver: Any, selector: str) -> list[Any]:
    from selenium.webdriver.common.by import By

    return list(driver.find_elements(By.CSS_SELECTOR, selector))


def type_in(driver: Any, selector: str, text: str, enter: bool = True) -> None:
    from selenium.webdriver.common.keys import Keys

    field = find(driver, selector)
    field.clear()
    field.send_keys(text)
    if enter:
        field.send_keys(Keys.ENTER)


def row(driver: Any, number: int) -> list[str]:
    """A row of the list: left column, name, right column."""
    cells = every(driver, ".part tbody tr")[number]
    return [find(cells, s).text.replace("\n", " | ") for s in (".left", ".what", ".right")]


def choose(driver: Any, name: str, value: str) -> None:
    from selenium.webdriver.support.ui import Select

    drawer = every(driver, ".drawer")[1]
    if drawer.get_attribute("open") is None:
        find(drawer, "summary").click()
    Select(find(driver, f"#my-{name}")).select_by_value(value)


def text(driver: Any, selector: str) -> str:
    return str(find(driver, selector).text)


def test_as_written_the_script_changes_no_word(open_page: Callable[..., Any], page: Path) -> None:
    driver = open_page()
    words = "return document.querySelector('.ledger .part').innerText + document.querySelector('.steps').innerText"
    scripted = driver.execute_script(words)
    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        driver.get(page.as_uri())
        assert " ".join(driver.execute_script(words).split()) == " ".join(scripted.split())
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def test_a_batch_by_what_is_made(open_page: Callable[..., Any]) -> None:
    driver = open_page()
    assert find(driver, "#batch").get_attribute("value") == "6"
    assert text(driver, "#batch-unit") == "rolls"
    before = driver.execute_script("return document.querySelector('.spread').innerText")
    type_in(driver, "#batch", "9")
    assert row(driver, 0) == ["375 g", "all-purpose flour", "3 cups"]
    assert row(driver, 1) == ["≈75 g", "egg", "1 large egg + 1 yolk or 25 g"]
    assert row(driver, 2) == ["≈19 g", "granulated sugar", "1½ tbsp"]  # 3 × 12.5 / 2 = 18.75 g
    assert row(driver, 3)[2] == "4½"
    assert row(driver, 4)[2] == "about ¼ cup + 1½ tsp | from 1½ lemons"  # 4½ tbsp
    assert "≈188 g or 1½ cups all-purpose flour" in text(driver, "#step-1")
    assert "1 large egg + 1 yolk (≈75 g) egg" in text(driver, "#step-1")  # two ways to measure it, not three
    assert "rest of the flour (188 g or 1½ cups)" in text(driver, "#step-2").replace("≈", "")
    assert "400 °F / 200 °C" in text(driver, "#step-2") and "22 to 25 min" in text(driver, "#step-2")
    said = text(driver, "#batch-said")
    assert said.startswith("Amounts are for 9 rolls: 1½ × the recipe") and "Oven heat, times" in said
    assert text(driver, ".yields") == "9 rolls"
    assert text(driver, ".for-batch") == "For this batch: 11 in."  # 9 × √1.5 = 11.02
    find(driver, ".reset").click()
    assert driver.execute_script("return document.querySelector('.spread').innerText") == before
    assert driver.switch_to.active_element.get_attribute("id") == "batch"


def test_notes_read_their_marks_and_grow(open_page: Callable[..., Any]) -> None:
    driver = open_page()
    first, second = every(driver, ".notes .note")
    assert first.text == "Warm ≈13 g or 1 tbsp sugar to 165 °F / 74 °C for 10 min."
    assert second.text == "A plain { stays {water: some}."  # a mark that cannot be read leaves the note as typed
    assert "1 tsp sugar of something else" in text(driver, ".instead")
    type_in(driver, "#batch", "12")
    assert "2 tsp sugar of something else" in text(driver, ".instead")


def test_a_batch_from_what_there_is(open_page: Callable[..., Any]) -> None:
    from selenium.webdriver.support.ui import Select

    driver = open_page()
    find(driver, ".drawer summary").click()
    type_in(driver, "#have-amount", "500")
    assert row(driver, 0)[0] == "500 g" and find(driver, "#batch").get_attribute("value") == "12"
    Select(find(driver, "#have-unit")).select_by_value("cups")
    type_in(driver, "#have-amount", "1", enter=False)
    find(driver, ".set").click()
    assert row(driver, 0) == ["125 g", "all-purpose flour", "1 cup"]
    Select(find(driver, "#have-of")).select_by_visible_text("aubergines")
    Select(find(driver, "#have-unit")).select_by_value("pieces")
    type_in(driver, "#have-amount", "2")
    assert find(driver, "#batch").get_attribute("value") == "4"
    assert row(driver, 1)[2] == "1 white or 33 g"


@pytest.mark.parametrize(
    ("typed", "told"),
    [("many", "“many” is no amount"), ("0", "is no amount"), ("", "is no amount"), ("9999", "from 0.05 to 50 ×")],
)
def test_what_is_no_batch_is_refused_and_changes_nothing(typed: str, told: str, open_page: Callable[..., Any]) -> None:
    driver = open_page()
    type_in(driver, "#batch", "9")
    type_in(driver, "#batch", typed)
    driver.execute_script("document.getElementById('batch').dispatchEvent(new Event('change'))")
    assert told in text(driver, "#batch-said")
    assert find(driver, "#batch").get_attribute("aria-invalid") == "true"
    assert row(driver, 0)[0] == "375 g"
    type_in(driver, "#batch", "6")
    assert text(driver, "#batch-said") == "" and find(driver, "#batch").get_attribute("aria-invalid") is None


def test_the_dipstick_works_by_keyboard(open_page: Callable[..., Any]) -> None:
    from selenium.webdriver.common.keys import Keys

    driver = open_page()
    stick = find(driver, "#dipstick")
    stick.send_keys(Keys.ARROW_RIGHT * 3)
    assert find(driver, "#batch").get_attribute("value") == "9"
    assert stick.get_attribute("aria-valuetext") == "9 rolls"
    assert row(driver, 0)[0] == "375 g"
    stick.send_keys(Keys.HOME)
    assert find(driver, "#batch").get_attribute("value") == "1"
    assert row(driver, 0)[0] == "42 g"  # 250 / 6 = 41.7


def test_my_kitchen_is_kept_on_the_device(open_page: Callable[..., Any]) -> None:
    driver = open_page()
    choose(driver, "lead", "volume")
    assert row(driver, 0) == ["2 cups", "all-purpose flour", "250 g"]
    assert [e.text for e in every(driver, ".part thead th")[::2]] == ["Cup", "Scale"]
    assert "1 cup or ≈125 g all-purpose flour" in text(driver, "#step-1")
    choose(driver, "cup", "australian")
    assert row(driver, 2)[0] == "3 tsp"  # 14.8 ml; a spoon of 20 ml would be too much
    assert "Australian cups and spoons" in text(driver, ".measured")
    choose(driver, "heat", "C")
    assert "200 °C" in text(driver, "#step-2") and "°F" not in text(driver, "#step-2")
    choose(driver, "heat", "fan")
    assert "180 °C fan" in text(driver, "#step-2") and "200 °C" not in text(driver, "#step-2")
    choose(driver, "heat", "gas")
    assert "gas mark 6" in text(driver, "#step-2")
    choose(driver, "names", "us")
    assert row(driver, 3)[1] == "eggplants" and "eggplants" in text(driver, "#step-2")
    choose(driver, "names", "uk")
    assert row(driver, 0)[1] == "plain flour"
    kept = driver.execute_script("return localStorage.getItem('my-kitchen')")
    assert json.loads(kept) == {"lead": "volume", "cup": "australian", "heat": "gas", "names": "uk"}
    driver = open_page(keep=True)
    assert row(driver, 0)[1] == "plain flour" and find(driver, "#my-cup").get_attribute("value") == "australian"
    for name, value in (("lead", "weight"), ("cup", "us"), ("heat", ""), ("names", "")):
        choose(driver, name, value)
    assert driver.execute_script("return localStorage.getItem('my-kitchen')") is None
    assert row(driver, 0) == ["250 g", "all-purpose flour", "2 cups"]


@pytest.mark.parametrize("kept", ["not json", "[]", '{"cup": "bucket", "lead": 7}', "null"])
def test_strange_things_kept_do_no_harm(kept: str, open_page: Callable[..., Any]) -> None:
    driver = open_page()
    driver.execute_script("localStorage.setItem('my-kitchen', arguments[0])", kept)
    driver = open_page(keep=True)
    assert find(driver, ".counter").is_displayed()
    assert row(driver, 0) == ["250 g", "all-purpose flour", "2 cups"]


def test_a_browser_that_keeps_nothing(open_page: Callable[..., Any]) -> None:
    deny = "Object.defineProperty(window, s, {get() { throw new Error('no'); }});"
    driver = open_page(before=f"for (const s of ['localStorage', 'sessionStorage']) {deny}")
    type_in(driver, "#batch", "12")
    choose(driver, "lead", "volume")
    find(driver, ".got input").click()
    find(driver, "button.number").click()
    find(driver, ".ring").click()
    assert row(driver, 0)[0] == "4 cups"
    assert len(every(driver, ".clocks li")) == 1
    assert [e for e in driver.get_log("browser") if e["level"] == "SEVERE"] == []


def test_ticks_last_for_the_visit(open_page: Callable[..., Any]) -> None:
    from selenium.webdriver.common.keys import Keys

    driver = open_page()
    every(driver, ".got")[1].click()  # anywhere on the name
    number = every(driver, "button.number")[1]
    number.send_keys(Keys.ENTER)
    assert number.get_attribute("aria-pressed") == "true"
    assert number.get_attribute("aria-label") == "Step 2 done"
    driver = open_page(keep=True)
    assert [box.is_selected() for box in every(driver, ".got input")][:3] == [False, True, False]
    assert [n.get_attribute("aria-pressed") for n in every(driver, "button.number")] == ["false", "true"]
    every(driver, "button.number")[1].send_keys(Keys.SPACE)
    assert every(driver, "button.number")[1].get_attribute("aria-pressed") == "false"


LEAP = "window.leap = 0; const real = Date.now; Date.now = () => real() + window.leap;"
EARS = """window.tones = 0;
const make = AudioContext.prototype.createOscillator;
AudioContext.prototype.createOscillator = function () { window.tones += 1; return make.call(this); };"""


def wait_for(driver: Any, script: str) -> None:
    from selenium.webdriver.support.ui import WebDriverWait

    WebDriverWait(driver, 6, 0.1).until(lambda d: d.execute_script(f"return {script}"))


def test_several_clocks_ring_and_tell_in_the_title(open_page: Callable[..., Any]) -> None:
    driver = open_page(before=LEAP + EARS)
    title = driver.title
    rings = every(driver, ".ring")
    assert [r.get_attribute("aria-label") for r in rings] == ["Ring after 30 min", "Ring after 22 to 25 min"]
    rings[0].click()
    driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", rings[1])
    rings[1].click()
    assert [e.text for e in every(driver, ".clock-name")] == ["Mix", "Bake"]
    assert driver.title.startswith("2 on, 2") and driver.title.endswith(title)
    # Where a step gives two times, the first says to look, the second that they are over.
    driver.execute_script("window.leap = 22 * 60e3 + 500")
    wait_for(driver, "document.querySelector('.bell').textContent === 'Bake: look now.'")
    wait_for(driver, "window.tones >= 3")
    assert driver.execute_script("return document.querySelectorAll('.clocks li.ringing').length") == 1
    driver.execute_script("window.leap = 25 * 60e3 + 500")
    wait_for(driver, "document.querySelector('.bell').textContent === 'Bake: 22 to 25 min are over.'")
    assert driver.title == f"Ringing · {title}"
    find(driver, ".clocks li:nth-child(2) button").click()  # one minute more
    assert driver.execute_script("return document.querySelectorAll('.clock-left')[1].textContent") == "1:00 left"
    # They go on where the page is loaded anew.
    driver = open_page(keep=True)
    assert len(every(driver, ".clocks li")) == 2
    for _ in range(2):
        find(driver, ".clocks li button:last-child").click()
    assert driver.title == title and not find(driver, ".clocks").is_displayed()


def test_a_held_clock_stands_still_and_goes_on(open_page: Callable[..., Any]) -> None:
    driver = open_page(before=LEAP + EARS)
    title = driver.title
    find(driver, ".ring").click()
    hold = find(driver, ".clocks .hold")
    assert hold.get_attribute("aria-label") == "Hold the clock of Mix"
    driver.execute_script("window.leap = 10 * 60e3")
    wait_for(driver, r"/^(20:00|19:5\d) left$/.test(document.querySelector('.clock-left').textContent)")
    hold.click()
    assert hold.get_attribute("aria-label") == "Let the clock of Mix go on"
    left = text(driver, ".clock-left").removesuffix(" left, held")
    assert left.startswith(("20:00", "19:5"))
    assert driver.title == title  # nothing counts
    driver.execute_script("window.leap = 50 * 60e3")
    driver.execute_script("document.querySelector('.ring').click()")  # the beat goes on for another clock
    wait_for(driver, "document.title.startsWith('1 on, 30:00') || document.title.startsWith('1 on, 29:')")
    assert text(driver, ".clock-left") == f"{left} left, held"
    find(driver, ".clocks li button").click()  # a minute more for the held one
    more = f"{int(left[:2]) + 1}{left[2:]} left, held"
    assert text(driver, ".clock-left") == more
    assert driver.execute_script("return window.tones") == 0
    # It is still held where the page is loaded anew, and then goes on from what it had.
    driver = open_page(keep=True)
    assert text(driver, ".clock-left") == more
    driver.execute_script("window.leap = 60 * 60e3")
    find(driver, ".clocks .hold").click()
    wait_for(driver, r"/^2[01]:\d\d left$/.test(document.querySelector('.clock-left').textContent)")
    driver.execute_script("window.leap = 82 * 60e3")
    wait_for(driver, "document.querySelector('.bell').textContent === 'Mix: 30 min are over.'")
    assert driver.execute_script("return getComputedStyle(document.querySelector('.clocks .hold')).display") == "none"


def test_what_rings_is_brought_into_sight(open_page: Callable[..., Any]) -> None:
    driver = open_page(before=LEAP)
    view(driver, 360)
    driver.execute_script("for (let i = 0; i < 7; i++) document.querySelectorAll('.ring')[0].click()")
    driver.execute_script("document.querySelectorAll('.ring')[1].click(); window.leap = 22 * 60e3 + 500")
    wait_for(driver, "document.querySelectorAll('.clocks li.ringing').length === 1")
    seen = driver.execute_script(
        "const line = document.querySelector('.ringing').getBoundingClientRect();"
        "const list = document.querySelector('.clocks ul').getBoundingClientRect();"
        "return line.top >= list.top - 1 && line.bottom <= list.bottom + 1"
    )
    assert seen


AWAKE = """window.locks = [];
Object.defineProperty(navigator, 'wakeLock', {configurable: true, value: {request: async (kind) => {
  window.locks.push(kind); return {release: async () => window.locks.pop()};
}}});"""


def test_the_screen_stays_lit_while_the_switch_is_on(open_page: Callable[..., Any]) -> None:
    driver = open_page(before=AWAKE)
    switch = find(driver, ".lit input")
    assert switch.get_attribute("role") == "switch" and not switch.is_selected()
    assert text(driver, ".lit label") == "Leave the screen lit"
    switch.click()
    wait_for(driver, "window.locks.join() === 'screen'")
    switch.click()
    wait_for(driver, "window.locks.length === 0")


def test_the_screen_is_lit_again_on_return(open_page: Callable[..., Any]) -> None:
    """A browser lets go of the lock when the page is hidden (W3C Screen Wake Lock API, handling visibility changes)."""
    driver = open_page(before=AWAKE)
    turn = (
        "Object.defineProperty(document, 'visibilityState', {configurable: true, get: () => arguments[0]});"
        "document.dispatchEvent(new Event('visibilitychange'))"
    ).replace("arguments[0]", "state")
    turn = f"const state = arguments[0]; {turn}"
    driver.execute_script(turn, "hidden")
    driver.execute_script(turn, "visible")
    assert driver.execute_script("return window.locks.length") == 0  # never without being asked
    find(driver, ".lit input").click()
    wait_for(driver, "window.locks.length === 1")
    driver.execute_script(turn, "hidden")
    driver.execute_script("window.locks.pop()")
    driver.execute_script(turn, "visible")
    wait_for(driver, "window.locks.length === 1")
    assert find(driver, ".lit input").is_selected()


def test_a_device_that_refuses_turns_the_switch_off(open_page: Callable[..., Any]) -> None:
    driver = open_page(before=AWAKE.replace("window.locks.push(kind);", "throw new DOMException('low battery');"))
    find(driver, ".lit input").click()
    wait_for(driver, "!document.querySelector('.lit input').checked")


def test_escape_forgets_what_was_typed(open_page: Callable[..., Any]) -> None:
    from selenium.webdriver.common.keys import Keys

    driver = open_page()
    type_in(driver, "#batch", "9")
    type_in(driver, "#batch", "many")
    assert find(driver, "#batch").get_attribute("aria-invalid") == "true"
    find(driver, "#batch").send_keys("x", Keys.ESCAPE)
    assert find(driver, "#batch").get_attribute("value") == "9"
    assert find(driver, "#batch").get_attribute("aria-invalid") is None
    assert text(driver, "#batch-said").startswith("Amounts are for 9 rolls")


def test_without_motion_nothing_glides(open_page: Callable[..., Any]) -> None:
    """WCAG 2.2, 2.3.3: prefers-reduced-motion is heeded, and nothing is animated in any case."""
    driver = open_page()
    scroll = "return getComputedStyle(document.documentElement).scrollBehavior"
    assert driver.execute_script(scroll) == "auto"
    moving = [{"name": "prefers-reduced-motion", "value": "no-preference"}]
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": moving})
    assert driver.execute_script(scroll) == "smooth"
    assert driver.execute_script("return document.getAnimations().length") == 0


def test_a_device_that_cannot_stay_lit_shows_no_switch(open_page: Callable[..., Any]) -> None:
    driver = open_page(before="delete Navigator.prototype.wakeLock; delete navigator.wakeLock;")
    assert not find(driver, ".lit").is_displayed()


def test_a_moment_plays_the_film_in_the_page(open_page: Callable[..., Any]) -> None:
    driver = open_page()
    driver.execute_script(
        "window.at = []; const film = document.getElementById('film'); film.play = async () => {};"
        "Object.defineProperty(film, 'currentTime', {set: (v) => window.at.push(v), get: () => 0});"
    )
    find(driver, "#step-2 a.moment").click()
    assert driver.execute_script("return window.at") == [70]
    assert driver.current_url.endswith("rolls.html")


def test_without_script_none_of_it_shows(page: Path, browser: Any) -> None:
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        browser.get(page.as_uri())
        for selector in (".counter", ".lit", ".clocks", "button.print"):
            assert not find(browser, selector).is_displayed(), selector
        assert every(browser, ".ring") + every(browser, ".got") + every(browser, "button.number") == []
        assert row(browser, 0) == ["250 g", "all-purpose flour", "2 cups"]
        assert "≈125 g or 1 cup all-purpose flour" in text(browser, "#step-1")
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def all_out(driver: Any) -> None:
    """Everything open, changed and running at once."""
    driver.execute_script("for (const d of document.querySelectorAll('details')) d.open = true")
    type_in(driver, "#batch", "14")
    choose(driver, "names", "us")
    find(driver, ".got input").click()
    find(driver, "button.number").click()
    for ring in every(driver, ".ring"):
        driver.execute_script("arguments[0].click()", ring)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [360, 1100])
def test_axe_finds_nothing_in_any_state(width: int, dark: bool, open_page: Callable[..., Any]) -> None:
    """axe-core's rules for WCAG 2.2 A and AA, target size included, with everything open and running."""
    script = NODE / "axe-core" / "axe.min.js"
    need("axe-core (npm install in tests/)", script.is_file())
    driver = open_page()
    view(driver, width, dark=dark)
    all_out(driver)
    driver.execute_script("scrollTo(0, 0)")
    driver.execute_cdp_cmd("Runtime.evaluate", {"expression": script.read_text("utf-8")})
    found = driver.execute_async_script(
        "const done = arguments[0];"
        "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice']})"
        ".then(r => done(JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))))"
    )
    assert json.loads(found) == []


def test_every_target_can_be_hit(open_page: Callable[..., Any]) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24 CSS px, save for links within a sentence."""
    driver = open_page()
    view(driver, 360)
    all_out(driver)
    small = driver.execute_script(
        "return [...document.querySelectorAll('main button, main input, main select, main summary')]"
        ".filter(e => e.checkVisibility()).map(e => [e.className || e.id || e.tagName, e.getBoundingClientRect()])"
        ".filter(([, r]) => r.width < 24 || r.height < 24).map(([name, r]) => `${name} ${r.width}x${r.height}`)"
    )
    assert small == []


@pytest.mark.parametrize("zoom", [1, 2], ids=["320 px", "200 %"])
def test_it_reflows_with_everything_open(zoom: int, open_page: Callable[..., Any]) -> None:
    """WCAG 2.2, 1.4.10 and 1.4.4: nothing is wider than 320 px, or than 640 px at twice the size of text."""
    driver = open_page()
    view(driver, 320 * zoom)
    if zoom > 1:
        driver.execute_script("document.documentElement.style.fontSize = '200%'")
    all_out(driver)
    assert driver.execute_script("return document.documentElement.scrollWidth") <= 320 * zoom


def test_right_to_left_mirrors_the_page(open_page: Callable[..., Any]) -> None:
    driver = open_page()
    driver.execute_script("document.documentElement.dir = 'rtl'")
    all_out(driver)
    left, right, box, table = driver.execute_script(
        "const at = s => document.querySelector(s).getBoundingClientRect();"
        "return [at('.part td.left').left, at('.part td.right').left, at('.got input').right, at('.part').right]"
    )
    assert left > right and table - box < 12
    assert driver.execute_script("return document.documentElement.scrollWidth <= innerWidth")


def test_the_keyboard_goes_all_the_way_round(open_page: Callable[..., Any]) -> None:
    from selenium.webdriver.common.keys import Keys

    driver = open_page(before=AWAKE)
    driver.execute_script("for (const d of document.querySelectorAll('details')) d.open = true")
    find(driver, ".ring").click()
    driver.execute_script("scrollTo(0, 0); document.querySelector('.skip').focus()")
    reached: list[str] = []
    hidden: list[str] = []
    for _ in range(70):
        driver.switch_to.active_element.send_keys(Keys.TAB)
        name, outline, seen = driver.execute_script(
            "const e = document.activeElement; const r = e.getBoundingClientRect();"
            "const x = Math.min(Math.max(r.left + r.width / 2, 0), innerWidth - 1), y = r.top + r.height / 2;"
            "const top = document.elementFromPoint(x, y);"
            "return [e.id || e.className || e.tagName, getComputedStyle(e).outlineStyle,"
            " e.contains(top) || top?.contains(e) || e.tagName === 'BODY']"
        )
        if name.startswith("page-recipe"):
            break
        reached.append(name)
        if outline == "none" or not seen:
            hidden.append(name)
    wanted = {"batch", "dipstick", "have-amount", "have-unit", "have-of", "my-lead", "my-heat", "my-cup", "my-names"}
    assert wanted | {"number", "ring screen"} <= set(reached)
    assert hidden == []


def test_nothing_is_asked_of_anyone_and_the_page_is_light(page: Path, open_page: Callable[..., Any]) -> None:
    driver = open_page()
    asked = driver.execute_script(
        "return [...document.querySelectorAll('script[src], link[rel~=stylesheet], link[rel=icon], img, video')]"
        ".map(e => e.src || e.href).filter(Boolean)"
    )
    site = page.parents[1]
    top = f"{site.as_uri()}/"
    assert len(asked) > 8 and all(name.startswith(top) for name in asked)
    assert driver.execute_script("return document.cookie") == ""
    faces = site / "assets" / "fonts" / "besley.woff2"
    sent = [page, faces, *(site / name.removeprefix(top) for name in asked if "/films/" not in name)]
    # As any host sends it: text packed by gzip (RFC 1952); a face is packed already.
    weights = {p.name: p.stat().st_size if p.suffix == ".woff2" else len(gzip.compress(p.read_bytes())) for p in sent}
    assert sum(weights.values()) < 100_000, weights
    assert driver.execute_script("return [...document.scripts].filter(s => s.src && !s.defer).length") == 0
