"""A small site, stored whole: every change of what is built shows in review.

Refresh after a wanted change with ``LEVELCUP_GOLDEN=write python -m pytest tests/site/test_golden.py`` and read the
difference. The stored files are recorded from a run; that they are right is for the other tests to say.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel, Link
from pipeline.recipe.read import read
from pipeline.site.build import build
from pipeline.site.post import post_text

HERE = Path(__file__).parent
GOLDEN = HERE / "golden"


def test_the_small_site_is_as_stored(table: Table, tmp_path: Path) -> None:
    recipes = [read(path) for path in sorted((HERE / "small").glob("*/recipe.yaml"))]
    assert len(recipes) == 3
    channel = Channel(
        name="The Tin Whisk",
        tagline="Small & plain.",
        address="https://the-tin-whisk.example/kitchen",
        fan=True,
        paper="a4",
        footer="Weigh what you can.",
        social=(Link("Elsewhere", "https://social.example/@tin"),),
    )
    out = build(recipes, channel, table, tmp_path / "site_out").out
    (out / "post.txt").write_text(post_text(recipes[0], channel, table).text, "utf-8")
    built = {
        p.relative_to(out).as_posix(): p.read_text("utf-8")
        for p in sorted(out.rglob("*"))
        if p.suffix in (".html", ".xml", ".txt") and "fonts" not in p.parts
    }
    if os.environ.get("LEVELCUP_GOLDEN") == "write":
        shutil.rmtree(GOLDEN, ignore_errors=True)
        for name, text in built.items():
            (GOLDEN / name).parent.mkdir(parents=True, exist_ok=True)
            (GOLDEN / name).write_text(text, "utf-8")
    stored = {p.relative_to(GOLDEN).as_posix(): p.read_text("utf-8") for p in GOLDEN.rglob("*") if p.is_file()}
    assert set(built) == set(stored)
    for name, text in built.items():
        assert text == stored[name], name
