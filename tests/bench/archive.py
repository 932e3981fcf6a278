"""An archive of thousands: what its pages weigh, how long they take to make, and how long a search takes in a browser.

    python tests/bench/archive.py [RECIPES]

Prints ratios: the archive's first page beside that of fifty recipes, the search's data beside a plain list of the same
titles and ingredients, and a search beside one bare pass over as many strings, all in the same run and browser.
"""

from __future__ import annotations

import gzip
import importlib.util
import json
import sys
import tempfile
import time
from pathlib import Path
from random import Random
from types import ModuleType

from pipeline.measure.lookup import load
from pipeline.recipe.channel import Channel
from pipeline.site.finder import finder_script
from pipeline.site.kitchen import kitchen_script
from pipeline.site.listings import Listings
from pipeline.site.sheet import Desk
from pipeline.site.shelves import Found
from pipeline.site.theme import Theme
from pipeline.site.view import CardView

ROOT = Path(__file__).parents[2]
KINDS = ("Bread", "Cake", "Soup", "Sauce", "Main course", "Salad", "Breakfast", "Pickle", "Dessert", "Drink")
PLACES = ("Mediterranean", "Nordic", "Coastal", "Mountain", "Island", "River", "Desert", "Forest")
QUERIES = ("bread", "lemon chick", "sauce tom", "overnight white bean", "x")


def browser_tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("screenshots", ROOT / "tests" / "tools" / "screenshots.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def invented(count: int) -> list[Found]:
    """Recipes of a fixed seed, with ingredients of the table and words of their names."""
    pick = Random(7)
    names = [row.name for row in load().rows()]
    out = []
    for i in range(count):
        mine = tuple(dict.fromkeys(pick.sample(names, 12)))
        title = f"{mine[0]} with {mine[1]} and {mine[2]}".title()
        kind, place = pick.choice(KINDS), pick.choice(PLACES)
        keywords = (mine[3], kind.lower(), pick.choice(("summer", "winter", "quick", "make ahead", "one pan")))
        summary = f"A {kind.lower()} of {mine[4]}, {mine[5]} and {mine[6]}, good for a day of {pick.choice(PLACES)}."
        find = " ".join([title, summary, *keywords, kind, place, *mine]).lower()
        day = f"{2026 - i * 7 // 365}-{i % 12 + 1:02}-{i % 28 + 1:02}"
        card = CardView(
            f"recipe-{i}", title, summary, day, day, (kind,), (place,), keywords, "1 h 10 min", 70, find, None
        )  # fmt: skip
        out.append(Found(card, mine))
    return out


def site(count: int, into: Path) -> tuple[float, int]:
    """The archive's own pages at ``into``: seconds, and how many."""
    theme = Theme(None)
    start = time.perf_counter()
    pages = Listings(Desk(theme, Channel(name="Bench"), "bench"), invented(count)).pages()
    for page in pages:
        target = into / page.path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(page.render(), "utf-8")
    took = time.perf_counter() - start
    for name, path in theme.assets().items():
        (into / "assets" / name).parent.mkdir(parents=True, exist_ok=True)
        (into / "assets" / name).write_bytes(path.read_bytes())
    (into / "assets" / "kitchen.js").write_text(kitchen_script(theme.words), "utf-8")
    return took, len(pages)


SEARCH = """
const done = arguments[arguments.length - 1];
const [queries] = arguments;
data().then((all) => {
  const times = [];
  for (const query of queries) {
    find.value = query;
    const start = performance.now();
    for (let i = 0; i < 5; i += 1) { matches = search(all); list.replaceChildren(); shown = 0; show(); }
    times.push((performance.now() - start) / 5);
  }
  const texts = all.recipes.map((r) => r[9].map((i) => all.words[i]).join(" "));
  const start = performance.now();
  let n = 0;
  for (let i = 0; i < 5; i += 1) for (const query of queries) n += texts.filter((t) => t.includes(query)).length;
  done([times, (performance.now() - start) / 5 / queries.length, n]);
});
"""


def main(count: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        small, large = Path(name) / "small", Path(name) / "large"
        site(50, small)
        took, pages = site(count, large)
        first, least = (len((p / "archive.html").read_bytes()) for p in (large, small))
        script = (large / "assets" / "finder_data.js").read_bytes()
        plain = json.dumps([[f.card.title, f.ingredients] for f in invented(count)]).encode()
        one = finder_script(invented(1))
        print(f"{count} recipes: {pages} pages of lists in {took:.1f} s ({took / pages * 1000:.1f} ms a page)")
        print(f"first page {first / 1000:.0f} kB; beside that of 50 recipes: ratio {first / least:.1f}")
        print(
            f"search data {len(script) / 1000:.0f} kB, {len(gzip.compress(script, 6)) / 1000:.0f} kB as sent "
            f"({len(script) / count:.0f} B a recipe, one alone {len(one)} B); "
            f"beside plain titles and ingredients: ratio {len(script) / len(plain):.2f}"
        )
        with browser_tool().browser() as driver:
            driver.set_script_timeout(60)
            driver.get((large / "archive.html").as_uri())
            times, bare, _ = driver.execute_async_script(SEARCH, list(QUERIES))
        print(f"a search and its list: {', '.join(f'{t:.1f}' for t in times)} ms; bare pass {bare:.1f} ms")
        print(f"ratio {sum(times) / len(times) / bare:.1f}; most {max(times) / bare:.1f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5000)
