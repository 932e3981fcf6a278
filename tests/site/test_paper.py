"""Paper, through a real browser's printer: page counts and sizes, what stands on them, and that nothing is torn."""

from __future__ import annotations

import re
import shutil
import subprocess
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest
from outside import need, tools
from PIL import Image

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read_text
from pipeline.site.build import Report, build

# In points: US Letter 8.5 by 11 in; 6 by 4 in; A6, ISO 216, 148 by 105 mm.
SIZES = {"sheet": (612, 792), "large": (612, 792), "card": (432, 288), "a6": (420, 298)}
MOST = {"sheet": 1, "large": 6, "card": 3, "a6": 3}
RECIPES = ["blueberry-corn-cake", "charred-pepper-sauce", "lemon-chicken-rice", "overnight-dimpled-bread"]


def printed(driver: Any, page: Path, form: str, photo: bool = True, script: bool = True) -> pypdf.PdfReader:
    """The page as printed in that form, chosen as a person would."""
    from selenium.webdriver.common.by import By

    driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not script})
    try:
        driver.get(page.resolve().as_uri())
        driver.find_element(By.ID, f"as-{form}").click()
        box = driver.find_element(By.ID, "with-photo")
        if box.is_selected() != photo:
            box.click()
        return pypdf.PdfReader(BytesIO(tools().pdf(driver)))
    finally:
        driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def lines(document: pypdf.PdfReader) -> list[list[str]]:
    return [[line.strip() for line in p.extract_text().splitlines() if line.strip()] for p in document.pages]


@pytest.mark.parametrize("form", SIZES)
@pytest.mark.parametrize("recipe", RECIPES)
def test_each_form_has_its_size_and_keeps_to_its_pages(recipe: str, form: str, demo: Report, browser: Any) -> None:
    document = printed(browser, demo.out / "print" / f"{recipe}.html", form, script=False)
    assert len(document.pages) <= MOST[form]
    for page in document.pages:
        box = page.mediabox
        assert (round(float(box.width)), round(float(box.height))) == pytest.approx(SIZES[form], abs=1)
    pages = lines(document)
    assert all(pages), "an empty page"
    whole = " ".join(word for page in pages for line in page for word in line.split())
    assert "Form on paper" not in whole and "Back to" not in whole  # the choice itself stays off the paper
    assert f"{recipe}.html" in whole.replace(" ", "")
    # Cautions are on every form (the demo's recipes all have some).
    assert "Take care" in whole
    headings = {"Ingredients", "Method", "Notes", "In place of", "Take care", "Equipment", "For the bread",
                "For the white bean dip"}  # fmt: skip
    assert not [page[-1] for page in pages if page[-1] in headings], "a heading at the foot of a page"


@pytest.mark.parametrize("form", SIZES)
def test_an_amount_is_never_torn(form: str, demo: Report, browser: Any) -> None:
    """No line ends in a number whose unit begins the next one."""
    for recipe in RECIPES:
        for page in lines(printed(browser, demo.out / "print" / f"{recipe}.html", form)):
            for line, after in pairwise(page):
                torn = re.search(r"[\d¼½¾⅓⅔⅛⅜⅝⅞]$", line) and re.match(r"(?:g|kg|ml|cups?|tbsp|tsp|oz|°[FC])\b", after)
                # The cells of a list's row come out of the paper one after another; only running text can tear.
                assert not torn or len(line.split()) < 4, f"{recipe} {form}: {line!r} / {after!r}"


def test_the_photo_can_be_left_off(demo: Report, browser: Any) -> None:
    page = demo.out / "print" / "lemon-chicken-rice.html"
    with_photo, without = (printed(browser, page, "sheet", photo) for photo in (True, False))
    assert len(with_photo.pages) == len(without.pages) == 1
    assert len(with_photo.pages[0].images) == 1
    assert len(without.pages[0].images) == 0
    assert not printed(browser, page, "card").pages[0].images  # a card has no room for one


def test_large_type_is_large(demo: Report, browser: Any) -> None:
    """18 points and more in all of the text (large print, common practice, no source)."""
    document = printed(browser, demo.out / "print" / "lemon-chicken-rice.html", "large")
    sizes: set[int] = set()

    def see(text: str, _cm: Any, matrix: list[float], _font: Any, size: float) -> None:
        if text.strip():
            sizes.add(round(abs(size * matrix[3])))

    for page in document.pages:
        page.extract_text(visitor_text=see)
    # The printer works in units of 3/4 point where the page is laid out in px; the drawn size is what counts.
    scale = 0.75 if min(sizes) >= 24 else 1
    assert min(sizes) * scale >= 18


