"""The built folder: only what depends on a change is made anew, nothing is lost, and the last good site stays whole."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site import files
from pipeline.site.build import Report, build
from pipeline.site.errors import BadTemplateError, SiteError
from pipeline.site.manifest import read_manifest
from pipeline.site.press import WORTH_SHARING

Small = Callable[..., Recipe]


def tree(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def pages(report: Report) -> set[str]:
    return {name for name in report.written if not name.startswith("assets/")}


@pytest.fixture
def made(tmp_path: Path, channel: Channel, table: Table) -> Callable[..., Report]:
    def make(*recipes: Recipe, out: str = "site_out", **options: object) -> Report:
        chosen = options.pop("channel", channel)
        return build(recipes, chosen, table, tmp_path / out, **options)  # type: ignore[arg-type]

    return make


def test_a_second_build_changes_nothing(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    first = made(small("a"), small("b"))
    before = tree(tmp_path / "site_out")
    second = made(small("a"), small("b"))
    assert first.recipes == second.recipes == 2
    assert second.written == second.removed == ()
    assert tree(tmp_path / "site_out") == before


def test_the_same_sources_give_the_same_bytes_elsewhere(
    small: Small, made: Callable[..., Report], tmp_path: Path
) -> None:
    made(small("a"), small("b"), out="one")
    made(small("b"), out="two")
    made(small("b"), small("a"), out="two")  # another order, another history
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_an_edit_touches_what_depends_on_it(small: Small, made: Callable[..., Report]) -> None:
    made(*(small(f"r{i}", day=i + 1) for i in range(25)))
    # An old recipe's notes: on its page only. Home, archive and feed do not show them; the feed has the newest twenty.
    report = made(small("r0", day=1, more="notes: [salt it]\n"), *(small(f"r{i}", day=i + 1) for i in range(1, 25)))
    assert pages(report) == {"recipes/r0.html", "print/r0.html"}
    # A new one's title: everywhere that it is named.
    more = [small(f"r{i}", day=i + 1) for i in range(1, 24)]
    report = made(small("r0", day=1, more="notes: [salt it]\n"), *more, small("r24", "New", day=25))
    named = {"index.html", "archive.html", "feed.xml", "seasons.html", "seasons/october.html"}
    assert pages(report) == {"recipes/r24.html", "print/r24.html", *named, "with/water.html", "with/egg.html"}


def test_a_changed_channel_or_table_reaches_every_page(
    small: Small, made: Callable[..., Report], channel: Channel, table: Table, tmp_path: Path
) -> None:
    made(small("a"), small("b"))
    report = made(small("a"), small("b"), channel=replace(channel, name="Another"))
    assert {"recipes/a.html", "recipes/b.html", "index.html", "archive.html", "404.html"} <= pages(report)
    water = next(row for row in table.rows() if row.name == "water")
    heavier = table.with_rows([replace(water, source="my own scale")])
    report = build([small("a")], channel, heavier, tmp_path / "site_out")
    assert "recipes/a.html" in pages(report)


def test_a_changed_template_reaches_what_uses_it(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    own = tmp_path / "templates"
    own.mkdir()
    made(small("a"), templates=own)
    (own / "404.html.j2").write_text('{% extends "base.html.j2" %}{% block main %}<h1>Lost</h1>{% endblock %}')
    assert pages(made(small("a"), templates=own)) == {"404.html"}
    assert "<h1>Lost</h1>" in (tmp_path / "site_out" / "404.html").read_text()
    (own / "assets").mkdir()
    (own / "assets" / "tokens.css").write_text(":root { --ink: black; }")
    assert made(small("a"), templates=own).written == ("assets/tokens.css",)
    base = files_of_the_package() / "base.html.j2"
    (own / "base.html.j2").write_text(base.read_text().replace('class="skip"', 'class="skip jump"'))
    assert {"recipes/a.html", "index.html", "archive.html", "404.html"} <= pages(made(small("a"), templates=own))


def files_of_the_package() -> Path:
    from pipeline.site.theme import shipped_templates

    return shipped_templates()


def test_drafts_stay_out_and_what_goes_is_gone(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    made(small("a"), small("b"))
    report = made(small("a"), small("b", draft=True), small("c", draft=True))
    assert report.recipes == 1
    assert report.removed == ("print/b.html", "recipes/b.html")
    names = set(tree(tmp_path / "site_out"))
    assert "recipes/b.html" not in names and "recipes/c.html" not in names
    for name in ("index.html", "archive.html", "feed.xml", "sitemap.xml"):
        assert b"recipes/b" not in (tmp_path / "site_out" / name).read_bytes()


def test_a_page_that_somebody_edited_is_made_anew(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    made(small("a"))
    page = tmp_path / "site_out" / "recipes" / "a.html"
    whole = page.read_bytes()
    page.write_bytes(b"spoiled")
    assert "recipes/a.html" in made(small("a")).written
    assert page.read_bytes() == whole


def test_note_and_a_hosts_own_files_are_carried_over(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    out = tmp_path / "site_out"
    out.mkdir()
    (out / "README.md").write_text("what this is")
    made(small("a"))
    (out / "CNAME").write_text("the-tin-whisk.example")
    (out / ".well-known").mkdir()
    (out / ".well-known" / "x").write_text("y")
    made(small("b"))
    kept = tree(out)
    assert kept["README.md"] == b"what this is"
    assert kept["CNAME"] == b"the-tin-whisk.example"
    assert kept[".well-known/x"] == b"y"
    assert "recipes/a.html" not in kept


def test_a_strangers_folder_is_refused(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    out = tmp_path / "site_out"
    out.mkdir()
    (out / "thesis.txt").write_text("years of work")
    with pytest.raises(SiteError, match=r"thesis\.txt"):
        made(small("a"))
    assert tree(out) == {"thesis.txt": b"years of work"}
    with pytest.raises(SiteError, match="this is a file"):
        (tmp_path / "other").write_text("x")
        made(small("a"), out="other")


@pytest.mark.parametrize("template", ["recipe.html.j2", "base.html.j2"])
def test_a_template_in_another_encoding_is_named_by_all_who_read_it(
    template: str, small: Small, made: Callable[..., Report], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Several processes read the templates; none of them may end over one."""
    own = tmp_path / "templates"
    own.mkdir()
    (own / template).write_bytes("{% block main %}café{% endblock %}".encode("latin-1"))
    with pytest.raises(BadTemplateError, match=rf"{template}"):
        made(*(small(f"r{n}") for n in range(WORTH_SHARING)), templates=own)
    assert capfd.readouterr().err == ""


