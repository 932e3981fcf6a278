"""How long a whole build of 1,000 recipes takes beside the bare work in it, in one run.

    python tests/bench/site_build.py [RECIPES]

Bare: the same YAML loaded by PyYAML's C loader, and the same templates rendered with their contexts at hand, in one
process. Ours: reading, building the contexts, rendering, writing and swapping in; then checking, which bare work has
not. The aim is a ratio of at most 2.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml
from many import make

from pipeline.measure.lookup import load
from pipeline.measure.record import replace
from pipeline.proof.prove import prove_all
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read
from pipeline.site import press
from pipeline.site.build import build
from pipeline.site.theme import Theme


def timed(what: Callable[[], Any]) -> tuple[float, Any]:
    start = time.perf_counter()
    result = what()
    return time.perf_counter() - start, result


def contexts(work: Callable[[], Any]) -> list[tuple[str, dict[str, Any]]]:
    """Every (template, context) that ``work`` renders, gathered in this process."""
    found: list[tuple[str, dict[str, Any]]] = []
    plain, worth = Theme.render, press.WORTH_SHARING

    def gathering(self: Theme, name: str, context: dict[str, Any]) -> str:
        found.append((name, context))
        return plain(self, name, context)

    Theme.render, press.WORTH_SHARING = gathering, sys.maxsize  # type: ignore[method-assign]
    try:
        work()
    finally:
        Theme.render, press.WORTH_SHARING = plain, worth  # type: ignore[method-assign]
    return found


def main(count: int) -> None:
    channel, table = Channel(name="Bench", address="https://bench.example"), load()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make(folder, count)
        paths = sorted(folder.glob("content/recipes/*/recipe.yaml"))
        texts = [path.read_text("utf-8") for path in paths]
        reading, recipes = timed(lambda: [read(path) for path in paths])
        wanted = contexts(lambda: build(recipes, channel, table, folder / "first"))
        theme = Theme(None)
        for template in dict(wanted).items():
            theme.render(*template)  # compiled before the clock runs
        parsing, _ = timed(lambda: [yaml.load(text, yaml.CSafeLoader) for text in texts])
        rendering, _ = timed(lambda: [theme.render(*one) for one in wanted])
        building, report = timed(lambda: build(recipes, channel, table, folder / "site_out"))
        again, second = timed(lambda: build(recipes, channel, table, folder / "site_out"))
        edited = [*recipes[:-1], replace(recipes[-1], source=recipes[-1].source + "# edited\n")]
        edit, third = timed(lambda: build(edited, channel, table, folder / "site_out"))
        checking, _ = timed(lambda: list(prove_all(paths, channel, table)))
    bare, ours = parsing + rendering, reading + building
    print(f"{count} recipes: load {parsing:.2f} s + render {rendering:.2f} s = bare {bare:.2f} s")
    print(f"read {reading:.2f} s + build {building:.2f} s = ours {ours:.2f} s, {len(report.written)} files")
    print(f"ratio {ours / bare:.2f} (aim: at most 2); reading and checking all: {checking:.2f} s")
    print(f"again, nothing changed: {again:.2f} s, {len(second.written)} files")
    print(f"one edit: {edit:.2f} s, {len(third.written)} files")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
