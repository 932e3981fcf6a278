"""The preview: answers to this machine only, from a table and never from a path; drafts and findings in the page."""

from __future__ import annotations

import http.client
import json
import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from queue import Queue
from threading import Event, Thread

import pytest

from pipeline.preview.serve import PreviewError, preview

ROOT = Path(__file__).parents[2]
SOUP = """\
title: Plain Soup
slug: soup
published: 2026-10-01
yield: serves 4
ingredients:
  - 650 g or 2 3/4 cups water
  - 480 g or 2 cups all-purpose flour
steps:
  - text: Boil {water}.
  - text: Stir in {all-purpose flour} for {10 min or 1 hour}.
"""


class Running:
    def __init__(self, folder: Path, port: int) -> None:
        self.folder, self.port = folder, port
        self.recipe = folder / "content" / "recipes" / "soup" / "recipe.yaml"

    def get(self, path: str, host: str | None = None, method: str = "GET") -> tuple[int, str, dict[str, str]]:
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        link.putrequest(method, path, skip_host=True)
        link.putheader("Host", host if host is not None else f"127.0.0.1:{self.port}")
        link.endheaders()
        answer = link.getresponse()
        body = answer.read().decode("utf-8", "replace")
        link.close()
        return answer.status, body, {k.lower(): v for k, v in answer.getheaders()}

    def data(self, path: str) -> dict[str, object]:
        found = re.search(r'id="desk-data">(.*?)</script>', self.get(path)[1])
        assert found is not None
        told: dict[str, object] = json.loads(found[1])
        return told

    def save(self, text: str, path: Path | None = None) -> None:
        """Write and wait for the news."""
        since = self.data("/")["version"]
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        link.request("GET", f"/-/news?since={since}")
        answer = link.getresponse()
        assert answer.headers["Content-Type"] == "text/event-stream"
        target = path or self.recipe
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
        while b"event: saved" not in answer.readline():
            pass
        link.close()


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    folder = tmp_path / "kitchen"
    recipes = folder / "content" / "recipes"
    (recipes / "soup").mkdir(parents=True)
    (recipes / "soup" / "recipe.yaml").write_text(SOUP, "utf-8")
    shutil.copytree(ROOT / "content" / "recipes" / "cocoa-oat-squares", recipes / "cocoa-oat-squares")
    (folder / "templates" / "assets").mkdir(parents=True)
    (tmp_path / "secret.txt").write_text("secret", "utf-8")
    (folder / "templates" / "assets" / "leak.txt").symlink_to(tmp_path / "secret.txt")
    stop, ports = Event(), Queue[int]()
    thread = Thread(target=preview, args=(folder, 0, lambda line: None, stop, ports.put))
    thread.start()
    try:
        yield Running(folder, ports.get(timeout=30))
    finally:
        stop.set()
        thread.join(10)
        assert not thread.is_alive()


def test_pages_assets_and_pictures_are_answered(running: Running) -> None:
    for path, kind in (
        ("/", "text/html"),
        ("/archive.html", "text/html"),
        ("/recipes/soup.html", "text/html"),
        ("/print/soup.html", "text/html"),
        ("/pantry.html?x=1", "text/html"),
        ("/feed.xml", "application/xml"),
        ("/assets/site.css", "text/css"),
        ("/assets/kitchen.js", "text/javascript"),
        ("/assets/finder_data.js", "text/javascript"),
        ("/-/desk.js", "text/javascript"),
    ):
        status, body, headers = running.get(path)
        assert status == 200 and body, path
        assert headers["content-type"].startswith(kind), path
    page = running.get("/recipes/cocoa-oat-squares.html")[1]
    photo = re.search(r'src="\.\.(/photos/[^"]+)"', page)
    assert photo is not None
    status, _, headers = running.get(photo[1])
    assert status == 200 and headers["content-type"] == "image/jpeg"
    assert running.get("/no-such-page.html")[0] == 404


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/assets/../../../secret.txt",
        "/assets/..%2f..%2fsecret.txt",
        "/photos/../../content/channel.yaml",
        "/photos//etc/passwd",
        "//etc/passwd",
        "/content/recipes/soup/recipe.yaml",
        "/assets/leak.txt",
        "/-/../serve.py",
        "/-/serve.py",
        "/recipes/%00.html",
    ],
)
def test_no_path_leads_out(path: str, running: Running) -> None:
    status, body, _ = running.get(path)
    assert status == 404, path
    assert "root:" not in body and body.strip() != "secret" and "import" not in body and "yield: serves" not in body


