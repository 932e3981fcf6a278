"""Rows of the ingredient table: as the shipped file has them, and as a cook adds her own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, NamedTuple, get_args

from pipeline.measure.ingredients import Form, Row, Weight

COLUMNS = ("name", "state", "aliases", "low", "typical", "high", "counts", "form", "source", "note")
OWN_KEYS = ("name", "state", "aliases", "cup", "tablespoon", "teaspoon", "counts", "form", "source")
_PER_CUP = {"cup": 1, "tablespoon": 16, "teaspoon": 48}
_NUMBER = re.compile(r"\d{1,6}(?:[.,]\d{1,4})?")
_FIGURE, _TO = r"(\d[\d,]*(?:\.\d+)?)", r"\s*(?:\.\.|-|–|to)\s*"
_WEIGHT = re.compile(rf"\s*{_FIGURE}(?:{_TO}{_FIGURE})?(?:{_TO}{_FIGURE})?\s*g?\s*")
# A cook who gives one figure has weighed one cup; the next one may differ this much (common practice, no source).
_OWN_SPREAD = Fraction(1, 20)


class RowProblem(NamedTuple):
    """What is wrong with one of a cook's own rows: its index in the list, the key (or "" for the whole row)."""

    at: int
    key: str
    message: str
    help: str


def number(text: str) -> Fraction | None:
    """An exact number from "226.8" or "226,8"; None where the text is no plain positive number."""
    if not _NUMBER.fullmatch(text):
        return None
    whole, _, part = text.replace(",", ".").partition(".")
    return Fraction(int(whole + part), 10 ** len(part)) if part else Fraction(int(whole))


def read_weight(text: str, spread: Fraction = Fraction(0)) -> Weight | None:
    """ "44", "40..48", "40..44..48" or "40-48" as a Weight in grams, or None. ``spread`` widens a single figure."""
    found = _WEIGHT.fullmatch(text)
    if found is None:
        return None
    parts = [number(g) for g in found.groups() if g is not None]
    values = [p for p in parts if p is not None and p > 0]
    if len(values) != len(parts) or values != sorted(values):
        return None
    if len(values) == 1:
        return Weight(values[0] * (1 - spread), values[0], values[0] * (1 + spread))
    if len(values) == 2:
        return Weight(values[0], (values[0] + values[1]) / 2, values[1])
    return Weight(values[0], values[1], values[2])


def split(cell: str) -> tuple[str, ...]:
    """The parts of a cell with ";" between them."""
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def read_row(cells: Sequence[str], place: str) -> Row:
    """One line of the shipped file (:data:`COLUMNS`) as a Row. Raises ValueError where a cell breaks its grammar."""
    name, state, aliases, low, typical, high, counts, form, source, note = cells
    cup = read_weight(f"{low}..{typical}..{high}") if typical else None
    if typical and cup is None:
        raise ValueError(f"{place}: low, typical, high of {name} are not three rising numbers")
    if form not in get_args(Form):
        raise ValueError(f"{place}: {form!r} is no form")
    pieces: dict[str, Weight] = {}
    for part in split(counts):
        word, _, figure = part.partition("=")
        weight = read_weight(figure)
        if weight is None:
            raise ValueError(f"{place}: {part!r} is no count weight")
        pieces["" if word == "each" else word] = weight
    return Row(name, state, split(aliases), cup, pieces, form, source, place, note)  # type: ignore[arg-type]


def rows_from(data: Sequence[Mapping[str, Any]], place: str) -> tuple[list[Row], list[RowProblem]]:
    """A cook's own rows, from the list in her ingredients file; all problems at once, good rows kept.

    Keys of each entry: ``name`` (needed); ``state``; ``aliases`` (one or a list); one of ``cup``, ``tablespoon``,
    ``teaspoon``: grams, "150", a range "140-160", or low..typical..high; ``counts``: grams of a piece by its word
    ("each" for the thing itself, "large", "clove"); ``form``: liquid, dry or solid; ``source``.
    ``place`` names the file, for messages.
    """
    rows: dict[tuple[str, str], Row] = {}
    problems: list[RowProblem] = []
    for index, entry in enumerate(data):
        row, wrong = _own_row(index, entry, place)
        problems += wrong
        if row is None:
            continue
        if (row.name, row.state) in rows:
            what = f"{row.state} {row.name}".strip()
            problems.append(RowProblem(index, "name", f"`{what}` stands here twice", "keep one of the two"))
        rows.setdefault((row.name, row.state), row)
    return list(rows.values()), problems


def _own_row(index: int, entry: Mapping[str, Any], place: str) -> tuple[Row | None, list[RowProblem]]:
    problems: list[RowProblem] = []

    def wrong(key: str, message: str, help: str) -> None:
        problems.append(RowProblem(index, key, message, help))

    if not isinstance(entry, Mapping):
        wrong("", "this entry is not a mapping", "write `- name: spelt flour` and `cup: 115` below it")
        return None, problems
    for key in entry:
        if key not in OWN_KEYS:
            wrong(str(key), f"`{key}` is not a key of an ingredient", "keys: " + ", ".join(OWN_KEYS))
    name = _words(entry.get("name"))
    if not name:
        wrong("name", "an ingredient needs a name", "write `name: spelt flour`")
    given = [key for key in _PER_CUP if entry.get(key) is not None]
    if len(given) > 1:
        wrong(given[1], f"`{given[0]}` and `{given[1]}` both give the weight", f"keep `{given[0]}`")
    cup: Weight | None = None
    for key in given[:1]:
        weight = read_weight(str(entry[key]), _OWN_SPREAD) if not isinstance(entry[key], bool) else None
        if weight is None:
            wrong(key, f"`{entry[key]}` is not a weight in grams", f"write `{key}: 150` or `{key}: 140-160`")
        else:
            n = _PER_CUP[key]
            cup = Weight(weight.low * n, weight.typical * n, weight.high * n)
            if cup.typical < 2 or cup.typical > 700:
                wrong(key, f"{entry[key]} g a {key} is no kitchen weight", "a cup of water weighs 237 g")
    counts = dict(_own_counts(entry.get("counts"), wrong))
    if not given and not counts:
        wrong("", "this ingredient has no weight", "write `cup: 150`, or `counts:` with `each: 50` below it")
    form = str(entry.get("form") or "dry")
    if form not in get_args(Form):
        wrong("form", f"`{form}` is not a form", "write liquid, dry or solid")
    aliases = entry.get("aliases") or ()
    if isinstance(aliases, str):
        aliases = split(aliases)
    if problems:
        return None, problems
    names = tuple(_words(alias) for alias in aliases)
    source = str(entry.get("source") or f"own figure in {place}")
    state = _words(entry.get("state"))
    return Row(name, state, names, cup, counts, form, source, place), []  # type: ignore[arg-type]


def _words(value: Any) -> str:
    return " ".join(str(value).lower().split()) if value is not None else ""


def _own_counts(value: Any, wrong: Any) -> Iterator[tuple[str, Weight]]:
    if value is None:
        return
    if not isinstance(value, Mapping):
        wrong("counts", "`counts` is not a mapping", "write `counts:` and below it `large: 50`")
        return
    for word, figure in value.items():
        weight = read_weight(str(figure), _OWN_SPREAD) if not isinstance(figure, bool) else None
        if weight is None:
            wrong("counts", f"`{word}: {figure}` is not a weight in grams", f"write `{word}: 50` or `{word}: 45-55`")
        else:
            yield ("" if _words(word) == "each" else _words(word)), weight
