"""The channel's settings, a folder's own ingredients, and finding the recipes."""

from __future__ import annotations

from pathlib import Path

import pytest

from pipeline.recipe.channel import Channel, ChapterRules, Link
from pipeline.recipe.folder import own_rows, recipe_paths
from pipeline.recipe.read import SourceError, read_channel
from pipeline.recipe.settings import read_channel_text, read_ingredients


def told(error: SourceError) -> list[str]:
    return [f"{p.span.line}:{p.span.column} {p.message} | {p.help}" for p in error.problems]


def test_no_file_means_defaults(tmp_path: Path) -> None:
    assert read_channel(tmp_path / "channel.yaml") == Channel()
    assert read_channel_text("# nothing yet\n") == Channel()


def test_all_settings() -> None:
    channel = read_channel_text(
        "name: The Tin Whisk\ntagline: a\nauthor: b\naddress: https://x.example/\nlanguage: en-GB\ncup: Metric\n"
        "lead: volume\nfan: yes\ngas: on\npaper: A4\nchapters: {least: 4, shortest: 12 s, title: 40}\nfooter: c\n"
        "social: {title: Pictures, address: https://p.example}\n"
        "links:\n  - title: Scale\n    address: https://s.example\n"
    )
    assert channel == Channel(
        "The Tin Whisk", "a", "b", "https://x.example", "en-GB", "metric", "volume", True, True, "a4",
        ChapterRules(4, 12_000, 40), "c", (Link("Pictures", "https://p.example"),), (Link("Scale", "https://s.example"),),
    )  # fmt: skip


def test_wrong_settings_are_told_all_at_once() -> None:
    with pytest.raises(SourceError) as caught:
        read_channel_text(
            "titel: x\ncup: american\nlead: cups\nfan: maybe\nchapters:\n  least: three\naddress: x.example\n"
        )
    expected = [
        ("1:1", "no field `titel`"), ("2:6", "`american` is none of us, us-label, metric, australian or imperial"),
        ("3:7", "`cups` is none of weight or volume"), ("4:6", "neither yes nor no"), ("6:10", "not a whole number"),
        ("7:10", "https://x.example"),
    ]  # fmt: skip
    lines = told(caught.value)
    assert len(lines) == len(expected)
    for line, (place, words) in zip(lines, expected, strict=True):
        assert line.startswith(f"{place} ")
        assert words in line
    with pytest.raises(SourceError, match="names with values"):
        read_channel_text("- a\n")


@pytest.mark.parametrize("tag", ["en", "en-US", "de-AT", "zh-Hant-TW", "no", "gsw", "sl-rozaj-biske"])
def test_a_language_is_a_tag(tag: str) -> None:
    """RFC 5646, appendix A."""
    assert read_channel_text(f"language: {tag}\n").language == tag


@pytest.mark.parametrize(
    ("typed", "help_"),
    [("english", "such as `en` or `de-AT`"), ("en_US", "write `en-US`"), ("e", "such as"), ("'en US'", "such as")],
)
def test_a_language_that_is_no_tag(typed: str, help_: str) -> None:
    with pytest.raises(SourceError) as caught:
        read_channel_text(f"name: x\nlanguage: {typed}\n")
    (line,) = told(caught.value)
    assert line.startswith("2:") and "no tag of a language" in line and help_ in line


def test_own_ingredients(tmp_path: Path) -> None:
    path = tmp_path / "ingredients.yaml"
    assert own_rows(path) == []
    path.write_text(
        "- name: moon flour\n  cup: 100-140\n  aliases: [lunar flour]\n- name: star sugar\n  tablespoon: 12\n", "utf-8"
    )
    rows = own_rows(path)
    assert [(r.name, r.aliases) for r in rows] == [("moon flour", ("lunar flour",)), ("star sugar", ())]
    assert rows[0].cup is not None
    assert (rows[0].cup.low, rows[0].cup.high) == (100, 140)
    path.write_text("moon flour:\n  cup: 100\n", "utf-8")
    assert [r.name for r in own_rows(path)] == ["moon flour"]
    data, places, _ = read_ingredients(path)
    assert data == [{"name": "moon flour", "cup": "100"}]
    assert str(places[0]["cup"]) == f"{path}:2:8"


def test_own_ingredients_that_are_wrong(tmp_path: Path) -> None:
    path = tmp_path / "ingredients.yaml"
    path.write_text("- name: moon flour\n  cup: a lot\n- name: x\n  cupp: 3\n  cup: 100\n", "utf-8")
    with pytest.raises(SourceError) as caught:
        own_rows(path)
    lines = told(caught.value)
    assert [line.split(" ")[0] for line in lines] == ["2:8", "4:9"]
    path.write_text("- moon flour\n", "utf-8")
    with pytest.raises(SourceError, match="fields of its own"):
        own_rows(path)
    path.write_text("moon flour\n", "utf-8")
    with pytest.raises(SourceError, match="a list of ingredients"):
        own_rows(path)


def test_recipes_are_found(tmp_path: Path) -> None:
    for name in ("b", "a", ".hidden", "deep/c"):
        folder = tmp_path / "content" / "recipes" / name
        folder.mkdir(parents=True)
        (folder / "recipe.yaml").write_text("title: x\n")
    recipes = tmp_path / "content" / "recipes"
    every = [recipes / "a" / "recipe.yaml", recipes / "b" / "recipe.yaml", recipes / "deep" / "c" / "recipe.yaml"]
    assert recipe_paths([tmp_path]) == every
    assert recipe_paths([tmp_path / "content", recipes / "a", recipes / "b" / "recipe.yaml"]) == every
    assert recipe_paths([recipes / "b"]) == [every[1]]
    with pytest.raises(SourceError) as caught:
        recipe_paths([tmp_path / "none", tmp_path / "content" / "recipes" / "a", recipes.parent / "x"])
    assert len(caught.value.problems) == 2
    (tmp_path / "empty").mkdir()
    with pytest.raises(SourceError, match=r"no recipe\.yaml in this folder"):
        recipe_paths([tmp_path / "empty"])
