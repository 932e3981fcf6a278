"""How long a whole build of 1,000 recipes takes beside the bare work in it, in one run.

    python tests/bench/site_build.py [RECIPES]

Bare: the same YAML loaded by PyYAML's C loader, and the same templates rendered with their contexts at hand, in one
process. Ours: reading, building the contexts, rendering, writing and swapping in. The aim is a ratio of at most 2.
"""

from __future__ import annotations

import re
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml

from pipeline.measure.lookup import load
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text
from pipeline.site.build import build
from pipeline.site.compose import Composer
from pipeline.site.pages import channel_view
from pipeline.site.theme import Theme
from pipeline.site.view import PageView

CONTENT = Path(__file__).parents[2] / "content" / "recipes"


def sources(count: int) -> list[str]:
    """The demo's recipes over and over, each with a slug of its own and other weights."""
    texts = [
        text for path in sorted(CONTENT.glob("*/recipe.yaml")) if "\ndraft:" not in (text := path.read_text("utf-8"))
    ]

    def other(text: str, i: int) -> str:
        text = re.sub(r"\b(\d+) g\b", lambda m: f"{int(m[1]) + i % 20 * 5} g", text)
        return re.sub(r"(?m)^slug:.*$", f"slug: recipe-{i}", text)

    return [other(texts[i % len(texts)], i) for i in range(count)]


def bare(recipe: Recipe) -> Recipe:
    """Without pictures: those are worked on once and kept, and are not what is measured here."""
    return replace(recipe, photos=(), steps=tuple(replace(step, photo=None) for step in recipe.steps))


def timed(what: Callable[[], Any]) -> tuple[float, Any]:
    start = time.perf_counter()
    result = what()
    return time.perf_counter() - start, result


def main(count: int) -> None:
    texts = sources(count)
    channel, table = Channel(name="Bench", address="https://bench.example"), load()
    paths = [Path(f"content/recipes/recipe-{i}/recipe.yaml") for i in range(count)]

    parsing, _ = timed(lambda: [yaml.load(text, yaml.CSafeLoader) for text in texts])
    pairs = list(zip(texts, paths, strict=True))
    reading, recipes = timed(lambda: [bare(read_text(text, path)) for text, path in pairs])
    composer, theme = Composer(channel, table), Theme(None)
    composing, views = timed(lambda: [composer.recipe(recipe, {}) for recipe in recipes])
    page = PageView("Bench", "", "../", "", "recipe")
    shown = channel_view(channel)
    theme.render("recipe.html.j2", {"channel": shown, "page": page, "recipe": views[0]})
    rendering, _ = timed(
        lambda: [theme.render("recipe.html.j2", {"channel": shown, "page": page, "recipe": view}) for view in views]
    )
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "site_out"
        building, report = timed(lambda: build(recipes, channel, table, out))
        again, second = timed(lambda: build(recipes, channel, table, out))
        edited = [*recipes[:-1], bare(read_text(texts[-1].replace("title: ", "title: New ", 1), paths[-1]))]
        edit, third = timed(lambda: build(edited, channel, table, out))
    least, ours = parsing + rendering, reading + building
    print(f"{count} recipes: load {parsing:.2f} s + render {rendering:.2f} s = bare {least:.2f} s")
    print(f"read {reading:.2f} s + build {building:.2f} s = ours {ours:.2f} s (contexts alone {composing:.2f} s)")
    print(f"ratio {ours / least:.2f}; {len(report.written)} files")
    print(f"again, nothing changed: {again:.2f} s, {len(second.written)} files")
    print(f"one edit: {edit:.2f} s, {len(third.written)} files")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
