"""Pictures of a built site, to be looked at: phone, tablet and desktop, dark, and paper.

    python tests/tools/screenshots.py SITE_FOLDER PICTURE_FOLDER [PAGE…]

PAGE is a path in the site (index.html, recipes/…); without any, one page of each kind is taken. Needs Chromium with
its driver, and pdftoppm (poppler) for the sheets of paper.
"""

from __future__ import annotations

import base64
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

WIDTHS = {"phone": 360, "tablet": 768, "desktop": 1280}
FORMS = ("sheet", "large", "card", "a6")  # of a page for paper


@contextmanager
def browser() -> Iterator[Any]:
    """A headless Chromium that talks to nobody."""
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium") or shutil.which("chromium-browser") or ""
    profile = tempfile.mkdtemp()
    for flag in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run",
                 "--disable-background-networking", "--disable-component-update", "--disable-sync",
                 "--disable-dev-shm-usage", f"--user-data-dir={profile}"):  # fmt: skip
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = webdriver.Chrome(options, webdriver.ChromeService(shutil.which("chromedriver")))
    try:
        yield driver
    finally:
        driver.quit()
        shutil.rmtree(profile, ignore_errors=True)


def window(driver: Any, width: int, height: int = 900, dark: bool = False) -> None:
    """Make the page believe in a window of that width (CSS px)."""
    driver.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500},
    )
    scheme = "dark" if dark else "light"
    driver.execute_cdp_cmd(
        "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    )


def shoot(driver: Any, target: Path, most: int = 6000) -> None:
    """The whole page as a PNG, at most ``most`` px high."""
    width, height = driver.execute_script(
        "return [document.documentElement.clientWidth, document.documentElement.scrollHeight]"
    )
    clip = {"x": 0, "y": 0, "width": width, "height": min(height, most), "scale": 1}
    shot = driver.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True, "clip": clip})
    target.write_bytes(base64.b64decode(shot["data"]))


def pdf(driver: Any) -> bytes:
    """The page as printed, on the paper that its style asks for."""
    told = driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
    return base64.b64decode(told["data"])


def kinds(site: Path) -> list[str]:
    """One page of each kind that the site has; of recipes the longest and the shortest, each with its paper."""
    found = ["index.html", "archive.html", "browse.html", "seasons.html", "pantry.html", "404.html"]
    for folder in ("tags", "with", "seasons"):
        found += [f"{folder}/{p.name}" for p in sorted((site / folder).glob("*.html"))[:1]]
    recipes = sorted((site / "recipes").glob("*.html"), key=lambda p: -p.stat().st_size)
    for name in dict.fromkeys(p.name for p in (*recipes[:1], *recipes[-1:])):
        found += [f"recipes/{name}", f"print/{name}"]
    return [page for page in found if (site / page).is_file()]


def look(driver: Any, site: Path, page: str, into: Path) -> None:
    """The page on screens of three widths, light and dark, and on paper; a page for paper in each of its forms."""
    stem = page.removesuffix(".html").replace("/", "-")
    address = (site / page).resolve().as_uri()
    for name, width in WIDTHS.items():
        for dark in (False, True):
            window(driver, width, dark=dark)
            driver.get(address)
            driver.execute_script("for (const i of document.images) i.loading = 'eager'")
            driver.execute_async_script(
                "Promise.all([...document.images].map(i => i.decode().catch(() => 0))).then(arguments[0])"
            )
            shoot(driver, into / f"{stem}-{name}{'-dark' if dark else ''}.png")
    driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    forms = FORMS if page.startswith("print/") else ("",)
    for form in forms:
        driver.get(address)
        if form:
            driver.execute_script("document.getElementById(arguments[0]).click()", f"as-{form}")
        sheet = into / f"{stem}-{form or 'paper'}.pdf"
        sheet.write_bytes(pdf(driver))
        if shutil.which("pdftoppm"):
            subprocess.run(["pdftoppm", "-r", "100", "-png", sheet, sheet.with_suffix("")], check=True)


def main(site: Path, into: Path, pages: list[str]) -> None:
    into.mkdir(parents=True, exist_ok=True)
    with browser() as driver:
        for page in pages or kinds(site):
            look(driver, site, page, into)


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3:])
