"""`levelcup publish`: everything checked, then the site built; errors stop it and leave the last site whole."""

from __future__ import annotations

import sys
from pathlib import Path

from pipeline.proof.paint import print_text, wants_colour
from pipeline.proof.prove import prove_all
from pipeline.proof.report import exit_code, summary
from pipeline.site.build import build
from pipeline.site.errors import SiteError
from pipeline.terminal.desk import CLEAN, UNREADABLE, from_here, recipe_files, settings
from pipeline.terminal.progress import progress


def publish(folder: Path, out: Path | None) -> int:
    """Checks all recipes of the folder and builds the site of those that are no drafts. The exit code."""
    paths = recipe_files([], folder)
    channel, table = settings(folder)
    proven = []
    with progress() as tell:
        for one in prove_all(paths, channel, table):
            proven.append(one)
            tell("checking", len(proven), len(paths))
    # A draft is allowed to be wrong: it stays out of the site. One that cannot be read may be no draft, so it stops.
    shown = [p for p in proven if p.recipe is None or not p.recipe.draft]
    sheets = [p.sheet for p in shown]
    out = out or folder / "site_out"
    if code := exit_code(sheets):
        wrong = [s._replace(findings=tuple(f for f in s.findings if f.severity == "error")) for s in sheets]
        print(print_text([s for s in wrong if s.findings], wants_colour(sys.stderr)), file=sys.stderr)
        print(f"nothing was published; {out} is as it was", file=sys.stderr)
        return code
    own = folder / "templates"
    try:
        with progress() as tell:
            recipes = [p.recipe for p in shown if p.recipe]
            report = build(recipes, channel, table, out, own if own.is_dir() else None, tell)
    except SiteError as error:
        print(f"{error}\nnothing was published; {out} is as it was", file=sys.stderr)
        return UNREADABLE
    where, drafts = from_here(report.out), len(proven) - len(shown)
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
    return CLEAN
