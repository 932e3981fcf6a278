"""Sharing much work out among the processors, where the system can fork; one after the other where it can't."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from pipeline.proof.crew import Crew

R = TypeVar("R")


def shared(work: Callable[[int], R], count: int, worth: int) -> Iterator[R]:
    """``work(0)`` to ``work(count - 1)``, in order, by several processes from ``worth`` pieces on.

    ``work`` may be any closure; what it returns must pickle. What it raises is raised here.
    """

    def first(index: int) -> tuple[None, R]:
        return None, work(index)

    def answer(kept: None, question: None) -> None:
        """Nothing is asked afterwards."""

    with Crew(first, answer, count, worth) as crew:
        yield from crew.told()
