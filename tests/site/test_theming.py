"""The guide to looks and words, tried as it tells: its own examples, word for word, in a folder of one's own."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from outside import ROOT

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.build import Report, build
from pipeline.site.errors import SiteError
from pipeline.site.post import post_text
from pipeline.site.theme import shipped_templates

GUIDE = (ROOT / "templates" / "README.md").read_text("utf-8")
SOURCE = """\
title: Buns
slug: buns
published: 2026-10-09
yield: 6 buns
equipment: [one tin]
ingredients: [250 g or 2 cups flour, 2 eggs]
steps:
  - {title: Mix, at: 0:05, text: "Mix {flour} and {eggs} for {2 min}."}
  - {title: Bake, at: 0:20, text: "Bake at {400 F} for {15 min}."}
notes: [Keeps a day.]
substitutions: {eggs: "Use {flour: 10 g}."}
video: {address: "https://video.example/buns", length: 1:00}
"""


RECIPE_BLOCKS = ("head", "tools", "ingredients", "counter", "method", "lit", "more", "clocks", "scripts")
PAPER_BLOCKS = ("head", "forms", "top", "list", "method", "extras", "care", "foot")


def example(language: str, after: str) -> str:
    """The guide's block of code under a heading."""
    part = GUIDE.split(f"## {after}\n", 1)[1]
    found = re.search(rf"```{language}\n(.*?)```", part, re.DOTALL)
    assert found is not None
    return found[1]


@pytest.fixture
def own(tmp_path: Path) -> Callable[[str, str], Path]:
    """``own(name, text)``: a file in one's own templates folder."""

    def write(name: str, text: str) -> Path:
        path = tmp_path / "templates" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
        return path

    return write


@pytest.fixture
def site(cook: Callable[..., Recipe], channel: Channel, table: Table, tmp_path: Path) -> Callable[[], Report]:
    def make() -> Report:
        return build([cook(SOURCE, "buns")], channel, table, tmp_path / "site_out", tmp_path / "templates")

    return make


def page(report: Report, name: str = "recipes/buns.html") -> str:
    return (report.out / name).read_text("utf-8")


def test_words_of_ones_own(own: Callable[[str, str], Path], site: Callable[[], Report]) -> None:
    own("words.yaml", example("yaml", "Change a word"))
    report = site()
    assert ">How it is done</h2>" in page(report) and ">On paper</button>" in page(report)
    assert "let the screen sleep" in page(report) and ">Ingredients</h2>" in page(report)
    assert "let the screen sleep" in page(report, "assets/kitchen.js")


def test_values_of_ones_own(own: Callable[[str, str], Path], site: Callable[[], Report], browser: Any) -> None:
    tokens = (shipped_templates() / "assets" / "tokens.css").read_text("utf-8")
    colour = re.search(r"--([\w-]+): (#[0-9a-f]{6});", tokens)
    assert colour is not None
    own("assets/tokens.css", tokens.replace(colour[0], f"--{colour[1]}: #123456;", 1))
    browser.get((site().out / "recipes" / "buns.html").resolve().as_uri())
    ask = "return getComputedStyle(document.documentElement).getPropertyValue(arguments[0]).trim()"
    assert browser.execute_script(ask, f"--{colour[1]}") == "#123456"


def test_a_style_of_ones_own_comes_last(
    own: Callable[[str, str], Path], site: Callable[[], Report], browser: Any
) -> None:
    before = site()
    assert "own.css" not in page(before)
    own("assets/own.css", example("css", "Change the look"))
    report = site()
    for name in ("index.html", "recipes/buns.html", "archive.html", "print/buns.html", "404.html"):
        sheets = re.findall(r'rel="stylesheet" href="[^"]*?([\w-]+\.css)"', page(report, name))
        assert sheets[-1] == "own.css", name
    browser.get((report.out / "recipes" / "buns.html").resolve().as_uri())
    size = "return getComputedStyle(document.querySelector('.step .body')).fontSize"
    assert browser.execute_script(size) == "20px"
    own("assets/own.css", "").unlink()
    assert "own.css" not in page(site())  # every page is made anew without it


def test_blocks_of_ones_own(own: Callable[[str, str], Path], site: Callable[[], Report]) -> None:
    own("recipe.html.j2", example("jinja", "Change a part of a page"))
    text = page(site())
    assert "Come to the market on Saturday." in text
    assert 'class="lit' not in text
    assert ">Notes</h2>" in text  # super() says what the shipped one says


