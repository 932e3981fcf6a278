"""A recipe's chapter marks from its steps' moments, and the platform's rules for them."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from pipeline.film.clock import say_moment
from pipeline.film.description import description_lines
from pipeline.film.mark import Chapter, clean_title, shortened
from pipeline.film.titles import component_title, joint_title, told_apart
from pipeline.recipe.channel import ChapterRules
from pipeline.recipe.model import Recipe

__all__ = ["BREAKS", "Chapter", "ChapterProblem", "chapter_problems", "chapters_of", "description_lines"]

INTRO = "Intro"

_RULES = ChapterRules()

#: Codes of problems for which the platform drops all marks; the others only make them less useful.
BREAKS = frozenset({"too-few", "too-short", "beyond-end", "before-start"})


class ChapterProblem(NamedTuple):
    """``step`` indexes Recipe.steps, None where all marks are meant. Codes: ``too-few``, ``too-short``,
    ``descending``, ``beyond-end``, ``before-start``, ``same-moment``, ``same-title``, ``title-long``."""

    step: int | None
    code: str
    message: str


def chapters_of(recipe: Recipe, rules: ChapterRules = _RULES, intro: str = INTRO) -> list[Chapter]:
    """The recipe's marks, ascending, the first at 0:00; empty where no step has a moment.

    Steps with the same moment share a mark. Where the first step begins later than the shortest chapter, an
    opening mark, called ``intro``, stands before it; where it begins sooner, its own mark is moved to 0:00. Equal
    titles are told apart by their component, else by a number. Moments beyond the film's length are kept:
    :func:`chapter_problems` reports them.
    """
    timed = sorted((max(step.at, 0), index) for index, step in enumerate(recipe.steps) if step.at is not None)
    if not timed:
        return []
    groups: list[tuple[int, list[int]]] = []
    for at, index in timed:
        if groups and groups[-1][0] == at:
            groups[-1][1].append(index)
        else:
            groups.append((at, [index]))
    chapters = [Chapter(at, joint_title(recipe, steps, rules.title), steps[0]) for at, steps in groups]
    if chapters[0].at >= max(rules.shortest, 1):
        chapters.insert(0, Chapter(0, shortened(intro, rules.title)))
    else:
        chapters[0] = Chapter(0, chapters[0].title, chapters[0].step)
    return told_apart(recipe, chapters, rules.title)


def chapter_problems(recipe: Recipe, rules: ChapterRules = _RULES) -> list[ChapterProblem]:
    """What the platform would refuse, or the viewer stumble over, in step order; each message stands alone.

    Nothing is reported for a recipe none of whose steps has a moment.
    """
    timed = [(index, step.at) for index, step in enumerate(recipe.steps) if step.at is not None]
    if not timed:
        return []
    found = [*_moment_problems(recipe, timed), *_title_problems(recipe, timed, rules)]
    chapters = chapters_of(recipe, rules)
    length = recipe.video.length if recipe.video else None
    if len(chapters) < rules.least:
        found.append(
            ChapterProblem(
                None,
                "too-few",
                f"{len(chapters)} chapter {'mark' if len(chapters) == 1 else 'marks'}, but the platform shows none "
                f"below {rules.least}; give more steps a moment",
            )
        )
    ends = [(a, b.at) for a, b in pairwise(chapters)]
    if length is not None and length > chapters[-1].at:
        ends.append((chapters[-1], length))
    for chapter, end in ends:
        if end - chapter.at < rules.shortest:
            found.append(
                ChapterProblem(
                    chapter.step,
                    "too-short",
                    f"the chapter “{chapter.title}” lasts {_seconds(end - chapter.at)} "
                    f"({say_moment(chapter.at)} to {say_moment(end)}); a chapter lasts "
                    f"{_seconds(rules.shortest)} or longer",
                )
            )
    return sorted(found, key=lambda problem: -1 if problem.step is None else problem.step)


def _moment_problems(recipe: Recipe, timed: list[tuple[int, int]]) -> list[ChapterProblem]:
    found: list[ChapterProblem] = []
    length = recipe.video.length if recipe.video else None
    # A film makes one component while another rests, so only steps of one component are expected in their order. The
    # marks ascend all the same: chapters_of puts them in the film's order.
    tops: dict[int, tuple[int, int]] = {}
    for index, at in timed:
        component = recipe.steps[index].component
        top, top_step = tops.get(component, (-1, 0))
        if at < 0:
            found.append(ChapterProblem(index, "before-start", f"step {index + 1} begins before the film does"))
            continue
        moment = say_moment(at)
        if length is not None and at >= length:
            found.append(
                ChapterProblem(
                    index,
                    "beyond-end",
                    f"step {index + 1} begins at {moment}, but the film ends at {say_moment(length)}",
                )
            )
        if at < top:
            found.append(
                ChapterProblem(
                    index,
                    "descending",
                    f"step {index + 1} begins at {moment}, before step {top_step + 1} at {say_moment(top)}; "
                    "mend the moment if it is a slip of typing",
                )
            )
        same = next((other for other, then in timed if other < index and then == at), None)
        if same is not None:
            found.append(
                ChapterProblem(
                    index,
                    "same-moment",
                    f"step {index + 1} begins at {moment}, as step {same + 1} does; they share one chapter",
                )
            )
        if at > top:
            tops[component] = at, index
    return found


def _title_problems(recipe: Recipe, timed: list[tuple[int, int]], rules: ChapterRules) -> list[ChapterProblem]:
    found: list[ChapterProblem] = []
    seen: dict[str, int] = {}
    for index, _ in timed:
        step = recipe.steps[index]
        title = clean_title(step.title)
        if len(title) > rules.title:
            found.append(
                ChapterProblem(
                    index,
                    "title-long",
                    f"the title of step {index + 1} has {len(title)} characters; marks show {rules.title}",
                )
            )
        key = title.casefold()
        if key and key in seen and component_title(recipe, step) == component_title(recipe, recipe.steps[seen[key]]):
            found.append(
                ChapterProblem(index, "same-title", f"steps {seen[key] + 1} and {index + 1} are both titled “{title}”")
            )
        seen.setdefault(key, index)
    return found


def _seconds(ms: int) -> str:
    return f"{ms // 1000} s" if ms % 1000 == 0 else f"{ms / 1000:.1f} s"
