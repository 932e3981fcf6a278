"""The kinds of simple values, against Python's own calendar where it knows better."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.recipe.desk import Desk
from pipeline.recipe.names import singular
from pipeline.recipe.read import read, read_text
from pipeline.recipe.source import source_of
from pipeline.recipe.span import Text
from pipeline.recipe.values import read_date, read_moment, say_moment, slugify


def desk() -> Desk:
    return Desk(source_of("x" * 200, "r.yaml"), [])


def text(words: str) -> Text:
    return Text.at(words, desk().source.span(0, len(words)), range(len(words) + 1), [0])


@given(st.dates(min_value=date(1000, 1, 1)))
def test_every_iso_date_is_that_day(day: date) -> None:
    assert read_date(desk(), text(day.isoformat())) == day


@given(st.from_regex(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", fullmatch=True).filter(str.isascii))
def test_a_date_is_read_where_the_calendar_has_it(words: str) -> None:
    try:
        expected = date.fromisoformat(words)
    except ValueError:
        expected = None
    here = desk()
    assert read_date(here, text(words)) == expected
    assert bool(here.problems) == (expected is None)


@given(st.integers(0, 99 * 3_600_000))
def test_a_moment_reads_as_it_is_said(ms: int) -> None:
    assert read_moment(desk(), text(say_moment(ms))) == ms


@given(st.integers(0, 9 * 3600))
def test_a_moment_is_what_a_clock_says(seconds: int) -> None:
    """datetime's own hours, minutes and seconds are the reference."""
    words = str(timedelta(seconds=seconds))
    assert read_moment(desk(), text(words)) == seconds * 1000


def test_a_moment_cannot_be_negative() -> None:
    with pytest.raises(ValueError, match="negative"):
        say_moment(-1)


@pytest.mark.parametrize(
    ("title", "slug"),
    [
        ("Overnight Flatbread", "overnight-flatbread"),
        ("Crème Brûlée & Co.", "creme-brulee-and-co"),
        ("Mum’s ½-hour Bread!", "mums-12-hour-bread"),
        ("Weißwürste à la Smørrebrød", "weisswurste-a-la-smorrebrod"),
        ("  --  ", ""),
        ("Борщ", ""),
    ],
)
def test_slugs(title: str, slug: str) -> None:
    assert slugify(title) == slug


@given(st.text(max_size=40))
def test_a_slug_is_always_fit_for_an_address(title: str) -> None:
    slug = slugify(title)
    assert slug == slugify(slug)
    assert all(c in "abcdefghijklmnopqrstuvwxyz0123456789-" for c in slug)


def test_the_slug_comes_from_the_folder_the_file_or_the_title(tmp_path: Path) -> None:
    source = "title: Flat Bread\ningredients: [1 cup water]\nsteps: [Drink it.]\n"
    assert read_text(source, Path("recipe.yaml")).slug == "flat-bread"
    assert read_text(source, Path("content/Old Bread/recipe.yaml")).slug == "old-bread"
    assert read_text(source, Path("content/rye.yaml")).slug == "rye"
    folder = tmp_path / "my bread"
    folder.mkdir()
    (folder / "recipe.yaml").write_text(source)
    assert read(folder / "recipe.yaml").slug == "my-bread"


@pytest.mark.parametrize(
    ("plural", "single"),
    [
        ("eggs", "egg"), ("tomatoes", "tomato"), ("cherries", "cherry"), ("peaches", "peach"), ("radishes", "radish"),
        ("boxes", "box"), ("leaves", "leaf"), ("loaves", "loaf"), ("glasses", "glass"), ("cloves", "clove"),
        ("olives", "olive"), ("chives", "chive"), ("slices", "slice"), ("pies", "pie"), ("cookies", "cookie"),
        ("molasses", "molasses"), ("couscous", "couscous"), ("bass", "bass"), ("rice", "rice"), ("oats", "oat"),
        ("halves", "half"), ("knives", "knife"), ("endives", "endive"), ("avocados", "avocado"), ("potatoes", "potato"),
    ],
)  # fmt: skip
def test_singular_and_plural_meet(plural: str, single: str) -> None:
    """English plurals, from memory. What the common form is does not matter, only that both have the same."""
    assert singular(plural) == singular(single)
