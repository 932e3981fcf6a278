"""How long a whole build of 1,000 recipes takes beside the bare work in it, in one run.

    python tests/bench/site_build.py [RECIPES]

Bare: the same files of YAML loaded by PyYAML's C loader, and the same templates read and rendered with their contexts
at hand, in one process; nothing is written. Ours: reading, building the contexts, rendering, writing and swapping in,
as `levelcup publish` does it, in as many processes as there are processors. The aim is a ratio of at most 2. Checking,
which bare work has not, is told beside it, and so is writing the same files and nothing else: some disks take a
millisecond for each new file. "Work" is processor time, of all processes together: no second processor makes it less.
"""

from __future__ import annotations

import gc
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from many import make

import pipeline.site.build as site
from pipeline.measure.lookup import Table, load
from pipeline.proof.crew import Crew
from pipeline.proof.prove import sheets_of
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read
from pipeline.site.build import Report, build
from pipeline.site.compose import Composer
from pipeline.site.own import Cover, Own
from pipeline.site.theme import Theme


class Time(NamedTuple):
    """Seconds by the clock, and of work by the processors."""

    clock: float
    work: float

    def __add__(self, other: Any) -> Time:
        return Time(self.clock + other.clock, self.work + other.work)


def timed(what: Callable[[], Any]) -> tuple[Time, Any]:
    def work() -> float:
        return sum(sum(resource.getrusage(who)[:2]) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))

    gc.collect()
    start, spent = time.perf_counter(), work()
    result = what()
    return Time(time.perf_counter() - start, work() - spent), result


def contexts(work: Callable[[], Any]) -> list[tuple[str, dict[str, Any]]]:
    """Every (template, context) that ``work`` renders, gathered in this process."""
    found: list[tuple[str, dict[str, Any]]] = []
    plain, worth = Theme.render, site.WORTH_SHARING

    def gathering(self: Theme, name: str, context: dict[str, Any]) -> str:
        found.append((name, context))
        return plain(self, name, context)

    Theme.render, site.WORTH_SHARING = gathering, sys.maxsize  # type: ignore[method-assign]
    try:
        work()
    finally:
        Theme.render, site.WORTH_SHARING = plain, worth  # type: ignore[method-assign]
    return found


def whole(paths: Sequence[Path], channel: Channel, table: Table, out: Path) -> Report:
    """Reads and builds all, without checking."""
    theme = Theme(None)
    own = Own(theme, Composer(channel, table, theme.words))

    def first(number: int) -> tuple[Recipe, Cover]:
        recipe = read(paths[number])
        return recipe, own.cover(recipe)

    with Crew(first, own.make, len(paths), site.WORTH_SHARING, own.ready) as crew:
        ground = site.ground_of(own)
        return site.build_from(list(enumerate(crew.told())), crew, own, ground, out)


def main(count: int) -> None:
    gc.set_threshold(100_000, 50, 50)  # as the command has it (`pipeline.cli.run`)
    channel, table = Channel(name="Bench", address="https://bench.example"), load()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make(folder, count)
        paths = sorted(folder.glob("content/recipes/*/recipe.yaml"))
        # Ours comes first, in a process that has read nothing yet: nothing that it remembers can help it.
        ours, report = timed(lambda: whole(paths, channel, table, folder / "site_out"))
        again, second = timed(lambda: whole(paths, channel, table, folder / "site_out"))
        with paths[-1].open("a", encoding="utf-8") as file:
            file.write("# edited\n")
        edit, third = timed(lambda: whole(paths, channel, table, folder / "site_out"))
        checking, _ = timed(lambda: list(sheets_of(paths, channel, table)))
        recipes = [read(path) for path in paths]
        wanted = contexts(lambda: build(recipes, channel, table, folder / "first"))
        theme = Theme(None)  # has read no template yet, as ours had not
        gc.collect()
        gc.freeze()  # what is at hand shall not slow the bare work down
        parsing, _ = timed(lambda: [yaml.load(path.read_bytes(), yaml.CSafeLoader) for path in paths])
        rendering, _ = timed(lambda: [theme.render(*one) for one in wanted])
        pages = [(folder / "site_out" / name).read_bytes() for name in report.written]
        (folder / "pages").mkdir()
        writing, _ = timed(lambda: [(folder / "pages" / str(n)).write_bytes(page) for n, page in enumerate(pages)])
    bare = parsing + rendering
    print(f"{count} recipes: load {parsing.clock:.2f} s + render {rendering.clock:.2f} s = bare {bare.clock:.2f} s")
    print(f"read and build: {ours.clock:.2f} s ({ours.work:.2f} s of work), {len(report.written)} files")
    print(f"ratio {ours.clock / bare.clock:.2f} (aim: at most 2); of work {ours.work / bare.work:.2f}")
    print(f"writing as many files and nothing else: {writing.clock:.2f} s")
    print(f"reading and checking all: {checking.clock:.2f} s ({checking.work:.2f} s of work)")
    print(f"again, nothing changed: {again.clock:.2f} s, {len(second.written)} files")
    print(f"one edit: {edit.clock:.2f} s, {len(third.written)} files")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
