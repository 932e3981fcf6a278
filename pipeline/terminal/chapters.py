"""`levelcup chapters`: the marks of a recipe's film, heard, moved, asked about, written, and printed in three forms."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from pipeline.film.align import choose
from pipeline.film.chapters import chapter_problems, chapters_of
from pipeline.film.description import description_lines
from pipeline.film.ffmetadata import ffmetadata
from pipeline.film.mark import Chapter, Mark
from pipeline.film.transcript import Transcript
from pipeline.film.webvtt_chapters import webvtt_chapters
from pipeline.measure.lookup import Table
from pipeline.proof.paint import wants_colour
from pipeline.recipe.edit import ChangedError
from pipeline.recipe.model import Recipe
from pipeline.site.errors import SiteError
from pipeline.site.theme import Theme
from pipeline.terminal import marking
from pipeline.terminal.desk import CLEAN, FOUND, UNREADABLE, UsageError, complain, proven

if TYPE_CHECKING:
    from pipeline.proof.prove import Proven


class Wishes(NamedTuple):
    """What was asked for on the command line."""

    form: str = "description"
    anew: bool = False
    review: bool = False
    write: bool = False
    count: int | None = None  # type: ignore[assignment]  # hides tuple.count, which nobody asks for
    retime: tuple[Path, Path] | None = None
    shift: str | None = None


def chapters(folder: Path, name: str, wishes: Wishes) -> int:
    """Prints the marks of one recipe's film, after doing what is wished. The exit code. Raises UsageError."""
    found, channel, table = proven(folder, name)
    if found.recipe is None:
        complain(found)
        return UNREADABLE
    recipe = found.recipe
    try:
        marks, moments = _moments(recipe, found.transcript, table, wishes)
        if wishes.review:
            if marks is None:
                raise UsageError("there are no captions to listen to; name them in the recipe under `video`")
            moments = marking.walk(recipe, marks)
        if wishes.review or wishes.write:
            done = marking.put_in(recipe, moments)
            what = "confirmed moment" if wishes.review else "moment"
            print(f"{done} {what}{'' if done == 1 else 's'} written into {recipe.path}", file=sys.stderr)
        if wishes.review:
            return CLEAN
    except FileNotFoundError as error:
        raise UsageError(f"there is no file {str(error.filename)!r}") from None
    except (ChangedError, OSError, ValueError) as error:
        raise UsageError(str(error)) from None
    recipe = marking.with_moments(recipe, moments)
    if marks is not None and wishes.count:
        made = list(choose(marks, recipe, channel.chapters, wishes.count))
    else:
        made = chapters_of(recipe, channel.chapters, _intro(folder))
    if not made:
        raise UsageError(_no_marks(found, marks is not None))
    _print(made, recipe, wishes.form)
    problems = [] if wishes.count else chapter_problems(recipe, channel.chapters)
    for problem in problems:
        print(f"{recipe.slug}: {problem.message}", file=sys.stderr)
    return FOUND if problems else CLEAN


def _intro(folder: Path) -> str:
    """What the catalogue of words calls an opening mark."""
    try:
        return Theme(folder / "templates").words("post.intro")
    except SiteError as error:
        raise UsageError(str(error)) from None


def _moments(
    recipe: Recipe, transcript: Transcript | None, table: Table, wishes: Wishes
) -> tuple[tuple[Mark, ...] | None, dict[int, int]]:
    """The marks heard (None where nothing was listened to), and the steps' new moments in ms."""
    timed = {i: step.at for i, step in enumerate(recipe.steps) if step.at is not None}
    if wishes.retime:
        moments, lost = marking.moved(recipe, *wishes.retime)
        for line in lost:
            print(line, file=sys.stderr)
        return None, moments
    if wishes.shift:
        by = marking.read_span(wishes.shift)
        return None, {i: max(at + by, 0) for i, at in timed.items()}
    if transcript is None or not (wishes.anew or wishes.review or wishes.count or len(timed) < len(recipe.steps)):
        return None, {}
    marks = marking.listened(recipe, transcript, table, wishes.anew)
    print(marking.table_of(recipe, marks, wants_colour(sys.stderr)), file=sys.stderr)
    return marks, {m.step: m.at for m in marks if m.at is not None}


def _no_marks(found: Proven, heard: bool) -> str:
    """Why there is nothing to print, and what to do."""
    assert found.recipe is not None
    none = f"no step of {found.recipe.slug!r} has a moment"
    if heard:
        return f"{none}, and none was heard; are these the film's captions? If so, write `at: 1:05` beside a step"
    unread = [f.message for f in found.sheet.findings if f.check in ("captions-unreadable", "captions-missing")]
    if unread:
        return f"{none}, and there are no captions to hear them in: {'; '.join(unread)}"
    return (
        f"{none}, and there are no captions to hear them in; "
        "write `at: 1:05` beside a step, or `captions: captions.vtt` under `video`"
    )


def _print(made: Sequence[Chapter], recipe: Recipe, form: str) -> None:
    length = recipe.video.length if recipe.video else None
    if form == "webvtt":
        print(webvtt_chapters(made, length), end="")
    elif form == "ffmetadata":
        print(ffmetadata(made, length, recipe.title), end="")
    else:
        print("\n".join(description_lines(made, length)))