def test_the_code_to_scan_leads_back(demo: Report) -> None:
    """The drawn squares are those that another encoder, qrcode, has for the page's address (ISO/IEC 18004) with one of
    the standard's eight masks, of which any may be taken."""
    import qrcode

    from pipeline.site.scan import scan_modules

    address = "https://the-tin-whisk.example/recipes/lemon-chicken-rice.html"
    page = (demo.out / "print" / "lemon-chicken-rice.html").read_text("utf-8")
    found = re.search(r'<svg class="scan" viewBox="0 0 (\d+) \1".*?<path stroke="#000" d="([^"]+)"', page)
    assert found is not None
    dark = set()
    for y, strokes in re.findall(r"M4 (\d+)\.5([^M]*)", found[2]):
        x = 4
        for pen, run in re.findall(r"([hm])(\d+)", strokes):
            if pen == "h":
                dark |= {(x - 4 + i, int(y) - 4) for i in range(int(run))}
            x += int(run)
    codes = []
    for mask in range(8):
        code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M, border=0, mask_pattern=mask)
        code.add_data(address, optimize=0)  # all of it as bytes
        codes.append(code.get_matrix())
    assert dark in [{(x, y) for y, row in enumerate(code) for x, on in enumerate(row) if on} for code in codes]
    assert int(found[1]) == len(codes[0]) + 8  # four light squares all round
    assert len(scan_modules(address)) == len(codes[0])
    assert f"leads to {address}" in page


@pytest.mark.parametrize("form", [*SIZES, "page"])
def test_a_telephone_reads_the_code_on_paper(form: str, demo: Report, tmp_path: Path, browser: Any) -> None:
    """Printed, drawn at 200 dots an inch, and read by a general reader of codes (zxing-cpp).

    At that grain a module needs some three dots, which is 0.4 mm: what a telephone reads at arm's length (common
    practice, no source).
    """
    need("pdftoppm", bool(shutil.which("pdftoppm")))
    import zxingcpp

    for recipe in ("lemon-chicken-rice", "overnight-dimpled-bread"):
        sheet = tmp_path / f"{recipe}.pdf"
        if form == "page":
            browser.get((demo.out / "recipes" / f"{recipe}.html").resolve().as_uri())
            sheet.write_bytes(tools().pdf(browser))
        else:
            writer = pypdf.PdfWriter()
            writer.append(printed(browser, demo.out / "print" / f"{recipe}.html", form))
            writer.write(sheet)
        picture = tmp_path / recipe
        subprocess.run(["pdftoppm", "-r", "200", "-png", "-singlefile", sheet, picture], check=True)
        with Image.open(picture.with_suffix(".png")) as drawn:
            found = [code.text for code in zxingcpp.read_barcodes(drawn.convert("L"))]
        assert found == [f"https://the-tin-whisk.example/recipes/{recipe}.html"]


def test_paper_is_another_form_of_its_page(demo: Report) -> None:
    page = (demo.out / "print" / "lemon-chicken-rice.html").read_text("utf-8")
    assert '<link rel="canonical" href="https://the-tin-whisk.example/recipes/lemon-chicken-rice.html">' in page
    assert '<meta name="robots" content="noindex' in page
    assert "<script" not in page


@pytest.mark.parametrize("form", ["card", "a6"])
def test_a_card_keeps_pounds_where_no_cup_stands_beside(form: str, table: Table, tmp_path: Path, browser: Any) -> None:
    source = "title: Roast\nslug: roast\ningredients:\n  - 1.8 kg or 4 lb lamb shoulder\nsteps: [Roast it.]\n"
    out = build([read_text(source, tmp_path / "recipe.yaml")], Channel(name="The Tin Whisk"), table, tmp_path / "s").out
    browser.get((out / "print" / "roast.html").resolve().as_uri())
    browser.execute_script(f"document.getElementById('as-{form}').click()")
    text = pypdf.PdfReader(BytesIO(tools().pdf(browser))).pages[0].extract_text()
    assert "1.8 kg" in text and "4 lb" in text
