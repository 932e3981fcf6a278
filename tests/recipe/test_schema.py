"""The JSON Schema: valid as such (jsonschema's own metaschema), true to the reader, and strict where it can be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from case_files import cases

from pipeline.recipe.read import SourceError, read_text
from pipeline.recipe.schema import channel_schema, recipe_schema
from pipeline.recipe.settings import read_channel_text
from pipeline.recipe.spec import CHANNEL, RECIPE, Field

CONTENT = Path(__file__).parents[2] / "content"
RECIPES = sorted(CONTENT.glob("recipes/*/recipe.yaml"))
RECIPE_CHECK = jsonschema.Draft202012Validator(recipe_schema())
CHANNEL_CHECK = jsonschema.Draft202012Validator(channel_schema())
LEAST = {"title": "title: a\n", "ingredients": "ingredients: [1 cup water]\n", "steps": "steps: [Drink it.]\n"}


class Core(yaml.SafeLoader):
    """Scalars as YAML 1.2's core schema has them (YAML 1.2.2, section 10.3.2), which is what editors use."""


Core.yaml_implicit_resolvers = {}
for tag, pattern in (
    ("bool", r"true|True|TRUE|false|False|FALSE"),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+"),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?"),
    ("null", r"null|Null|NULL|~|"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), None)


def loaded(source: str) -> list[Any]:
    """The source as an editor sees it, and with every scalar a text."""
    return [yaml.load(source, Loader=Core), yaml.load(source, Loader=yaml.BaseLoader)]


def test_the_schemas_are_schemas() -> None:
    jsonschema.Draft202012Validator.check_schema(recipe_schema())
    jsonschema.Draft202012Validator.check_schema(channel_schema())


@pytest.mark.parametrize("path", RECIPES, ids=[p.parent.name for p in RECIPES])
def test_the_demo_is_valid(path: Path) -> None:
    assert RECIPES
    as_editor, _ = loaded(path.read_text(encoding="utf-8"))
    RECIPE_CHECK.validate(as_editor)


ROOT = Path(__file__).parents[1]


def readable() -> Iterator[tuple[str, str]]:
    """Every source of the tests: recipes, and those inside the case files of checks and of reading."""
    for path in sorted(ROOT.glob("proof/honest_recipes/*.yaml")):
        yield path.name, path.read_text(encoding="utf-8")
    for path in sorted(ROOT.glob("proof/cases/*.yaml")):
        for case in yaml.safe_load(path.read_text(encoding="utf-8")):
            yield f"{path.name}: {case['name']}", case["source"]
    for file in ("fields.md", "good.md", "values.md"):
        for one in cases(file):
            yield f"{file}: {one.name}", one.source


def test_what_can_be_read_is_valid() -> None:
    held, refused = 0, []
    for name, source in readable():
        try:
            read_text(source)
        except SourceError:
            continue
        held += 1
        refused += [f"{name}: {error.message}" for error in RECIPE_CHECK.iter_errors(loaded(source)[0])]
    assert held > 130 and refused == []


WRONG = {
    "an unknown field": "serves: 4",
    "a mapping for a text": "title: {a: b}",
    "no list of steps": "steps: {a: {b: c}}",
    "a date by its month": "published: Oct 2 2026",
    "a slug with a space": "slug: my bread",
    "a flag that is none": "draft: maybe",
    "a time without a unit": "times: {cook: 45}",
    "an unknown time": "times: {bake: 45 min}",
    "seconds of one digit": "video: {length: '1:5'}",
    "an address without its scheme": "video: {address: video.example/loaf}",
    "a photo without a file": "photos: [{alt: A loaf.}]",
    "a path of another system": "photos: [{file: 'a\\b.jpg', alt: A loaf.}]",
    "both ways of ingredients": "components: {dough: [1 cup flour]}",
    "an acceptance without a reason": "accept: [{finding: heat-disagrees}]",
    "a yield of nothing": "yield: some",
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_in_shape_is_not_valid(name: str) -> None:
    line = WRONG[name]
    source = "".join(v for k, v in LEAST.items() if k != line.partition(":")[0]) + line + "\n"
    with pytest.raises(SourceError):
        read_text(source)
    assert list(RECIPE_CHECK.iter_errors(loaded(source)[0])), line


def test_the_demo_channel_is_valid() -> None:
    as_editor, _ = loaded((CONTENT / "channel.yaml").read_text(encoding="utf-8"))
    CHANNEL_CHECK.validate(as_editor)


@pytest.mark.parametrize("field", RECIPE, ids=[f.name for f in RECIPE])
def test_a_recipe_field_reads_as_its_example_says(field: Field) -> None:
    rest = {k: v for k, v in LEAST.items() if k != field.name}
    if field.name == "components":
        rest = {"title": LEAST["title"], "steps": "steps:\n  - dough: Mix.\n"}
    source = "".join(rest.values()) + f"{field.name}: {field.example}\n"
    read_text(source)
    for data in loaded(source):
        if field.name != "draft":
            RECIPE_CHECK.validate(data)


@pytest.mark.parametrize("field", CHANNEL, ids=[f.name for f in CHANNEL])
def test_a_channel_field_reads_as_its_example_says(field: Field) -> None:
    source = f"{field.name}: {field.example}\n"
    read_channel_text(source)
    for data in loaded(source):
        CHANNEL_CHECK.validate(data)


def inner(table: tuple[Field, ...]) -> Iterator[Field]:
    for field in table:
        yield field
        yield from inner(field.of)


def test_every_field_says_what_it_is() -> None:
    for field in (*inner(RECIPE), *inner(CHANNEL)):
        assert field.doc.endswith("."), field.name
        assert field.example.strip(), field.name
        assert field.name not in field.synonyms, field.name


@pytest.mark.parametrize(
    "change",
    [
        "titel: x", "published: 11/01/2026", "slug: My Slug", "times: {prep: 20 min, bake: 1 h}", "times: 3",
        "photos: [{alt: x}]", "accept: [{finding: x}]", "video: {length: later}", "yield: plenty", "draft: perhaps",
        "ingredients: {a: {b: {c: d}}}", "steps: {}", "components: [dough]", "steps: [{text: a, tilte: b}]",
        "times: {prep: 30}", "steps: [{text: a, at: 1:75}]", "video: {address: x.example}", "photos: /home/x.jpg",
        "steps: [[a]]", "components: {dough: [1 cup flour]}",
    ],
)  # fmt: skip
def test_what_the_reader_refuses_is_not_valid(change: str) -> None:
    name = change.split(":")[0]
    source = "".join(v for k, v in LEAST.items() if k != name) + change + "\n"
    with pytest.raises(SourceError):
        read_text(source)
    assert not RECIPE_CHECK.is_valid(loaded(source)[0])


def test_every_field_has_words_for_the_editor() -> None:
    properties = recipe_schema()["properties"]
    assert set(properties) == {f.name for f in RECIPE}
    assert all(p["description"] and p["examples"] for p in properties.values())
