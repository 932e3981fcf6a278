"""From a save to the page in hand: one recipe of many edited while the preview stands, beside the bare work in it.

    python tests/bench/preview_reload.py [RECIPES]

Bare: reading and checking that one recipe and rendering its one page. Ours: from the file's being written to the last
byte of the reloaded page, the watcher's news in between. The aim is under 300 ms for one recipe of 1,000.
"""

from __future__ import annotations

import http.client
import re
import sys
import tempfile
import time
from pathlib import Path
from queue import Queue
from statistics import median
from threading import Event, Thread

from pipeline.measure.lookup import load
from pipeline.preview.serve import preview
from pipeline.proof.prove import prove
from pipeline.recipe.channel import Channel
from pipeline.site.compose import Composer
from pipeline.site.paper import render_paper
from pipeline.site.sheet import Desk
from pipeline.site.theme import Theme

CONTENT = Path(__file__).parents[2] / "content" / "recipes"


def lay_out(folder: Path, count: int) -> Path:
    """``count`` recipes without pictures below ``folder``; one of them is the one to edit."""
    texts = [path.read_text("utf-8") for path in sorted(CONTENT.glob("*/recipe.yaml"))]
    plain = [re.sub(r"(?m)^ +photo:\n( {6,}.*\n)+", "", re.sub(r"(?ms)^photos:.*", "", text)) for text in texts]
    for i in range(count):
        path = folder / "content" / "recipes" / f"recipe-{i}" / "recipe.yaml"
        path.parent.mkdir(parents=True)
        text = re.sub(r"(?m)^slug:.*$", f"slug: recipe-{i}", plain[i % len(plain)])
        path.write_text(re.sub(r"(?m)^ +captions:.*\n", "", text), "utf-8")
    return path


def main(count: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = lay_out(folder, count)
        slug = path.parent.name
        stop, ports = Event(), Queue[int]()
        start = time.perf_counter()
        thread = Thread(target=preview, args=(folder, 0, lambda line: None, stop, ports.put))
        thread.start()
        port = ports.get()
        opening = time.perf_counter() - start

        table, channel, theme = load(), Channel(), Theme(None)
        composer, desk = Composer(channel, table, theme.words), Desk(theme, channel, "")
        bare, ours = [], []
        for turn in range(7):
            text = re.sub(r"(?m)^title:.*$", f"title: Turn number {turn}", path.read_text("utf-8"))
            news = http.client.HTTPConnection("127.0.0.1", port)
            news.request("GET", f"/-/news?since={turn + 1}")
            stream = news.getresponse()
            time.sleep(0.2)
            start = time.perf_counter()
            path.write_text(text, "utf-8")
            while b"event: saved" not in stream.readline():
                pass
            page = http.client.HTTPConnection("127.0.0.1", port)
            page.request("GET", f"/recipes/{slug}.html")
            assert f"Turn number {turn}".encode() in page.getresponse().read()
            ours.append(time.perf_counter() - start)
            news.close()
            page.close()

            # Afterwards, so that the first reload meets what a cook's first save meets.
            start = time.perf_counter()
            proven = prove(path, channel, table)
            assert proven.recipe is not None
            view = composer.recipe(proven.recipe, {})
            render_paper(desk, view, "")
            bare.append(time.perf_counter() - start)
        stop.set()
        thread.join()
    print(f"{count} recipes, opened in {opening:.1f} s")
    print(f"the first reload {ours[0] * 1000:.0f} ms")
    print(f"bare {median(bare) * 1000:.0f} ms; save to page {median(ours) * 1000:.0f} ms (most {max(ours) * 1000:.0f})")
    print(f"ratio {median(ours) / median(bare):.1f}; share of 300 ms: {median(ours) / 0.3:.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
