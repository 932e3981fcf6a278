"""Sharing much work out among the processors, where the system can fork; one after the other where it can't."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

R = TypeVar("R")

_work: Callable[[int], Any] | None = None  # what forked workers inherit; nothing is pickled but results


def _one(index: int) -> Any:
    assert _work is not None
    return _work(index)


def shared(work: Callable[[int], R], count: int, worth: int) -> Iterator[R]:
    """``work(0)`` to ``work(count - 1)``, in order, by several processes from ``worth`` pieces on.

    ``work`` may be any closure; what it returns must pickle. What it raises is raised here.
    """
    global _work
    workers = min(os.cpu_count() or 1, count // max(worth // 2, 1))
    if count < worth or workers < 2 or not hasattr(os, "fork"):
        yield from map(work, range(count))
        return
    import gc
    import multiprocessing

    # Collecting garbage in the workers would only copy memory that they share with this process.
    gc.collect()
    gc.freeze()
    _work = work
    try:
        with multiprocessing.get_context("fork").Pool(workers) as pool:
            yield from pool.imap(_one, range(count), chunksize=8)
    finally:
        _work = None
        gc.unfreeze()