@pytest.mark.parametrize("host", ["evil.example", "evil.example:80", "127.0.0.1.evil.example", "", "localhost:1"])
def test_another_name_is_refused(host: str, running: Running) -> None:
    status, body, _ = running.get("/", host)
    assert status == 403 and "Plain Soup" not in body


def test_this_machines_names_are_answered(running: Running) -> None:
    for name in ("localhost", "127.0.0.1", "LOCALHOST"):
        assert running.get("/", f"{name}:{running.port}")[0] == 200
    assert running.get("/", method="POST")[0] == 501
    assert running.get("/", method="HEAD")[1] == ""


def test_findings_stand_beside_their_lines(running: Running) -> None:
    status, page, _ = running.get("/recipes/soup.html")
    assert status == 200
    told = running.data("/recipes/soup.html")["findings"]
    assert isinstance(told, list)
    places = {f["check"]: f["place"] for f in told}
    assert places["pair-disagrees"] == {"part": 0, "row": 1}
    assert places["time-disagrees"] == {"step": 2}
    lines = {f["check"]: f["line"] for f in told}
    assert (lines["pair-disagrees"], lines["time-disagrees"]) == (7, 10)
    # Without script they are all in the strip.
    strip = unescape(page[page.index("<aside class=") : page.index("</aside>")])
    assert "different amounts of all-purpose flour" in strip and "line 7" in strip
    assert "connect-src 'self'" in page and "unsafe" not in page


def test_a_draft_is_shown_and_said_to_be_one(running: Running) -> None:
    page = running.get("/recipes/cocoa-oat-squares.html")[1]
    assert "a draft: it stays out" in page
    assert running.data("/")["drafts"] == ["cocoa-oat-squares"]
    assert "a draft" not in running.get("/recipes/soup.html")[1].split("</aside>")[0]


def test_a_save_shows_at_once(running: Running) -> None:
    running.save(SOUP.replace("Plain Soup", "Clear Soup"))
    assert "Clear Soup" in running.get("/recipes/soup.html")[1]
    assert "Clear Soup" in running.get("/archive.html")[1]
    running.save("title: [broken\n")
    status, page, _ = running.get("/recipes/soup.html")
    assert status == 200 and "cannot be read" in page and "source-unreadable" in page
    running.save(SOUP)
    assert "Plain Soup" in running.get("/recipes/soup.html")[1]
    # A new recipe, a template, the settings.
    new = running.folder / "content" / "recipes" / "toast" / "recipe.yaml"
    running.save("title: Toast\nslug: toast\ningredients: [bread]\nsteps: [Toast it.]\n", new)
    assert running.get("/recipes/toast.html")[0] == 200
    running.save("home:\n  lately: Of late\n", running.folder / "templates" / "words.yaml")
    assert "Of late" in running.get("/")[1]
    running.save("name: Another Kitchen\n", running.folder / "content" / "channel.yaml")
    assert "Another Kitchen" in running.get("/recipes/soup.html")[1]
    running.save("{% nonsense %}", running.folder / "templates" / "recipe.html.j2")
    status, page, _ = running.get("/recipes/soup.html")
    assert status == 500 and "recipe.html.j2:1" in page


def test_what_cannot_start_says_why(tmp_path: Path, running: Running) -> None:
    with pytest.raises(PreviewError, match="no content/ folder"):
        preview(tmp_path / "empty")
    with pytest.raises(PreviewError, match=r"cannot be had.*--port"):
        preview(running.folder, running.port, stop=Event())
    with pytest.raises(PreviewError, match="no port"):
        preview(running.folder, 99999)
