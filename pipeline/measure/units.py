"""Units of the kitchen: their names, their exact factors, and the reader's own cup and spoon.

Factors come from ``data/kitchen.txt`` (pint's grammar) and are kept as exact fractions. Importing pint costs
more than a whole check, so the factors that pint computes stand in ``data/factors.json``; a test holds the two
together and ``python -m pipeline.measure.registry`` writes the file anew.
"""

from __future__ import annotations

import csv
import json
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Literal, NamedTuple

Kind = Literal["mass", "volume", "length", "count"]
Standard = Literal["us", "us-label", "metric", "australian", "imperial"]
STANDARDS: tuple[Standard, ...] = ("us", "us-label", "metric", "australian", "imperial")

# Which registry unit a cook's word stands for under each standard. Metric cooks have no pint of their own,
# so theirs is the imperial one.
_PREFIX: dict[Standard, dict[str, str]] = {
    "us": dict.fromkeys(("cup", "tablespoon", "teaspoon", "fluid ounce", "pint", "quart", "gallon"), "us"),
    "us-label": dict.fromkeys(("cup", "tablespoon", "teaspoon", "fluid ounce", "pint", "quart", "gallon"), "label"),
    "metric": {
        **dict.fromkeys(("cup", "tablespoon", "teaspoon", "fluid ounce"), "metric"),
        **dict.fromkeys(("pint", "quart", "gallon"), "imperial"),
    },
    "australian": {
        **dict.fromkeys(("cup", "teaspoon", "fluid ounce"), "metric"),
        "tablespoon": "australian",
        **dict.fromkeys(("pint", "quart", "gallon"), "imperial"),
    },
    "imperial": dict.fromkeys(("cup", "tablespoon", "teaspoon", "fluid ounce", "pint", "quart", "gallon"), "imperial"),
}


class Unit(NamedTuple):
    """A unit as a cook writes it.

    ``name`` is the singular in full ("tablespoon"), ``symbol`` the short print form ("tbsp"), ``kind`` what it
    measures. A count unit ("stick", "clove") has no factor; the bare count is :data:`EACH`. ``whose`` is the standard
    that was named with it ("1 metric cup"): it holds whatever the reader's own is.
    """

    name: str
    plural: str
    symbol: str
    kind: Kind
    whose: Standard | None = None


EACH = Unit("", "", "", "count")


def _data(name: str) -> str:
    return (Path(__file__).parent / "data" / name).read_text(encoding="utf-8")


@cache
def _units() -> tuple[dict[str, Unit], dict[str, Unit]]:
    by_name: dict[str, Unit] = {}
    by_spelling: dict[str, Unit] = {}
    rows = (line for line in _data("units.csv").splitlines() if not line.startswith("#"))
    for row in csv.DictReader(rows, quoting=csv.QUOTE_NONE):
        unit = Unit(row["name"], row["plural"], row["symbol"], row["kind"])  # type: ignore[arg-type]
        by_name[unit.name] = unit
        for spelling in (unit.name, unit.plural, *row["spellings"].split(";")):
            by_spelling.setdefault(spelling, unit)
    return by_name, by_spelling


def unit(name: str) -> Unit:
    """The unit of that full singular name. Raises KeyError for an unknown one."""
    return _units()[0][name]


# The words that name a standard before a measure ("1 imperial pint"), and how it is then printed.
WHOSE: dict[str, tuple[Standard, str]] = {
    "us": ("us", "US"), "u.s": ("us", "US"), "u.s.": ("us", "US"), "american": ("us", "US"), "usa": ("us", "US"),
    "metric": ("metric", "metric"),
    "australian": ("australian", "Australian"), "aussie": ("australian", "Australian"),
    "au": ("australian", "Australian"), "aus": ("australian", "Australian"),
    "imperial": ("imperial", "imperial"), "imp": ("imperial", "imperial"), "imp.": ("imperial", "imperial"),
    "uk": ("imperial", "imperial"), "u.k.": ("imperial", "imperial"), "british": ("imperial", "imperial"),
    "english": ("imperial", "imperial"),
}  # fmt: skip


@cache
def named(u: Unit, word: str) -> Unit | None:
    """The unit as ``word`` ("metric", "US") has it, or None where no standard differs on it (a gram, a litre)."""
    found = WHOSE.get(word.lower())
    if found is None or u.name not in _PREFIX["us"]:
        return None
    whose, said = found
    many = u.plural if u.symbol == u.name else u.symbol
    return u._replace(plural=f"{said} {many}", symbol=f"{said} {u.symbol}", whose=whose)


def unit_names() -> tuple[str, ...]:
    return tuple(_units()[0])


def spellings() -> dict[str, Unit]:
    """Every known spelling (lower case, no dots) and its unit."""
    return _units()[1]


def find_unit(word: str) -> Unit | None:
    """The unit a written word stands for, or None: dots, capitals and a plural s are forgiven.

    Case matters in one place only, as on a cook's card: ``T`` is a tablespoon, ``t`` a teaspoon.
    """
    bare = " ".join(word.replace(".", " ").split())
    if bare == "T" or (bare[:1] == "T" and bare[1:] in ("b", "bs", "bsp")):
        return unit("tablespoon")
    if bare == "t":
        return unit("teaspoon")
    low = bare.lower()
    table = spellings()
    found = table.get(low)
    if found is None and low.endswith("s"):
        found = table.get(low[:-1])
    return found


@cache
def _factors() -> dict[str, Fraction]:
    return {name: Fraction(value) for name, value in json.loads(_data("factors.json")).items()}


@cache
def factor(u: Unit, standard: Standard = "us") -> Fraction:
    """How many grams, millilitres or millimetres one of ``u`` is, exactly.

    ``standard`` says whose cup and spoon, unless the unit says so itself. Raises ValueError for a unit of count, which
    has no size of its own.
    Sources stand beside each definition in ``data/kitchen.txt``.
    """
    if u.kind == "count":
        raise ValueError(f"{u.name or 'a count'} has no fixed size")
    prefix = _PREFIX[u.whose or standard].get(u.name)
    key = f"{prefix}_{u.name.replace(' ', '_')}" if prefix else u.name
    return _factors()[key]
