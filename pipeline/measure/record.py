"""Records: the immutable types that a check meets are named tuples; a data class costs eight times as much to define.

A check of one recipe defines some eighty of them, which as data classes took a fifth of its whole time (measured).
"""

from __future__ import annotations

from typing import Any, TypeVar

R = TypeVar("R")


def replace(record: R, **changes: Any) -> R:
    """A copy of a record (named tuple or data class) with these fields changed.

    Raises ValueError or TypeError for a name that is no field of it.
    """
    if isinstance(record, tuple):
        return record._replace(**changes)  # type: ignore[attr-defined,no-any-return]
    import dataclasses  # not before it is needed: it brings `inspect` along

    return dataclasses.replace(record, **changes)  # type: ignore[type-var]
