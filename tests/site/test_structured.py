"""schema.org data: complete, typed by an outside judge (schema-dts under tsc), and no way out of its script element."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from outside import NODE, need

from pipeline.measure.lookup import Table, load
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text
from pipeline.site.build import Report, build
from pipeline.site.compose import Composer
from pipeline.site.structured import script_json

SCRIPT = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)


def data_in(page: str) -> list[Any]:
    return [json.loads(text) for text in SCRIPT.findall(page)]


@given(
    st.recursive(
        st.text() | st.integers() | st.none(), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner)
    )
)
def test_nothing_gets_out_of_the_script_element(value: object) -> None:
    text = str(script_json(value))
    assert not set("<>&\u2028\u2029") & set(text)
    read_back = json.loads(text)
    assert read_back == json.loads(json.dumps(value, ensure_ascii=False).encode("utf-8", "replace"))


def test_a_hostile_title_stays_a_title(small: Callable[..., Recipe], channel: Channel, table: Table) -> None:
    title = "</script><script>alert(1)</script>"
    recipe = small("a", title=f'"{title}"')
    view = Composer(channel, table).recipe(recipe, {})
    assert "</script" not in view.data
    assert json.loads(view.data)["name"] == title


SOURCE = """\
title: Pan Bread & Dip
slug: bread
summary: A bread.
published: 2026-10-02
yield: 4 loaves
times: {prep: 20 min, cook: 25 min, rest: 14 h, total: 14 h 45 min}
category: Bread
cuisine: [Mediterranean]
keywords: bread, dip
equipment: [one big pan]
components:
  dough: [650 g or 2 3/4 cups water, 1 kg bread flour]
  dip: [1/4 cup (60 g) tahini]
steps:
  - {component: dough, title: Mix, at: 0:30, text: "Mix {water} and {flour}."}
  - {component: dip, title: Stir, at: 1:05, text: "Stir {tahini} for {2 min}."}
  - {component: dip, at: 1:05, text: "Again."}
  - {component: dough, title: Bake, at: 2:10, text: "Bake at {450 F or 230 C}."}
video:
  address: https://video.example/watch?v=bread
  length: 3:20
