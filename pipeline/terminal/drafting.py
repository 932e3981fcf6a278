"""`levelcup draft`: a first recipe.yaml from captions, from a saved page, or from nothing; never over another file."""

from __future__ import annotations

import sys
from pathlib import Path

from pipeline.film.draft import draft_command, write_new
from pipeline.film.transcript import CaptionError
from pipeline.recipe.page import PageError
from pipeline.recipe.read import read_text
from pipeline.recipe.values import folder_name
from pipeline.terminal.desk import CLEAN, UsageError, from_here, settings


def draft(folder: Path, source: Path, out: Path | None, which: int) -> int:
    """Writes the draft and says where, and what wants a look. The exit code. Raises UsageError."""
    _, table = settings(folder)
    try:
        made = draft_command(source, table, out, which)
        if out is None:
            out = _place(folder, source, made.text)
            made = draft_command(source, table, out, which)  # anew: the way to the captions leads from there
        if not write_new(out, made.text):
            raise UsageError(f"{out} is there already, and is never overwritten; name another file with --out")
    except (CaptionError, PageError) as error:
        raise UsageError(str(error)) from None
    except FileNotFoundError:
        raise UsageError(f"{source}: there is no such file") from None
    except OSError as error:
        raise UsageError(f"{error.filename or source}: {error.strerror or error}") from None
    print(f"wrote {from_here(out.absolute())}")
    for note in made.notes:
        print(f"note: {note}", file=sys.stderr)
    look = "look at the lines marked `check:`, then " if "check: " in made.text else ""
    print(f"next: {look}run `levelcup check {from_here(out.absolute())}`")
    return CLEAN


def _place(folder: Path, source: Path, text: str) -> Path:
    """Beside captions that stand in a recipe's folder already; else in a new folder named for the recipe."""
    recipes = folder / "content" / "recipes"
    here = source.absolute().parent
    if here.parent == recipes.absolute() and not (here / "recipe.yaml").exists():
        return here / "recipe.yaml"
    return recipes / folder_name(read_text(text).slug) / "recipe.yaml"