def test_a_failed_build_leaves_the_last_site_whole(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    made(small("a"))
    before = tree(tmp_path / "site_out")
    own = tmp_path / "templates"
    own.mkdir()
    (own / "recipe.html.j2").write_text("line one\n{{ recipe.nothing.like.it }}\n")
    with pytest.raises(SiteError, match=r"templates/recipe.html.j2:2: .*nothing"):
        made(small("a"), templates=own)
    (own / "recipe.html.j2").write_text("{% for x in %}")
    with pytest.raises(BadTemplateError, match=r"templates/recipe.html.j2:1: "):
        made(small("a"), templates=own)
    photo = "photos:\n  - {file: none.jpg, alt: A thing.}\n  - {file: ../../../secret.jpg, alt: A thing.}\n"
    with pytest.raises(SiteError) as caught:
        made(small("a", more=photo))
    assert len(caught.value.problems) == 2
    assert "none.jpg" in caught.value.problems[0] and "out of the recipe's folder" in caught.value.problems[1]
    assert tree(tmp_path / "site_out") == before


def test_two_recipes_of_one_slug_are_refused(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    one = small("a")
    other = replace(one, path=tmp_path / "content" / "recipes" / "elsewhere" / "recipe.yaml")
    with pytest.raises(SiteError, match="is that of"):
        made(one, other)
    with pytest.raises(SiteError, match="cannot name a page"):
        made(replace(one, slug="../../escape"))


def test_a_page_may_not_fall_onto_a_file_of_hers(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    made(small("a"))
    (tmp_path / "site_out" / "recipes" / "b.html").write_text("my own page")
    with pytest.raises(SiteError, match="a page wants that name"):
        made(small("a"), small("b"))
    assert (tmp_path / "site_out" / "recipes" / "b.html").read_text() == "my own page"


@pytest.mark.parametrize("exchange", [True, False])
def test_swapping_works_with_and_without_the_systems_exchange(
    exchange: bool, small: Small, made: Callable[..., Report], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not exchange:
        monkeypatch.setattr(files, "_exchange", lambda a, b: False)
    made(small("a"))
    made(small("b"))
    names = set(tree(tmp_path / "site_out"))
    assert "recipes/b.html" in names and "recipes/a.html" not in names
    assert not (tmp_path / ".site_out.levelcup" / "new").exists()
    assert not (tmp_path / ".site_out.levelcup" / "old").exists()


def test_a_site_left_aside_by_a_broken_swap_comes_back(
    small: Small, made: Callable[..., Report], tmp_path: Path
) -> None:
    made(small("a"))
    out, work = tmp_path / "site_out", tmp_path / ".site_out.levelcup"
    (out / "CNAME").write_text("x")
    out.rename(work / "old")  # as a kill between two renames would leave it
    (work / "new").mkdir()
    (work / "new" / "half").write_text("half a page")
    made(small("a"))
    assert (out / "CNAME").read_text() == "x"
    assert not (out / "half").exists()


def test_two_builds_at_once_are_refused(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    with files.alone(tmp_path / ".site_out.levelcup"), pytest.raises(SiteError, match="another build"):
        made(small("a"))


KILLED = """
import sys, time
from pathlib import Path
from pipeline.measure.lookup import load
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import read
from pipeline.site.build import build

root = Path(sys.argv[1])
recipes = [read(p) for p in sorted(root.glob("content/recipes/*/recipe.yaml"))]
print("ready", flush=True)
while True:
    for name in ("One", "Two"):
        build(recipes, Channel(name=name), load(), root / "site_out")
"""


def test_killed_at_any_moment_there_is_one_whole_site(
    small: Small, made: Callable[..., Report], tmp_path: Path
) -> None:
    """Builds two sites in turn, kills with SIGKILL at many moments, and looks each time whether one stands whole."""
    recipes = [small(f"r{i}") for i in range(4)]
    wholes = {}
    for name in ("One", "Two"):
        made(*recipes, channel=Channel(name=name), out=name)
        wholes[name] = tree(tmp_path / name)
        del wholes[name][".levelcup.json"]
    made(*recipes, channel=Channel(name="One"))
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    seen = set()
    for turn in range(8):
        process = subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(KILLED), str(tmp_path)], stdout=subprocess.PIPE, env=environment
        )
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(0.02 + 0.037 * turn)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        manifest = read_manifest(tmp_path / "site_out")
        now = tree(tmp_path / "site_out")
        assert {name: files.digest(now[name]) for name in manifest.files} == {
            name: entry.held for name, entry in manifest.files.items()
        }
        del now[".levelcup.json"]
        assert now in wholes.values(), f"turn {turn}: the site is not whole"
        seen.add(b"One" in now["index.html"])
    made(*recipes, channel=Channel(name="Two"))
    assert {k: v for k, v in tree(tmp_path / "site_out").items() if k != ".levelcup.json"} == wholes["Two"]
    assert {p.name for p in (tmp_path / ".site_out.levelcup").iterdir()} <= {"lock", ".gitignore", "pictures"}


def test_pictures_are_worked_on_once(
    small: Small, made: Callable[..., Report], picture: Callable[..., Path], tmp_path: Path
) -> None:
    folder = tmp_path / "content" / "recipes" / "a"
    picture(folder / "p.jpg")
    more = "photos: {file: p.jpg, alt: A grey thing.}\n"
    assert made(small("a", more=more)).pictures == 1
    report = made(small("a", more=more + "notes: [new]\n"))
    text = {name for name in pages(report) if not name.startswith("photos/")}
    assert report.pictures == 0 and text == {"recipes/a.html", "print/a.html", "feed.xml"}
    picture(folder / "p.jpg", (640, 500))
    report = made(small("a", more=more))
    assert report.pictures == 1
    # The old one's two sizes in three formats, its three cuts, and the two drawn from it.
    assert len(report.removed) == 11


def test_a_film_of_hers_is_shown_with_its_captions(small: Small, made: Callable[..., Report], tmp_path: Path) -> None:
    folder = tmp_path / "content" / "recipes" / "a"
    more = "video: {file: film.mp4, captions: c.srt, length: 2:00}\n"
    report = made(small("a", more=more))
    assert report.notes and "no such film" in report.notes[0]
    (folder / "film.mp4").write_bytes(b"not really a film")
    (folder / "c.srt").write_text("1\n00:00:01,000 --> 00:00:03,000\nSalt & <b>pepper</b>\n")
    report = made(small("a", more=more))
    site = tree(tmp_path / "site_out")
    assert site["films/a.mp4"] == b"not really a film"
    assert b"00:00:01.000 --> 00:00:03.000\nSalt &amp; pepper" in site["films/a.vtt"]
    assert b'src="../films/a.mp4"' in site["recipes/a.html"]
    assert (tmp_path / "site_out" / "films" / "a.mp4").stat().st_nlink == 1  # never a link to her own file
    assert made(small("a", more=more)).written == ()