"""


def test_a_whole_recipe(cook: Callable[..., Recipe], channel: Channel, table: Table) -> None:
    data = json.loads(Composer(channel, table).recipe(cook(SOURCE, "bread"), {}).data)
    page = "https://the-tin-whisk.example/recipes/bread.html"
    assert data["name"] == "Pan Bread & Dip"
    assert data["url"] == page
    assert data["datePublished"] == "2026-10-02"
    assert (data["prepTime"], data["cookTime"], data["totalTime"]) == ("PT20M", "PT25M", "PT14H45M")
    assert data["recipeYield"] == ["4", "4 loaves"]
    assert data["recipeCategory"] == ["Bread"] and data["keywords"] == "bread, dip"
    assert data["recipeIngredient"][0] == "650 g (2¾ cups) water"
    assert data["recipeIngredient"][2] == "60 g (¼ cup) tahini"
    sections = data["recipeInstructions"]
    assert [(s["@type"], s["name"], len(s["itemListElement"])) for s in sections] == [
        ("HowToSection", "Dough", 1), ("HowToSection", "Dip", 2), ("HowToSection", "Dough", 1)
    ]  # fmt: skip
    step = sections[2]["itemListElement"][0]
    assert step["url"] == f"{page}#step-4"
    assert step["text"].startswith("Bake at 450 °F / 230 °C")
    clips = data["video"]["hasPart"]
    assert [(c["startOffset"], c["endOffset"]) for c in clips] == [(0, 30), (30, 65), (65, 130), (130, 200)]
    assert clips[2]["url"] == "https://video.example/watch?v=bread&t=65s"
    assert data["video"]["duration"] == "PT3M20S"
    assert data["video"]["uploadDate"] == "2026-10-02"


def test_without_an_address_everything_starts_from_the_page(
    cook: Callable[..., Recipe], picture: Callable[..., Path], channel: Channel, table: Table, tmp_path: Path
) -> None:
    """Each file that the data names is there, from the page's own folder; its film plays from a second by a media
    fragment (W3C Media Fragments URI 1.0, 4.2.1)."""
    folder = tmp_path / "content" / "recipes" / "bread"
    picture(folder / "p.jpg")
    (folder / "film.mp4").write_bytes(b"x")
    source = SOURCE.replace("address: https://video.example/watch?v=bread", "file: film.mp4")
    source += "photos: {file: p.jpg, alt: Bread.}\n"
    out = build([cook(source, "bread")], replace(channel, address=""), table, tmp_path / "site_out").out
    (data,) = data_in((out / "recipes" / "bread.html").read_text("utf-8"))
    film = data["video"]
    for name in (*data["image"], *film["thumbnailUrl"], film["contentUrl"]):
        assert (out / "recipes" / name).resolve().is_file(), name
    assert [clip["url"] for clip in film["hasPart"]] == [f"../films/bread.mp4#t={s}" for s in (0, 30, 65, 130)]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("4 loaves", ["4", "4 loaves"]),
        ("6 to 8 rolls", [{"minValue": 6, "maxValue": 8, "unitText": "rolls"}, "6 to 8 rolls"]),
        ("serves 6-8", [{"minValue": 6, "maxValue": 8, "unitText": "servings"}, "serves 6-8"]),
        ("1 1/2 cups", [{"value": 1.5, "unitText": "cups"}, "1 1/2 cups"]),
    ],
)
def test_what_is_made(
    typed: str, told: list[Any], small: Callable[..., Recipe], channel: Channel, table: Table
) -> None:
    """schema.org, recipeYield: Text or QuantitativeValue; a range has minValue and maxValue."""
    recipe = read_text(small("a").source.replace("serves 4", typed))
    found = json.loads(Composer(channel, table).recipe(recipe, {}).data)["recipeYield"]
    assert found == [{"@type": "QuantitativeValue", **y} if isinstance(y, dict) else y for y in told]


def test_the_types_of_schema_org_hold(demo: Report, tmp_path: Path) -> None:
    """Every block of data on every demo page, as a value that must fit schema-dts's types."""
    need("node", bool(shutil.which("node")))
    need("schema-dts (npm install in tests/)", (NODE / "schema-dts").is_dir() and (NODE / ".bin" / "tsc").exists())
    lines = ['import type {Recipe, WebSite, WithContext} from "schema-dts";']
    for path in sorted(demo.out.rglob("*.html")):
        for i, data in enumerate(data_in(path.read_text("utf-8"))):
            name = f"{re.sub(r'[^a-z0-9]', '_', path.stem)}_{i}"
            lines.append(f"export const x{name}: WithContext<{data['@type']}> = {json.dumps(data, indent=1)};")
    assert len(lines) > 4
    made = Composer(Channel(), load()).recipe(read_text(SOURCE.replace("4 loaves", "6 to 8 loaves")), {}).data
    lines.append(f"export const xrange: WithContext<Recipe> = {made};")
    (tmp_path / "node_modules").symlink_to(NODE)
    source = tmp_path / "data.ts"
    source.write_text("\n".join(lines), "utf-8")
    command = [
        str(NODE / ".bin" / "tsc"),
        "--noEmit",
        "--strict",
        "--skipLibCheck",
        "--module",
        "nodenext",
        str(source),
    ]
    run = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path)
    assert run.returncode == 0, run.stdout + run.stderr
    # The judge judges: a wrong type is refused.
    source.write_text(
        lines[0] + 'export const bad: WithContext<Recipe> = {"@type": "Recipe", "recipeYeild": 3} as const;'
    )
    assert subprocess.run(command, capture_output=True, cwd=tmp_path).returncode != 0


@pytest.mark.parametrize("recipe", ["overnight-dimpled-bread", "charred-pepper-sauce"])
def test_what_search_engines_recommend_is_there(demo: Report, recipe: str) -> None:
    """Required and recommended fields of recipe results (search engine documentation, from memory)."""
    (data,) = data_in((demo.out / "recipes" / f"{recipe}.html").read_text("utf-8"))
    wanted = "name image author datePublished description keywords recipeYield recipeCategory recipeCuisine prepTime"
    for field in (*wanted.split(), "cookTime", "totalTime", "recipeIngredient", "recipeInstructions", "video"):
        assert data.get(field), field
    for field in ("name", "description", "thumbnailUrl", "uploadDate", "duration", "hasPart"):
        assert data["video"].get(field), field
    starts = [clip["startOffset"] for clip in data["video"]["hasPart"]]
    assert starts == sorted(set(starts))


def test_nutrition_stands_only_where_it_was_given() -> None:
    source = "title: Rusks\nyield: 12 rusks\ningredients:\n  - 250 g (2 cups) flour\nsteps:\n  - Bake {flour}.\n"
    told = "nutrition: {serving: 1 rusk, calories: 90 kcal, fat: 2 g}\n"
    composer = Composer(Channel(), load())
    data = json.loads(str(composer.recipe(read_text(source + told), {}).data))
    assert data["nutrition"] == {
        "@type": "NutritionInformation",
        "servingSize": "1 rusk",
        "calories": "90 kcal",
        "fatContent": "2 g",
    }
    assert "nutrition" not in json.loads(str(composer.recipe(read_text(source), {}).data))
