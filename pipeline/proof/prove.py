"""From a recipe's file to its sheet: read it and its captions, run the checks; what can't be read is a finding."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from pipeline.film.captions import read_captions
from pipeline.film.transcript import CaptionError, Transcript
from pipeline.proof.finding import Finding, Fix, Rows
from pipeline.proof.report import Sheet, sheet
from pipeline.proof.run import UNREADABLE, run
from pipeline.proof.sharing import shared
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import SourceError, read

# Starting workers costs about as much as proving this many recipes (measured).
WORTH_SHARING = 40

CAPTIONS_UNREADABLE = "captions-unreadable"
CAPTIONS_REPAIRED = "captions-repaired"


class Proven(NamedTuple):
    """A recipe (None where its source can't be read), its film's words, and all that was found."""

    recipe: Recipe | None
    transcript: Transcript | None
    sheet: Sheet


def prove(path: Path, channel: Channel, table: Rows) -> Proven:
    """Reads and checks one recipe. What cannot be read becomes findings; nothing is raised for an author's mistake."""
    try:
        recipe = read(path)
    except SourceError as error:
        return Proven(None, None, unreadable(path, error))
    transcript, extra = words_of(recipe)
    found = run(recipe, transcript, channel, table, extra=extra)
    return Proven(recipe, transcript, sheet(recipe, found))


def prove_all(paths: Sequence[Path], channel: Channel, table: Rows) -> Iterator[Proven]:
    """Each recipe proven, in the order of ``paths``; many are shared out among the processors, without transcripts."""

    def one(index: int) -> Proven:
        return prove(paths[index], channel, table)._replace(transcript=None)

    yield from shared(one, len(paths), WORTH_SHARING)


def sheets_of(paths: Sequence[Path], channel: Channel, table: Rows) -> Iterator[Sheet]:
    """As :func:`prove_all`, for who wants to know only what was found: a sheet travels faster than a recipe."""

    def one(index: int) -> Sheet:
        return prove(paths[index], channel, table).sheet

    yield from shared(one, len(paths), WORTH_SHARING)


def unreadable(path: Path, error: SourceError) -> Sheet:
    """The sheet of a source that could not be read: every problem as a finding."""
    findings = tuple(
        Finding(UNREADABLE, "error", p.span, p.message, p.why, (Fix(p.help),) if p.help else ()) for p in error.problems
    )
    return Sheet(str(path), "", "", error.source, findings)


def words_of(recipe: Recipe) -> tuple[Transcript | None, list[Finding]]:
    """The film's words, and what is to be said of its captions file. A missing file is a check's business."""
    if recipe.video is None or recipe.video.captions is None:
        return None, []
    name = recipe.video.captions
    try:
        transcript = read_captions(recipe.folder / str(name))
    except CaptionError as error:
        return None, [
            Finding(
                CAPTIONS_UNREADABLE,
                "error",
                name.span,
                f"`{name}`, line {line}: {message}",
                "captions that can't be read can't be compared with the recipe",
                (Fix("mend that line, or export the captions anew"),),
            )
            for line, message in error.problems
        ]
    except OSError:
        return None, []
    notes = [
        Finding(
            CAPTIONS_REPAIRED,
            "note",
            name.span,
            f"`{name}`, line {repair.line}: {repair.message}",
            "it was put right for reading; the file itself was not touched",
        )
        for repair in transcript.repairs
    ]
    return transcript, notes
