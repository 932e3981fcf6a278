"""The parts that comparing rests on: the assignment, numbers that sound alike, where the film is, exact edits."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words  # comes with quantulum3, a test dependency

from pipeline.film.captions import read_captions_text
from pipeline.film.compare import Remark, said_against
from pipeline.film.compare.assigning import assign
from pipeline.film.compare.misheard import misheard, spelt
from pipeline.film.compare.moments import marked
from pipeline.measure.lookup import load
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text

COSTS = st.integers(1, 5).flatmap(
    lambda rows: st.integers(1, 5).flatmap(
        lambda columns: st.lists(
            st.lists(st.integers(0, 40), min_size=columns, max_size=columns), min_size=rows, max_size=rows
        )
    )
)


@settings(max_examples=150)
@given(COSTS)
def test_the_assignment_is_the_cheapest_of_all(costs: list[list[int]]) -> None:
    """Against trying them all: what the Hungarian method promises (Kuhn 1955)."""
    got = assign([[float(c) for c in row] for row in costs])
    rows, columns = len(costs), len(costs[0])
    given_ = [c for c in got if c is not None]
    assert len(given_) == len(set(given_)) == min(rows, columns)
    mine = sum(costs[r][c] for r, c in enumerate(got) if c is not None)
    if rows <= columns:
        best = min(sum(costs[r][c] for r, c in enumerate(p)) for p in permutations(range(columns), rows))
    else:
        best = min(sum(costs[r][c] for c, r in enumerate(p)) for p in permutations(range(rows), columns))
    assert mine == best


def test_nothing_to_assign() -> None:
    assert assign([]) == []
    assert assign([[], []]) == [None, None]


@pytest.mark.parametrize(
    ("said", "written", "how"),
    [
        (15, 50, "sounds"), (50, 15, "sounds"), (13, 30, "sounds"), (115, 150, "sounds"), (219, 290, "sounds"),
        (78, 278, "dropped"), (208, 278, "dropped"), ("1/4", "3/4", "dropped"), (2, "2 1/2", "dropped"),
        (100, 400, "dropped"), (20, 200, ""), (3, 4, ""), (250, 300, ""), ("1/2", "1/4", ""), (5, 5, ""),
    ],
)  # fmt: skip
def test_what_may_be_misheard(said: int | str, written: int | str, how: str) -> None:
    assert misheard(_number(said), _number(written)) == how


def _number(text: int | str) -> Fraction:
    return sum((Fraction(part) for part in str(text).split()), Fraction(0))


@settings(max_examples=200)
@given(st.integers(1, 9999))
def test_numbers_are_spelt_as_a_general_library_spells_them(number: int) -> None:
    theirs = num2words(number).replace("-", " ").replace(",", "").replace(" and ", " ").split()
    assert list(spelt(Fraction(number))) == theirs


def recipe(at: bool) -> Recipe:
    moments = ("at: 0:00, ", "at: 1:00, ", "at: 2:00, ") if at else ("", "", "")
    return read_text(
        "title: Oats\nyield: serves 4\ningredients:\n  - 400 g oats\n  - 1/2 tsp (3 g) salt\nsteps:\n"
        f'  - {{{moments[0]}text: "Toast {{oats}} for {{15 min}}."}}\n'
        f'  - {{{moments[1]}text: "Boil them with {{salt}} for {{40 min}}."}}\n'
        f'  - {{{moments[2]}text: "Cool for {{1 h}}."}}\n',
        Path("recipe.yaml"),
    )


FILM = """\
[0:05] Four hundred grams of oats on a tray. Toast them for fifteen minutes.
[1:20] Half a teaspoon of salt. Boil them for twenty minutes, until it's thick.
[2:20] Then cool it for an hour.
"""


def remarks(source: Recipe, film: str = FILM, **more: object) -> list[Remark]:
    return list(said_against(source, read_captions_text(film, "c.txt"), load(), **more))  # type: ignore[arg-type]


def test_times_need_to_know_where_the_film_is() -> None:
    (by_page,) = remarks(recipe(at=True))
    assert (by_page.weight, by_page.name, by_page.said, by_page.written) == (
        "clear", "step 2", "twenty minutes", "40 min",
    )  # fmt: skip
    marks = [SimpleNamespace(at=0, step=0), SimpleNamespace(at=60_000, step=1), SimpleNamespace(at=120_000, step=2)]
    (by_marks,) = remarks(recipe(at=False), marks=marks)
    assert (by_marks.weight, by_marks.step, by_marks.at) == ("doubtful", 1, by_page.at)
    assert marked(recipe(at=False), [*marks, SimpleNamespace(at=None, step=1)]).step(70_000) == 1


def test_a_remark_says_when_what_and_how_to_put_it_right() -> None:
    source = recipe(at=True)
    film = FILM.replace("Half a teaspoon", "A tablespoon").replace("twenty minutes", "forty minutes")
    (slip,) = remarks(source, film)
    assert slip.at == 80_000 and slip.words == "A tablespoon of salt."
    assert (slip.said, slip.written, slip.screen) == ("a tablespoon", "1/2 tsp", "1/2 tsp (3 g) salt")
    assert slip.verdict is not None and round(slip.verdict.off, 2) == 5
    text = source.source
    for span, new in sorted(slip.edits, key=lambda e: -e[0].start):
        text = text[: span.start] + new + text[span.end :]
    assert text == source.source.replace("1/2 tsp (3 g) salt", "1 tbsp (18 g) salt")
    assert remarks(read_text(text, Path("recipe.yaml")), film) == []


def test_no_words_no_remarks() -> None:
    empty = read_captions_text("[0:00] [Music]\n[0:05] Hello.\n", "c.txt")
    assert said_against(recipe(at=True), empty, load()) == ()
