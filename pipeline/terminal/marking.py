"""Marks heard in the film: shown with what they rest on, asked about, moved, and written into the source."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import IO

from pipeline.film.align import Alignment, Question, aligned, questions, retime
from pipeline.film.captions import read_captions
from pipeline.film.clock import say_moment
from pipeline.film.mark import Mark
from pipeline.film.titles import made_title
from pipeline.film.transcript import Transcript
from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.edit import apply, set_all_at, write
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read_text

_CLOCK = re.compile(r"(?:(\d+):)?(\d+):([0-5]?\d(?:[.,]\d{1,3})?)")
_SECONDS = re.compile(r"(\d+(?:[.,]\d{1,3})?)\s*(?:s|sec|seconds?)?")


class MomentError(ValueError):
    """What was typed is no moment or span of time."""


def read_span(text: str) -> int:
    """A typed moment or span ("1:05", "1:02:03", "12 s", "-0:07") in whole milliseconds. Raises MomentError."""
    bare = text.strip()
    sign = -1 if bare[:1] in "-−" else 1
    bare = bare.lstrip("+-−").strip()
    if m := _CLOCK.fullmatch(bare):
        hours, minutes, seconds = m[1] or "0", m[2], m[3].replace(",", ".")
        return sign * round((int(hours) * 3600 + int(minutes) * 60 + float(seconds)) * 1000)
    if m := _SECONDS.fullmatch(bare):
        return sign * round(float(m[1].replace(",", ".")) * 1000)
    raise MomentError(f"{text!r} is no time; write 1:05, 1:02:03 or 12 s")


def listened(recipe: Recipe, transcript: Transcript, table: Table, anew: bool) -> Alignment:
    """A mark for each step. Moments in the source stand as they are, unless all are asked for ``anew``."""
    held = {} if anew else {i: step.at for i, step in enumerate(recipe.steps) if step.at is not None}
    return aligned(recipe, transcript, table, held)


def typed(recipe: Recipe) -> tuple[Mark, ...]:
    """A mark for each step that has a moment in the source."""
    return tuple(Mark(i, step.at, 1.0, "") for i, step in enumerate(recipe.steps) if step.at is not None)


def doubtful(recipe: Recipe, marks: Sequence[Mark]) -> frozenset[int]:
    """The steps that :func:`walk` asks about."""
    return frozenset(question.step for question in questions(marks, recipe))


def shifted(timed: Mapping[int, int], by: int) -> dict[int, int]:
    """Moments (step to ms) moved by so many ms; one that falls before the film begins it.

    Raises MomentError where two moments would, for then they could not be told apart any more.
    """
    early = {at for at in timed.values() if at + by <= 0}
    if by < 0 and len(early) > 1:
        raise MomentError(
            f"moved by {say_moment(-by)} to the front, {len(early)} moments (up to {say_moment(max(early))}) would "
            "fall to the film's start; if a scene was cut there, use --retime OLD NEW"
        )
    return {i: max(at + by, 0) for i, at in timed.items()}


def with_moments(recipe: Recipe, moments: Mapping[int, int | None]) -> Recipe:
    """The recipe with these steps at these moments (ms; None: nowhere), for the writers of chapters; the file is not
    touched."""
    steps = tuple(replace(s, at=moments[i]) if i in moments else s for i, s in enumerate(recipe.steps))
    return replace(recipe, steps=steps)


def table_of(recipe: Recipe, marks: Sequence[Mark], colour: bool) -> str:
    """What was heard, a line a step: moment, how sure, title, and the words it rests on."""
    lines = []
    for mark in marks:
        step = recipe.steps[mark.step]
        title = str(step.title) or made_title(recipe, step, 40)
        if mark.at is None:
            lines.append(f"{'–':>8}       {mark.step + 1:>3}  {title}: {mark.reason}")
            continue
        if step.at == mark.at:
            sure, ink = "yours", "36"
        else:
            sure, ink = f"{mark.confidence:.0%}", "32" if mark.confidence >= 0.7 else "33"
        shown = f"\x1b[{ink}m{sure:>5}\x1b[0m" if colour else f"{sure:>5}"
        words = ", ".join(mark.rests_on[:5]) or mark.words
        lines.append(
            f"{say_moment(mark.at):>8} {shown} {mark.step + 1:>3}  {title}" + (f"  “{words}”" if words else "")
        )
    return "\n".join(lines) + "\n"


def put_in(recipe: Recipe, moments: Mapping[int, int | None]) -> int:
    """Writes `at:` into the recipe's file for these steps (ms; None empties it), every other byte as it was. How many
    were changed.

    Raises ChangedError if the file was changed meanwhile, OSError if it can't be written.
    """
    new = {i: ms for i, ms in moments.items() if recipe.steps[i].at != ms}
    if new:
        old = recipe.path.read_bytes()
        text = apply(recipe.source, set_all_at(recipe, new))
        read_text(text, recipe.path)  # what we write must be readable, whatever the source looked like
        mark = "\ufeff" if old.startswith(b"\xef\xbb\xbf") and not text.startswith("\ufeff") else ""
        write(recipe.path, old, mark + text)
    return len(new)


def moved(recipe: Recipe, old: Path, new: Path) -> tuple[dict[int, int | None], list[str]]:
    """All moments of the recipe, moved from the film of the ``old`` captions to that of the ``new`` ones (None where
    the words were cut), and a line for each one that was cut. Raises CaptionError, OSError."""
    timed = [(i, step.at) for i, step in enumerate(recipe.steps) if step.at is not None]
    found = retime(read_captions(old), read_captions(new), [at for _, at in timed])
    moments: dict[int, int | None] = {}
    lost: list[str] = []
    for (index, at), result in zip(timed, found, strict=True):
        moments[index] = result.at
        if result.at is not None:
            continue
        goes_on = f"; the film goes on at {say_moment(result.nearest)}" if result.nearest is not None else ""
        lost.append(f"step {index + 1} ({recipe.steps[index].title or 'no title'}): its words at {say_moment(at)} "
                    f"were cut{goes_on}")  # fmt: skip
    return moments, lost


def walk(
    recipe: Recipe,
    marks: Sequence[Mark],
    length: int = 0,
    ask: Callable[[str], str] | None = None,
    out: IO[str] | None = None,
) -> dict[int, int]:
    """Asks about each doubtful mark; the confirmed moments (step to ms). Stops at `stop`, Ctrl-C or the end of the
    input. ``length``: the film's, in ms, where it is known."""
    ask, out = ask or input, out or sys.stdout
    confirmed: dict[int, int] = {}
    asked = questions(marks, recipe)
    for number, question in enumerate(asked, 1):
        print(f"\n{number} of {len(asked)}: {_shown(question)}", file=out)
        while True:
            try:
                typed = ask("> ").strip().lower()
            except (EOFError, KeyboardInterrupt):
                print(file=out)
                return confirmed
            if typed == "stop":
                return confirmed
            try:
                at = _answer(question, typed, length)
            except MomentError as error:
                print(error, file=out)
                continue
            if at is not None:
                confirmed[question.step] = at
                before, after = question.between
                if (before is not None and at < before) or (after is not None and at > after):
                    print("kept, though it does not stand between the steps beside it", file=out)
            break
    return confirmed


