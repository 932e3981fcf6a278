"""A progress bar for long work: only on a terminal, only where the work is long enough to wait for."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Tell = Callable[[str, int, int], None]
_LONG = 20  # fewer pieces of work are done before a bar could be read


@contextmanager
def progress() -> Iterator[Tell]:
    """Gives a function ``tell(what, done, total)`` that draws the bar on stderr, or does nothing."""
    if not sys.stderr.isatty():
        yield lambda what, done, total: None
        return
    bar: list[object] = []
    tasks: dict[str, object] = {}

    def tell(what: str, done: int, total: int) -> None:
        if total < _LONG and not bar:
            return
        from rich.console import Console
        from rich.progress import Progress

        if not bar:
            started = Progress(console=Console(stderr=True), transient=True)
            started.start()
            bar.append(started)
        shown: Progress = bar[0]  # type: ignore[assignment]
        if what not in tasks:
            tasks[what] = shown.add_task(what, total=total)
        shown.update(tasks[what], completed=done, total=total)  # type: ignore[arg-type]

    try:
        yield tell
    finally:
        if bar:
            bar[0].stop()  # type: ignore[attr-defined]