@pytest.mark.parametrize(
    ("name", "block", "where"),
    [
        ("base", "masthead", "archive.html"),
        ("base", "nav", "recipes/buns.html"),
        ("base", "foot", "index.html"),
        ("home", "newest", "index.html"),
        ("home", "lately", "index.html"),
        ("archive", "main", "archive.html"),
        ("pantry", "main", "pantry.html"),
        ("seasons", "main", "seasons.html"),
        ("browse", "main", "browse.html"),
        ("list", "main", "with/egg.html"),
        ("404", "main", "404.html"),
        *(
            ("recipe", b, "recipes/buns.html")
            for b in ["tools", "ingredients", "counter", "method", "lit", "more", "clocks", "scripts", "head"]
        ),
        *(
            ("paper", b, "print/buns.html")
            for b in ["head", "forms", "top", "list", "method", "extras", "care", "foot"]
        ),
    ],
)
def test_every_block_can_be_added_to(
    name: str, block: str, where: str, own: Callable[[str, str], Path], site: Callable[[], Report]
) -> None:
    plain = page(site(), where)
    own(
        f"{name}.html.j2",
        f'{{% extends "shipped/{name}.html.j2" %}}{{% block {block} %}}{{{{ super() }}}}<!-- ours -->{{% endblock %}}',
    )
    told = page(site(), where)
    assert told.count("<!-- ours -->") == 1
    assert re.sub(r"\s+", "", told.replace("<!-- ours -->", "")) == re.sub(r"\s+", "", plain)


def test_the_guide_names_every_block() -> None:
    for path in shipped_templates().glob("*.html.j2"):
        row = next((line for line in GUIDE.splitlines() if line.startswith("|") and f"`{path.name}`" in line), "")
        assert row, f"the guide does not name {path.name}"
        blocks = re.findall(r"\{% block (\w+) %\}", path.read_text("utf-8"))
        if path.name in ("base.html.j2", "recipe.html.j2", "paper.html.j2", "home.html.j2"):
            missing = [b for b in blocks if f"`{b}`" not in row and b not in ("title", "masthead", "main")]
            assert missing == [], path.name


@pytest.mark.parametrize("block", ["tools", "ingredients", "counter", "method", "lit", "more", "clocks"])
def test_a_block_taken_out_leaves_its_script_idle(
    block: str, own: Callable[[str, str], Path], site: Callable[[], Report], browser: Any
) -> None:
    """As the guide says: nothing else on the page breaks."""
    own("recipe.html.j2", f'{{% extends "shipped/recipe.html.j2" %}}{{% block {block} %}}{{% endblock %}}')
    browser.get_log("browser")
    browser.get((site().out / "recipes" / "buns.html").resolve().as_uri())
    assert [entry["message"] for entry in browser.get_log("browser") if entry["level"] == "SEVERE"] == []


def test_a_whole_template_of_ones_own(
    own: Callable[[str, str], Path],
    site: Callable[[], Report],
    cook: Callable[..., Recipe],
    channel: Channel,
    table: Table,
) -> None:
    folder = own("404.html.j2", "<!doctype html><title>{{ page.title }}</title><p>{{ channel.name }}: gone").parent
    own("post.txt.j2", "{{ post.title }}\n{% for line in post.marks %}\n{{ line }}\n{% endfor %}\nBye\n")
    assert page(site(), "404.html") == "<!doctype html><title>Nothing on this shelf</title><p>The Tin Whisk: gone"
    told = post_text(cook(SOURCE, "buns"), channel, table, folder).text
    assert told.startswith("Buns\n0:00 Mix\n") and told.endswith("Bye\n")


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("recipe.html.j2", "\n{{ recipe.titel }}", "templates/recipe.html.j2:2: RecipeView has no attribute 'titel'"),
        ("recipe.html.j2", "{% block x %}", "templates/recipe.html.j2:1"),
        ("base.html.j2", '{% extends "shipped/bass.html.j2" %}', "there is no template shipped/bass.html.j2"),
        ("words.yaml", "recipe: {metod: X}", "`recipe.method`?"),
    ],
)
def test_what_is_wrong_is_told_by_its_place(
    name: str, text: str, told: str, own: Callable[[str, str], Path], site: Callable[[], Report]
) -> None:
    own(name, text)
    with pytest.raises(SiteError) as caught:
        site()
    assert told in str(caught.value)
