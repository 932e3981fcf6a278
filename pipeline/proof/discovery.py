"""Finding the checks: every module in ``proof/checks/`` holds one, and a broken one stops everything loudly."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType

from pipeline.proof import checks as house
from pipeline.proof.finding import Check


class BrokenCheckError(RuntimeError):
    """A programmer's mistake in a check's file. It is raised, never skipped: a check must not vanish silently."""


def collect(modules: Iterable[ModuleType]) -> tuple[Check, ...]:
    """The checks of these modules, sorted by id.

    Raises BrokenCheckError where a module has no ``CHECK``, where its file is not named after the check's id
    (``pair-disagrees`` lives in ``pair_disagrees.py``) or where two checks share an id.
    """
    found: dict[str, str] = {}
    result: list[Check] = []
    for module in modules:
        check = getattr(module, "CHECK", None)
        if not isinstance(check, Check):
            raise BrokenCheckError(f"{module.__name__} holds no CHECK")
        if check.id in found:
            raise BrokenCheckError(f"{module.__name__} and {found[check.id]} both hold the check {check.id!r}")
        if check.id.replace("-", "_") != module.__name__.rpartition(".")[2]:
            raise BrokenCheckError(f"{module.__name__} holds the check {check.id!r}: name the file after the check")
        found[check.id] = module.__name__
        result.append(check)
    return tuple(sorted(result, key=lambda c: c.id))


@cache
def checks() -> tuple[Check, ...]:
    """All checks, sorted by id. Raises whatever importing one of them raises, and BrokenCheckError."""
    # pkgutil would find them as well, at the price of importing inspect, ast and dis
    names = sorted(file.stem for place in house.__path__ for file in Path(place).glob("[!_]*.py"))
    if not names:
        raise BrokenCheckError("no checks found")
    return collect(import_module(f"{house.__name__}.{name}") for name in names)
