"""The text under the film: its limits hold whatever the recipe and whatever her template."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.film.chapters import chapters_of, description_lines
from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel, Link
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text
from pipeline.site.errors import BadTemplateError, SiteError
from pipeline.site.post import MOST_BYTES, post_text

SOURCE = """\
title: Soup
slug: soup
summary: "Warm & <quick>. 1:30 is all it takes."
published: 2026-10-02
yield: serves 4
keywords: [make ahead, soup, 30]
equipment: ["0:45 timer", "one <big> pot"]
ingredients:
  - 650 g or 2 3/4 cups water, cold
  - 2 large eggs
  - 2 tbsp (14 g) all-purpose flour
steps:
  - {title: Heat, at: 0:20, text: "Heat {water}."}
  - {title: Beat, at: 1:05, text: "Beat {eggs}."}
  - {title: Stir, at: 2:10, text: "Stir."}
notes: ["**Salt** it <late>."]
video: {address: "https://video.example/soup", length: 3:00}
"""
STAMP = re.compile(r"^\W*\d{1,3}:\d\d")


def holds(text: str, marks: list[str]) -> None:
    """The platform's limits (from memory): 5,000 bytes, no angles, one block of marks and nothing like one outside."""
    assert len(text.encode()) <= 5_000
    assert "<" not in text and ">" not in text
    written = re.sub(r"https?://\S+", "", text)
    assert len(re.findall(r"\d:\d\d", written)) == len(marks), "a stamp anywhere is linked to the film (from memory)"
    lines = text.split("\n")
    stamped = [i for i, line in enumerate(lines) if STAMP.match(line)]
    assert [lines[i] for i in stamped] == marks
    if stamped:
        assert stamped == list(range(stamped[0], stamped[0] + len(marks)))


@pytest.fixture
def soup() -> Recipe:
    return read_text(SOURCE, Path("soup/recipe.yaml"))


def marks_of(recipe: Recipe, channel: Channel) -> list[str]:
    return description_lines(chapters_of(recipe, channel.chapters), recipe.video.length if recipe.video else None)


def test_the_whole_text(soup: Recipe, channel: Channel, table: Table) -> None:
    post = post_text(soup, channel, table)
    assert post.cut == ()
    holds(post.text, ["0:00 Intro", "0:20 Heat", "1:05 Beat", "2:10 Stir"])
    assert post.text.startswith("Warm & ‹quick›. 1∶30 is all it takes.\n")
    assert "• 650 g (2¾ cups) water, cold\n" in post.text
    assert "https://the-tin-whisk.example/recipes/soup.html" in post.text
    assert "0∶45 timer" in post.text  # what looks like a mark and is none
    assert "• Salt it ‹late›.\n" in post.text
    assert "#makeahead #soup\n" in post.text
    assert "Flour is raw" in post.text and "\n\n\n" not in post.text


def test_volume_leads_where_the_channel_wants_it(soup: Recipe, channel: Channel, table: Table) -> None:
    assert "• 2¾ cups (650 g) water" in post_text(soup, replace(channel, lead="volume"), table).text


def test_the_channels_links_stand_under_each_film(soup: Recipe, channel: Channel, table: Table) -> None:
    mills = replace(channel, links=(Link("The mill", "https://mill.example"),))
    assert "The mill: https://mill.example\n" in post_text(soup, mills, table).text


def test_without_an_address_there_is_no_link(soup: Recipe, channel: Channel, table: Table) -> None:
    assert "https://" not in post_text(soup, replace(channel, address=""), table).text


@pytest.mark.parametrize(
    ("times", "cut"),
    [
        (0, 0),
        (100, 1),
        (150, 2),
        (200, 3),
    ],
)
def test_too_long_is_shortened_in_the_stated_order(
    times: int, cut: int, soup: Recipe, channel: Channel, table: Table
) -> None:
    order = ("keywords", "equipment", "notes")
    long = replace(
        soup,
        keywords=tuple(f"word{i:04} of many letters" for i in range(60)) if times else (),
        equipment=tuple(f"tool {i} of a very long name" for i in range(times)),
        notes=("Note. " * 900,) if times == 200 else (),
    )
    post = post_text(long, channel, table)
    assert post.cut == order[:cut]
    holds(post.text, marks_of(long, channel))


def test_as_a_last_resort_the_ingredients_go_but_marks_and_cautions_stay(channel: Channel, table: Table) -> None:
    lines = "\n".join(f"  - {i} g all-purpose flour, {'from a faraway mill ' * 3}" for i in range(1, 120))
    source = re.sub(r"ingredients:.*?steps:", f"ingredients:\n{lines}\nsteps:", SOURCE, flags=re.DOTALL)
    recipe = read_text(source.replace("{water}", "it").replace("{eggs}", "it"), Path("soup/recipe.yaml"))
    post = post_text(recipe, channel, table)
    assert post.cut[-1] == "the ingredients"
    holds(post.text, marks_of(recipe, channel))
    assert "Flour is raw" in post.text and "See the page" in post.text


def test_what_cannot_be_shortened_is_said(soup: Recipe, channel: Channel, table: Table) -> None:
    with pytest.raises(SiteError, match="even when shortened"):
        post_text(replace(soup, summary="é" * MOST_BYTES), channel, table)


def test_bytes_count_not_letters(soup: Recipe, channel: Channel, table: Table) -> None:
    long = replace(soup, notes=("ジ" * 1700,))
    assert post_text(long, channel, table).cut != ()


def test_her_own_template_wins(soup: Recipe, channel: Channel, table: Table, tmp_path: Path) -> None:
    (tmp_path / "post.txt.j2").write_text(
        "{{ post.title }} > all\r\n{% for m in post.marks %}\n{{ m }}\n{% endfor %}\n0:30 mine\n"
    )
    post = post_text(soup, channel, table, tmp_path)
    assert post.text.startswith("Soup › all\n0:00 Intro\n")
    holds(post.text, marks_of(soup, channel))


@pytest.mark.parametrize(
    ("template", "why"),
    [
        ("{% for m in post.marks %}\n{{ m }}\n\n{% endfor %}", "unbroken"),
        ("{{ post.marks|join(' ') }}", "unbroken"),
        ("no marks at all", "unbroken"),
        ("{{ post.nothing }}", "nothing"),
        ("{{ post.title", "post.txt.j2:1"),
    ],
)
def test_a_template_that_breaks_the_marks_is_refused(
    template: str, why: str, soup: Recipe, channel: Channel, table: Table, tmp_path: Path
) -> None:
    (tmp_path / "post.txt.j2").write_text(template)
    with pytest.raises(BadTemplateError, match=why):
        post_text(soup, channel, table, tmp_path)


def test_a_recipe_without_moments_has_no_marks(small: Callable[..., Recipe], channel: Channel, table: Table) -> None:
    holds(post_text(small("a"), channel, table).text, [])


def test_marks_in_notes_are_read_and_words_are_the_folders_own(channel: Channel, table: Table, tmp_path: Path) -> None:
    recipe = read_text(SOURCE.replace('"**Salt** it <late>."', '"Warm {water} to {165 F} for {10 min}."'))
    (tmp_path / "words.yaml").write_text("post: {notes: APART}\nrecipe: {or: alias}\n", "utf-8")
    text = post_text(recipe, channel, table, tmp_path).text
    assert "APART\n• Warm 650 g alias 2¾ cups water to 165 °F / 74 °C for 10 min." in text
