"""`levelcup publish`: everything checked, then the site built; errors stop it and leave the last site whole."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from pipeline.proof.crew import Crew
from pipeline.proof.paint import print_text, wants_colour
from pipeline.proof.prove import prove
from pipeline.proof.report import Sheet, exit_code, summary
from pipeline.recipe.model import Recipe
from pipeline.site.build import Report, build_from, ground_of
from pipeline.site.compose import Composer
from pipeline.site.errors import SiteError
from pipeline.site.own import Cover, Made, Order, Own
from pipeline.site.press import WORTH_SHARING
from pipeline.site.theme import Theme
from pipeline.terminal.desk import CLEAN, UNREADABLE, from_here, recipe_files, settings
from pipeline.terminal.progress import progress


class Told(NamedTuple):
    """What one recipe's process tells of it; ``cover`` is None for a draft and for what cannot be shown."""

    sheet: Sheet
    draft: bool
    cover: Cover | None


def publish(folder: Path, out: Path | None) -> int:
    """Checks all recipes of the folder and builds the site of those that are no drafts. The exit code."""
    paths = recipe_files([], folder)
    channel, table = settings(folder)
    out = out or folder / "site_out"
    templates = folder / "templates"
    theme = Theme(templates if templates.is_dir() else None)
    try:
        own = Own(theme, Composer(channel, table, theme.words))
    except SiteError as error:  # what is wrong with the recipes is told with it
        proven = (prove(path, channel, table) for path in paths)
        sheets = [one.sheet for one in proven if one.recipe is None or not one.recipe.draft]
        if code := _stopped(sheets, out):
            print(error, file=sys.stderr)
            return code
        return _failed(error, out)

    def first(number: int) -> tuple[Recipe | None, Told]:
        proven = prove(paths[number], channel, table)
        recipe = proven.recipe
        draft = recipe is not None and recipe.draft
        return recipe, Told(proven.sheet, draft, own.cover(recipe) if recipe and not draft else None)

    def answer(recipe: Recipe | None, order: Order) -> Made:
        assert recipe is not None
        return own.make(recipe, order)

    with Crew(first, answer, len(paths), WORTH_SHARING, own.ready) as crew:
        ground = ground_of(own)  # while the others are at work
        told: list[Told] = []
        with progress() as tell:
            for one in crew.told():
                told.append(one)
                tell("checking", len(told), len(paths))
        # A draft is allowed to be wrong: it stays out of the site. One that cannot be read may be no draft: it stops.
        sheets = [one.sheet for one in told if not one.draft]
        if code := _stopped(sheets, out):
            return code
        covers = [(number, one.cover) for number, one in enumerate(told) if one.cover is not None]
        try:
            with progress() as tell:
                report = build_from(covers, crew, own, ground, out, tell)
        except SiteError as error:
            return _failed(error, out)
    _tell(report, sheets, len(told) - len(sheets))
    return CLEAN


def _stopped(sheets: Sequence[Sheet], out: Path) -> int:
    """Prints the errors that stop publishing; the exit code, 0 where there are none."""
    code = exit_code(sheets)
    if code:
        wrong = [s._replace(findings=tuple(f for f in s.findings if f.severity == "error")) for s in sheets]
        print(print_text([s for s in wrong if s.findings], wants_colour(sys.stderr)), file=sys.stderr)
        print(f"nothing was published; {out} is as it was", file=sys.stderr)
    return code


def _failed(error: SiteError, out: Path) -> int:
    print(f"{error}\nnothing was published; {out} is as it was", file=sys.stderr)
    return UNREADABLE


def _tell(report: Report, sheets: Sequence[Sheet], drafts: int) -> None:
    where = from_here(report.out)
    left = f", {drafts} draft{'s' if drafts > 1 else ''} left out" if drafts else ""
    print(
        f"published {report.recipes} recipe{'' if report.recipes == 1 else 's'} to {where}{left}: "
        f"{len(report.written)} files written, {report.kept} kept"
    )
    for note in report.notes:
        print(f"note: {note}")
    if any(s.findings for s in sheets):
        print(f"{summary(sheets)}; `levelcup check` shows them")
    print(f"open {where / 'index.html'}")
