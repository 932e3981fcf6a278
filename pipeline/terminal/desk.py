"""What the commands share: exit codes, the channel and its table, a recipe by the name that was given."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pipeline.measure.lookup import Table
    from pipeline.proof.prove import Proven
    from pipeline.recipe.channel import Channel

CLEAN, FOUND, UNREADABLE = 0, 1, 2

WELCOME = """\
There is no recipe here yet. Level Cup works in a folder of this shape:

  content/channel.yaml                 your channel's name and settings
  content/recipes/SLUG/recipe.yaml     one folder a recipe, with its photos and captions

Start your first recipe with
  levelcup draft --blank "Sunday flatbread"
then open the file that it names, and run
  levelcup check
"""


class UsageError(Exception):
    """The command was used wrongly; the message says how, and what to write instead."""


def settings(folder: Path) -> tuple[Channel, Table]:
    """The channel's settings and its ingredient table. Raises UsageError with every problem of the two files."""
    from pipeline.measure.lookup import load
    from pipeline.recipe.folder import own_rows
    from pipeline.recipe.problem import SourceError
    from pipeline.recipe.settings import read_channel

    try:
        channel = read_channel(folder / "content" / "channel.yaml")
        rows = own_rows(folder / "content" / "ingredients.yaml")
    except SourceError as error:
        raise UsageError(f"the settings cannot be read\n{error}") from None
    return channel, load().with_rows(rows) if rows else load()


def recipe_files(given: Sequence[Path], folder: Path) -> list[Path]:
    from pipeline.recipe.folder import recipe_paths
    from pipeline.recipe.problem import SourceError

    if not given and not (folder / "content").is_dir():
        raise UsageError(f"there is no content/ folder in {folder.absolute()}\n\n{WELCOME}".rstrip())
    try:
        return recipe_paths(given or [folder / "content"])
    except SourceError as error:
        raise UsageError("; ".join(f"{p.span.file}: {p.message}" for p in error.problems)) from None


def recipe_named(folder: Path, name: str) -> Path:
    """The recipe.yaml that a slug, a folder or a file names."""
    given = Path(name)
    if given.is_file():
        return given
    for path in (given / "recipe.yaml", folder / "content" / "recipes" / name / "recipe.yaml"):
        if path.is_file():
            return path
    from difflib import get_close_matches

    known = [path.parent.name for path in recipe_files([], folder)]
    near = get_close_matches(name, known, 1, 0.5)
    hint = f"did you mean {near[0]!r}?" if near else f"there are: {', '.join(known)}"
    raise UsageError(f"there is no recipe {name!r}; {hint}")


def proven(folder: Path, name: str) -> tuple[Proven, Channel, Table]:
    from pipeline.proof.prove import prove

    channel, table = settings(folder)
    return prove(recipe_named(folder, name), channel, table), channel, table


def complain(found: Proven) -> None:
    """Prints to stderr what stops a recipe from being used."""
    from pipeline.proof.paint import print_text, wants_colour

    print(print_text([found.sheet], wants_colour(sys.stderr)), end="", file=sys.stderr)


def from_here(path: Path) -> Path:
    """A path as the cook would write it: from here, where it lies below."""
    here = Path.cwd()
    return path.relative_to(here) if path.is_relative_to(here) else path
