"""The kitchen registry as pint reads it: the one place where unit definitions become factors.

``python -m pipeline.measure.registry`` writes ``data/factors.json`` from ``data/kitchen.txt``.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

BASES = ("gram", "milliliter", "millimeter")


def registry() -> Any:
    """A ``pint.UnitRegistry`` that holds the kitchen's units only, with exact (Fraction) arithmetic."""
    from pint import UnitRegistry

    text = Path(__file__).parent / "data" / "kitchen.txt"
    return UnitRegistry(str(text), non_int_type=Fraction, on_redefinition="raise")


def factors() -> dict[str, Fraction]:
    """Each unit of the registry and its exact size in grams, millilitres or millimetres."""
    reg = registry()
    result: dict[str, Fraction] = {}
    for name in sorted(str(n) for n in reg._units):
        quantity = reg.Quantity(Fraction(1), name)
        base = next((b for b in BASES if quantity.is_compatible_with(b)), None)
        if base is not None and name == str(reg.Unit(name)):
            result[name] = Fraction(quantity.to(base).magnitude)
    return result


def main() -> None:
    path = Path(__file__).parent / "data" / "factors.json"
    path.write_text(json.dumps({k: str(v) for k, v in factors().items()}, indent=1) + "\n", encoding="utf-8")
    print(f"{path}: {len(factors())} units")


if __name__ == "__main__":
    main()
