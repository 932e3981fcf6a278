"""Chapters chosen from marks: the platform's rules kept, the wanted number kept."""

from __future__ import annotations

from itertools import pairwise

import score_align
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.film.align import choose
from pipeline.film.mark import Mark
from pipeline.recipe.channel import ChapterRules

RECIPE = next(case.recipe for case in score_align.demo() if "bread" in case.film)
RULES = ChapterRules()
LENGTH = RECIPE.video.length if RECIPE.video and RECIPE.video.length else 0


def marks(*at: int | None, confidence: float = 0.9) -> list[Mark]:
    return [Mark(step, ms, confidence, "") for step, ms in enumerate(at)]


GIVEN = marks(*(step.at for step in RECIPE.steps))


def test_all_marks_stay_when_there_is_room() -> None:
    chapters = choose(GIVEN, RECIPE)
    assert [c.at for c in chapters] == [0, *(m.at for m in GIVEN)]
    assert chapters[0].step is None and chapters[1].title == "Wake the yeast"


def test_a_chosen_number_keeps_the_changes_of_component() -> None:
    for count in range(3, 17):
        chapters = choose(GIVEN, RECIPE, count=count)
        assert len(chapters) == min(count, 16)
        assert len({c.title for c in chapters}) == len(chapters)
    changes = {m.at for a, m in pairwise(GIVEN)
               if RECIPE.steps[a.step].component != RECIPE.steps[m.step].component}  # fmt: skip
    kept = {c.at for c in choose(GIVEN, RECIPE, count=11)}
    assert len(changes & kept) >= len(changes) - 2


def test_fewer_than_the_platform_takes_are_never_asked_for() -> None:
    assert len(choose(GIVEN, RECIPE, count=1)) == RULES.least


def test_marks_that_are_too_close_merge_and_the_surer_stays() -> None:
    close = marks(60_000, 64_000, 120_000, 200_000)
    close[0] = Mark(0, 60_000, 0.3, "")
    assert [c.at for c in choose(close, RECIPE)] == [0, 64_000, 120_000, 200_000]


def test_a_first_step_at_once_takes_the_beginning() -> None:
    chapters = choose(marks(3_000, 60_000, 120_000), RECIPE)
    assert [(c.at, c.step) for c in chapters] == [(0, 0), (60_000, 1), (120_000, 2)]


def test_no_step_is_told_in_the_opening() -> None:
    """Few chapters were made of many by letting "Intro" go on over the first steps."""
    for count in range(3, 17):
        chapters = choose(GIVEN, RECIPE, count=count)
        assert chapters[0].step is None and chapters[1].at == GIVEN[0].at, count


def test_no_marks_no_chapters() -> None:
    assert choose(marks(None, None), RECIPE) == ()


@settings(max_examples=80)
@given(
    st.lists(st.one_of(st.none(), st.integers(0, LENGTH)), max_size=15),
    st.one_of(st.none(), st.integers(1, 20)),
)
def test_rules_hold_for_any_marks(at: list[int | None], count: int | None) -> None:
    chapters = choose(marks(*at), RECIPE, RULES, count)
    times = [c.at for c in chapters]
    assert times[:1] in ([], [0])
    assert all(b - a >= RULES.shortest for a, b in pairwise(times))
    assert all(len(c.title) <= RULES.title for c in chapters)
    if count is not None:
        assert len(chapters) <= max(count, RULES.least)
