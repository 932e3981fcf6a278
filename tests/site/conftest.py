"""What the site's tests share: recipes from a few lines of source, pictures, a built demo site, outside tools."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from outside import ROOT, need, tools
from PIL import Image

from pipeline.measure.lookup import Table, load
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read, read_channel, read_text
from pipeline.site.build import Report, build


@pytest.fixture(scope="session")
def table() -> Table:
    return load()


@pytest.fixture
def channel() -> Channel:
    return Channel(name="The Tin Whisk", author="The Tin Whisk", address="https://the-tin-whisk.example")


@pytest.fixture
def cook(tmp_path: Path) -> Callable[..., Recipe]:
    """``cook(source, slug)``: a recipe that stands in tmp_path/content/recipes/SLUG."""

    def make(source: str, slug: str = "soup") -> Recipe:
        path = tmp_path / "content" / "recipes" / slug / "recipe.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(source, "utf-8")
        return read_text(source, path)

    return make


@pytest.fixture
def small(cook: Callable[..., Recipe]) -> Callable[..., Recipe]:
    """``small(slug, title=…, more=…)``: a short recipe, with further top-level lines."""

    def make(slug: str, title: str = "", more: str = "", day: int = 1, draft: bool = False) -> Recipe:
        return cook(
            f"""\
title: {title or slug.replace("-", " ").title()}
slug: {slug}
{"draft: yes" if draft else f"published: 2026-10-{day:02}"}
yield: serves 4
ingredients:
  - 650 g or 2 3/4 cups water
  - 2 large eggs
steps:
  - text: Boil {{water}} for {{10 min}}.
  - text: Stir in {{eggs}}.
{more}""",
            slug,
        )

    return make


@pytest.fixture
def picture() -> Callable[..., Path]:
    """``picture(path, size=…, **save)``: a picture file of soft colours."""

    def make(path: Path, size: tuple[int, int] = (700, 500), mode: str = "RGB", **save: Any) -> Path:
        path.parent.mkdir(parents=True, exist_ok=True)
        image = Image.linear_gradient("L").resize(size).convert(mode)
        image.save(path, **save)
        return path

    return make


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, table: Table) -> Iterator[Report]:
    """The demo channel's own site, built once."""
    content = ROOT / "content"
    recipes = [read(path) for path in sorted(content.glob("recipes/*/recipe.yaml"))]
    assert recipes, "no demo recipes found"
    out = tmp_path_factory.mktemp("demo") / "site_out"
    yield build(recipes, read_channel(content / "channel.yaml"), table, out)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    need("chromium", bool(shutil.which("chromium")))
    need("chromedriver", bool(shutil.which("chromedriver")))
    with tools().browser() as driver:
        yield driver