def _shown(question: Question) -> str:
    lines = [question.headline, f"   {question.reason}"]
    if question.words:
        lines.append(f"   “{question.words}”")
    for letter, other in zip("ab", question.others, strict=False):
        lines.append(f"   {letter}: {say_moment(other.at)} “{other.words}”")
    before, after = question.between
    if before is not None or after is not None:
        between = [say_moment(x) if x is not None else "…" for x in (before, after)]
        lines.append(f"   between {between[0]} and {between[1]}")
    letters = ", ".join("ab"[: len(question.others)])
    yes = "Enter keeps it, " if question.at is not None else ""
    another = f"{letters} takes another, " if letters else ""
    lines.append(f"   {yes}{another}1:05 sets your own, `none` leaves it out, `stop` ends")
    return "\n".join(lines)


def _answer(question: Question, typed: str, length: int) -> int | None:
    if typed in ("", "y", "yes") and question.at is not None:
        return question.at
    if typed in ("none", "no", ""):
        return None
    if typed in "ab" and "ab".index(typed) < len(question.others):
        return question.others["ab".index(typed)].at
    at = read_span(typed)
    if at < 0:
        raise MomentError("a moment before the film's start")
    if length and at > length:
        raise MomentError(f"the film's last words are at {say_moment(length)}")
    return at
