"""Scores the spoken grammar on sentences that others wrote: those that PyPI quantulum3 0.10.0 (MIT) installs for tests,
``quantulum3/_lang/en_US/tests/quantities.json``. Only the kinds that a kitchen speaks of are scored: mass, volume,
temperature and time, in units that the grammar has. `python tests/film/spoken_outside.py` prints figures and misses."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from fractions import Fraction
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from spoken_scorer import transcript

from pipeline.film.spoken import Spoken, heard
from pipeline.measure.lookup import load

# Their unit names: (kind, ours). Years, kelvins, tonnes and cubic kilometres are no kitchen's units.
UNITS = {
    "gram": "gram", "kilogram": "kilogram", "milligram": "milligram", "pound-mass": "pound", "ounce": "ounce",
    "litre": "liter", "centilitre": "centiliter", "cubic centimetre": "milliliter", "gallon": "gallon", "cup": "cup",
    "tablespoon": "tablespoon", "teaspoon": "teaspoon", "degree Celsius": "C", "degree fahrenheit": "F",
    "second": "s", "minute": "min", "hour": "h", "day": "day", "week": "week", "month": "month",
}  # fmt: skip
SECONDS = {"s": 1, "min": 60, "h": 3600, "day": 86400, "week": 604800, "month": 2592000}

Key = tuple[str, Fraction, Fraction]


@dataclass
class Figures:
    sentences: int = 0
    hit: int = 0
    missed: int = 0
    wrong: int = 0
    misses: list[str] = field(default_factory=list)

    @property
    def recall(self) -> float:
        return self.hit / max(self.hit + self.missed, 1)

    @property
    def precision(self) -> float:
        return self.hit / max(self.hit + self.wrong, 1)

    def __str__(self) -> str:
        return (
            f"quantulum3's sentences: {self.sentences}, {self.hit + self.missed} quantities of our kinds: "
            f"recall {self.recall:.1%}, precision {self.precision:.1%}"
        )


def corpus() -> Path | None:
    """The installed file, or None where the package is not installed."""
    try:
        found = distribution("quantulum3").locate_file("quantulum3/_lang/en_US/tests/quantities.json")
    except PackageNotFoundError:
        return None
    return Path(str(found))


def _wanted(quantity: dict[str, object]) -> Key | None:
    ours = UNITS.get(str(quantity["unit"]))
    if ours is None:
        return None
    value = Fraction(str(quantity["value"])).limit_denominator(1000)
    spread = Fraction(str(quantity.get("uncertainty") or 0))
    if ours in SECONDS:
        return ("time", (value - spread) * SECONDS[ours], (value + spread) * SECONDS[ours])
    return (ours, value - spread, value + spread)


def _keys(said: Spoken) -> list[Key]:
    keys: list[Key] = [(a.unit.name, a.low, a.high) for a in said.amounts if a.unit.kind in ("mass", "volume")]
    keys += [(h.scale, min(h.low, h.high), max(h.low, h.high)) for h in said.heats]
    return keys + [("time", Fraction(t.low), Fraction(t.high)) for t in said.times]


def _shown(keys: list[Key]) -> str:
    return ", ".join(f"{k} {float(a)}..{float(b)}" for k, a, b in keys) or "nothing"


def score(path: Path) -> Figures:
    """Figures over all sentences; what is heard in a sentence and not listed there is wrong."""
    table, total = load(), Figures()
    for entry in json.loads(path.read_text(encoding="utf-8")):
        total.sentences += 1
        wanted = [key for q in entry["res"] if (key := _wanted(q)) is not None]
        left = [key for said in heard(transcript(entry["req"]), table) for key in _keys(said)]
        missed = []
        for key in wanted:
            if key in left:
                left.remove(key)
                total.hit += 1
            else:
                missed.append(key)
        total.missed += len(missed)
        total.wrong += len(left)
        if missed or left:
            total.misses.append(f"{entry['req']}\n    missed {_shown(missed)} wrong {_shown(left)}")
    return total


if __name__ == "__main__":
    file = corpus()
    if file is None:
        raise SystemExit("quantulum3 is not installed: pip install quantulum3==0.10.0")
    figures = score(file)
    print("\n".join([*figures.misses, str(figures)]))
