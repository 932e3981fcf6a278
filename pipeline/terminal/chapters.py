"""`levelcup chapters`: the marks of a recipe's film, heard, moved, asked about, written, and printed in three forms."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
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
    _possible(wishes)
    found, channel, table = proven(folder, name)
    if found.recipe is None:
        complain(found)
        return UNREADABLE
    recipe = found.recipe
    try:
        marks, moments = _moments(recipe, found.transcript, table, wishes)
        if wishes.review:
            return _reviewed(recipe, marks, moments, found.transcript, wishes.write)
        if wishes.write:
            _written(recipe, moments, "moment")
    except FileNotFoundError as error:
        raise UsageError(f"there is no file {str(error.filename)!r}") from None
    except (ChangedError, OSError, ValueError) as error:
        raise UsageError(str(error)) from None
    recipe = marking.with_moments(recipe, moments)
    if wishes.count:
        made = list(choose(marks or marking.typed(recipe), recipe, channel.chapters, wishes.count))
    else:
        made = chapters_of(recipe, channel.chapters, _intro(folder))
    if not made:
        raise UsageError(_no_marks(found, marks is not None))
    _print(made, recipe, wishes.form)
    if wishes.count and len(made) != wishes.count:
        print(f"{len(made)} chapters, not {wishes.count}: {_why_not(len(made), wishes.count)}", file=sys.stderr)
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


def _possible(wishes: Wishes) -> None:
    """Raises UsageError for wishes that nobody can grant together."""
    if wishes.count is not None and wishes.count < 1:
        raise UsageError(f"--count {wishes.count}: a film has one chapter or more")
    both = [
        name for name, on in (("--retime", wishes.retime), ("--shift", wishes.shift), ("--review", wishes.review)) if on
    ]
    if len(both) > 1:
        raise UsageError(f"{both[0]} and {both[1]} are two jobs; run one with --write, then the other")


def _why_not(made: int, count: int) -> str:
    if made > count:
        return "a film has no fewer (`chapters` in content/channel.yaml)"
    return "there are no more moments, or they stand too close (`chapters` in content/channel.yaml)"


def _written(recipe: Recipe, moments: Mapping[int, int | None], what: str) -> None:
    cut = sum(1 for step, at in moments.items() if at is None and recipe.steps[step].at is not None)
    done = marking.put_in(recipe, moments) - cut
    gone = f"; {cut} emptied, for {'its' if cut == 1 else 'their'} words were cut" if cut else ""
    print(f"{done} {what}{'' if done == 1 else 's'} written into {recipe.path}{gone}", file=sys.stderr)


def _reviewed(
    recipe: Recipe,
    marks: Sequence[Mark] | None,
    moments: Mapping[int, int | None],
    transcript: Transcript | None,
    write: bool,
) -> int:
    """Asks about the doubtful marks and writes what is confirmed; the sure ones, too, where ``write`` is wished."""
    if marks is None or transcript is None:
        raise UsageError("there are no captions to listen to; name them in the recipe under `video`")
    asked = marking.doubtful(recipe, marks)
    sure = {step: at for step, at in moments.items() if step not in asked}
    new = sum(1 for step, at in sure.items() if recipe.steps[step].at != at)
    if asked:
        confirmed = marking.walk(recipe, marks, transcript.words[-1].end if transcript.words else 0)
        _written(recipe, {**sure, **confirmed} if write else confirmed, "moment" if write else "confirmed moment")
    else:
        print("no moment is in doubt; there is nothing to ask", file=sys.stderr)
        if write:
            _written(recipe, sure, "moment")
    if new and not write:
        print(f"`--write` puts in the {new} that {'is' if new == 1 else 'are'} sure", file=sys.stderr)
    return CLEAN


def _moments(
    recipe: Recipe, transcript: Transcript | None, table: Table, wishes: Wishes
) -> tuple[tuple[Mark, ...] | None, Mapping[int, int | None]]:
    """The marks heard (None where nothing was listened to), and the steps' new moments in ms (None: cut)."""
    timed = {i: step.at for i, step in enumerate(recipe.steps) if step.at is not None}
    if (wishes.retime or wishes.shift) and not timed:
        raise UsageError(
            f"no step of {recipe.slug!r} has a moment yet, so there is none to move; "
            f"`levelcup chapters {recipe.slug} --write` puts them in"
        )
    if wishes.retime:
        moments, lost = marking.moved(recipe, *wishes.retime)
        for line in lost:
            print(line if wishes.write else f"{line}; `--write` empties its `at:`", file=sys.stderr)
        return None, moments
    if wishes.shift:
        return None, marking.shifted(timed, marking.read_span(wishes.shift))
    if transcript is None or not (wishes.anew or wishes.review or wishes.count or len(timed) < len(recipe.steps)):
        return None, {}
    heard = marking.listened(recipe, transcript, table, wishes.anew)
    marks = heard.marks
    print(marking.table_of(recipe, marks, wants_colour(sys.stderr)), file=sys.stderr)
    if heard.unsure:
        print(f"{recipe.slug}: {heard.reason} `--review` asks about each mark", file=sys.stderr)
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
