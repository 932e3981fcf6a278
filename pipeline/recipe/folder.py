"""What stands in a folder: its recipe files, and the cook's own rows of the ingredient table."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pipeline.measure.ingredients import Row
from pipeline.measure.rows import rows_from
from pipeline.recipe.problem import Problem, SourceError
from pipeline.recipe.settings import read_ingredients
from pipeline.recipe.span import Span

NAMES = ("recipe.yaml", "recipe.yml")


def recipe_paths(paths: Iterable[Path]) -> list[Path]:
    """The recipe files that ``paths`` name, sorted, each once: a file, a recipe's folder, or a folder of recipes at
    any depth (hidden folders are left out). Raises SourceError for a path that is not there or holds no recipe."""
    found: dict[Path, Path] = {}
    problems: list[Problem] = []
    for path in paths:
        here = _in(path) if path.is_dir() else [path] if path.is_file() else None
        if here is None:
            problems.append(_problem(path, "there is no such file or folder"))
        elif not here:
            problems.append(_problem(path, "there is no recipe.yaml in this folder"))
        for file in here or ():
            found.setdefault(file.resolve(), file)
    if problems:
        raise SourceError(problems)
    return sorted(found.values())


def _in(folder: Path) -> list[Path]:
    for name in NAMES:
        if (folder / name).is_file():
            return [folder / name]
    return [
        file
        for name in NAMES
        for file in folder.rglob(name)
        if file.is_file() and not any(part.startswith(".") for part in file.relative_to(folder).parts)
    ]


def _problem(path: Path, message: str) -> Problem:
    return Problem(Span(str(path), 1, 1, 0, 0), message)


def own_rows(path: Path) -> list[Row]:
    """The rows of content/ingredients.yaml; none where there is no such file. Raises SourceError."""
    data, places, source = read_ingredients(path)
    rows, wrong = rows_from(data, str(path))
    if wrong:
        raise SourceError(
            [source.problem(places[p.at].get(p.key, places[p.at][""]), p.message, p.help) for p in wrong],
            source.text,
        )
    return rows
