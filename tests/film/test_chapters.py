"""Chapter marks: the platform's rules, titles, and the three writers, read back by webvtt-py and ffmpeg."""

from __future__ import annotations

import html
import io
import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from pipeline.film.chapters import BREAKS, Chapter, chapter_problems, chapters_of, description_lines
from pipeline.film.clock import read_stamp
from pipeline.film.ffmetadata import ffmetadata
from pipeline.film.mark import clean_title
from pipeline.film.webvtt_chapters import webvtt_chapters
from pipeline.recipe.channel import ChapterRules
from pipeline.recipe.model import Component, Prose, Recipe, Step, Video
from pipeline.recipe.read import read
from pipeline.recipe.span import Span, Text

SPAN = Span("recipe.yaml", 1, 1, 0, 0)
RULES = ChapterRules()


def text(words: str) -> Text:
    return Text.at(words, SPAN, range(len(words) + 1), [0])


def step(at: int | None, title: str = "", words: str = "Stir it.", component: int = 0) -> Step:
    return Step(text(words), (Prose(text(words)),), component, SPAN, title=title, at=at)


def recipe(*steps: Step, length: int | None = None, components: tuple[str, ...] = ("Dough",)) -> Recipe:
    return Recipe(
        path=Path("recipe.yaml"),
        source="",
        title=text("Bread"),
        slug="bread",
        yield_=None,
        components=tuple(Component(name.lower(), name, (), SPAN) for name in components),
        steps=steps,
        video=Video(SPAN, length=length),
    )


def lines(r: Recipe) -> list[str]:
    length = r.video.length if r.video else None
    return description_lines(chapters_of(r, RULES), length)


def codes(r: Recipe) -> list[tuple[int | None, str]]:
    return [(problem.step, problem.code) for problem in chapter_problems(r, RULES)]


def test_an_opening_mark_stands_before_a_later_first_step() -> None:
    r = recipe(step(65_000, "Mix"), step(90_000, "Knead"), step(None, "Wait"), step(120_900, "Bake"), length=200_000)
    assert lines(r) == ["0:00 Intro", "1:05 Mix", "1:30 Knead", "2:00 Bake"]
    assert codes(r) == []
    assert [chapter.step for chapter in chapters_of(r, RULES)] == [None, 0, 1, 3]


def test_a_first_step_too_soon_for_an_opening_mark_begins_at_the_start() -> None:
    r = recipe(step(4_000, "Mix"), step(30_000, "Knead"), step(60_000, "Bake"))
    assert lines(r) == ["0:00 Mix", "0:30 Knead", "1:00 Bake"]
    assert codes(r) == []


def test_hours_stand_in_every_line_or_in_none() -> None:
    steps = (step(0, "Mix"), step(65_000, "Knead"), step(600_000, "Bake"))
    assert lines(recipe(*steps, length=3_599_999))[1] == "1:05 Knead"
    assert lines(recipe(*steps, length=3_600_000)) == ["0:00:00 Mix", "0:01:05 Knead", "0:10:00 Bake"]
    assert lines(recipe(*steps, step(3_700_000, "Eat")))[3] == "1:01:40 Eat"


def test_no_moment_no_marks_no_problems() -> None:
    r = recipe(step(None), step(None), length=10_000)
    assert chapters_of(r, RULES) == [] and codes(r) == []
    assert chapters_of(recipe(), RULES) == []


@pytest.mark.parametrize(
    ("case", "moments", "length", "expected"),
    [
        ("two marks", [0, 20_000], None, [(None, "too-few")]),
        ("a step below 10 s", [0, 20_000, 29_999, 50_000], None, [(1, "too-short")]),
        ("just 10 s", [0, 20_000, 30_000, 50_000], 60_000, []),
        ("the last below 10 s", [0, 20_000, 50_000], 59_999, [(2, "too-short")]),
        ("going back", [0, 50_000, 20_000, 70_000], None, [(2, "descending")]),
        ("beyond the film", [0, 20_000, 50_000], 40_000, [(2, "beyond-end")]),
        ("at the film's end", [0, 20_000, 40_000], 40_000, [(2, "beyond-end")]),
        ("the same moment", [0, 20_000, 20_000, 50_000], None, [(2, "same-moment")]),
        ("before the film", [-1, 20_000, 50_000], None, [(0, "before-start")]),
    ],
)
def test_rules(case: str, moments: list[int], length: int | None, expected: list[tuple[int | None, str]]) -> None:
    r = recipe(*(step(at, f"Step {chr(97 + i)}") for i, at in enumerate(moments)), length=length)
    assert codes(r) == expected, case
    assert {code for _, code in expected} <= BREAKS | {"same-moment", "descending"}


def test_a_component_made_while_another_rests_is_in_its_order() -> None:
    """A page may keep the sauce's steps behind the dough's: the marks ascend, and no rule is broken."""
    r = recipe(
        step(0, "Mix", component=0),
        step(90_000, "Bake", component=0),
        step(30_000, "Whip", component=1),
        step(60_000, "Season", component=1),
        components=("Dough", "Butter"),
    )
    assert codes(r) == [] and [line.split()[0] for line in lines(r)] == ["0:00", "0:30", "1:00", "1:30"]
    back = recipe(*(one._replace(at=at) for one, at in zip(r.steps, (0, 90_000, 60_000, 30_000), strict=True)))
    back = back._replace(components=r.components)
    assert codes(back) == [(3, "descending")]


def test_titles_that_trouble_the_viewer() -> None:
    r = recipe(step(0, "Fold"), step(20_000, "fold"), step(40_000, "x" * 61))
    assert codes(r) == [(1, "same-title"), (2, "title-long")]
    assert lines(r)[:2] == ["0:00 Fold", "0:20 fold 2"]
    assert len(lines(r)[2]) == len("0:40 ") + 60


def test_the_same_title_in_two_components_is_told_apart() -> None:
    r = recipe(
        step(0, "Mix", component=0),
        step(20_000, "Mix", component=1),
        step(40_000, "Bake"),
        components=("Dough", "White bean dip"),
    )
    assert lines(r) == ["0:00 Mix (dough)", "0:20 Mix (white bean dip)", "0:40 Bake"]
    assert codes(r) == []


def test_steps_that_share_a_moment_share_a_mark() -> None:
    r = recipe(step(0, "Mix"), step(20_000, "Oil the pan"), step(20_000, "Fold"), step(40_000, "Bake"))
    assert lines(r) == ["0:00 Mix", "0:20 Oil the pan · Fold", "0:40 Bake"]


@pytest.mark.parametrize(
    ("words", "title"),
    [
        ("Knead for ten minutes, until smooth. Rest.", "Knead for ten minutes"),
        ("**Knead** the dough until it sings.", "Knead the dough"),
        ("Now, tip it out onto the bench.", "Now, tip it out onto the bench"),
        ("While the peppers steam in the bowl with the plate on, warm the oil.", "While the peppers steam in the bowl"),
        ("Supercalifragilisticexpialidociously-long-word-without-end here", "Supercalifragilisticexpialidociously-lo…"),
        ("1. First heat the oven.", "First heat the oven"),
        ("Bake 12 rolls at 2.5 inches apart.", "Bake 12 rolls at 2.5 inches apart"),
        ("0 .", "0"),
        ("", "Step 1"),
        ("🥖", "🥖"),
    ],
)
def test_a_title_from_the_first_words(words: str, title: str) -> None:
    assert chapters_of(recipe(step(0, "", words)), RULES)[0].title == title


@pytest.mark.parametrize(
    ("typed", "title"),
    [
        ("Knead\nagain", "Knead again"),
        ("1:05 ratio", "1∶05 ratio"),
        ("heat < 200", "heat under 200"),
        ("<b>Mix</b> -> bake", "b Mix /b – bake"),
        ("- Mix:", "Mix"),
        ("Mix\x00\u202e \u200bup", "Mix up"),
        ("\ud800Mix", "Mix"),
        ("👩‍🍳 Mix", "👩‍🍳 Mix"),
    ],
)
def test_a_title_is_cleaned(typed: str, title: str) -> None:
    assert clean_title(typed) == title


STEPS = st.lists(
    st.tuples(st.integers(-5, 4_000_000) | st.none(), st.text(max_size=90), st.text(max_size=90)), max_size=12
)


@given(STEPS, st.none() | st.integers(1, 5_000_000))
def test_marks_hold_for_any_steps(steps: list[tuple[int | None, str, str]], length: int | None) -> None:
    r = recipe(*(step(*s) for s in steps), length=length)
    chapters = chapters_of(r, RULES)
    for mark, line in zip(chapters, description_lines(chapters, length), strict=True):
        stamp, _, title = line.partition(" ")
        assert read_stamp(stamp) == mark.at // 1000 * 1000
        assert 0 < len(title) <= RULES.title and title == title.strip()
        assert title.isprintable() or "\u200d" in title or "\u200c" in title
        assert not set(title) & set("<>\n\r") and len(title.splitlines()) == 1
        assert read_stamp(title.split()[0]) is None
    assert [mark.at for mark in chapters] == sorted({mark.at for mark in chapters})
    assert len({mark.title.casefold() for mark in chapters}) == len(chapters)
    if chapters:
        assert chapters[0].at == 0
    breaking = {problem.code for problem in chapter_problems(r, RULES)} & BREAKS
    if chapters and not breaking:
        ends = [mark.at for mark in chapters[1:]] + ([length] if length is not None else [])
        assert all(end - mark.at >= RULES.shortest for mark, end in zip(chapters, ends, strict=False))
        assert len(chapters) >= RULES.least


DEMO = sorted((Path(__file__).parent.parent.parent / "content" / "recipes").glob("*/recipe.yaml"))


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.parent.name)
def test_the_published_demo_films_keep_the_rules(path: Path) -> None:
    r = read(path)
    chapters = chapters_of(r, RULES)
    if r.draft:
        assert any(problem.code in BREAKS for problem in chapter_problems(r, RULES)), "the wrong draft shows a slip"
        return
    assert chapter_problems(r, RULES) == []
    assert (len(chapters) >= 3) == any(step.at is not None for step in r.steps)


MARKS = st.lists(st.tuples(st.integers(1, 900_000), st.text(min_size=1, max_size=60)), min_size=1, max_size=9)


def _marks(found: list[tuple[int, str]]) -> list[Chapter]:
    at, result = 0, []
    for gap, title in found:
        result.append(Chapter(at, clean_title(title) or "Mix"))
        at += gap
    return result


@given(MARKS, st.integers(1, 900_000))
def test_webvtt_py_reads_the_chapters_back(found: list[tuple[int, str]], last: int) -> None:
    marks = _marks(found)
    length = marks[-1].at + last
    read = list(webvtt.from_buffer(io.StringIO(webvtt_chapters(marks, length))))
    starts = [round(c.start_in_seconds) * 1000 + c.start_time.milliseconds for c in read]
    assert starts == [mark.at for mark in marks]
    assert [round(c.end_in_seconds) * 1000 + c.end_time.milliseconds for c in read] == [*starts[1:], length]
    assert [html.unescape(c.raw_text) for c in read] == [mark.title for mark in marks]


def test_a_last_chapter_without_a_known_end() -> None:
    assert "00:00:07.000 --> 00:00:17.000\nBake" in webvtt_chapters([Chapter(0, "Mix"), Chapter(7_000, "Bake")])


@pytest.fixture(scope="session")
def film(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if not (shutil.which("ffmpeg") and shutil.which("ffprobe")):
        if os.environ.get("CI") == "true":
            pytest.fail("ffmpeg and ffprobe are not installed (apt-get install ffmpeg)")
        pytest.skip("ffmpeg is not installed (apt-get install ffmpeg)")
    path = tmp_path_factory.mktemp("film") / "film.mp4"
    made = "color=c=black:s=32x32:r=2:d=40"
    subprocess.run(["ffmpeg", "-v", "error", "-f", "lavfi", "-i", made, "-pix_fmt", "yuv420p", str(path)], check=True)
    return path


@pytest.mark.parametrize(
    "titles",
    [
        ["Mix", "Knead", "Bake"],
        ["a=b; c#d", "back\\slash", "½ cup – “flour” & 水"],
        ["ends in a backslash\\", "Knead", "Bake\\\\"],
        ["[CHAPTER]", "title=x", ";FFMETADATA1"],
    ],
    ids=["plain", "signs that need escaping", "backslash at the end", "lines that look like sections"],
)
def test_ffmpeg_puts_the_marks_into_a_film(titles: list[str], film: Path, tmp_path: Path) -> None:
    marks = [Chapter(at, title) for at, title in zip((0, 10_500, 25_001), titles, strict=True)]
    meta, out = tmp_path / "chapters.txt", tmp_path / "out.mkv"
    meta.write_text(ffmetadata(marks, 40_000, "The film = a; test"), encoding="utf-8")
    subprocess.run(
        ["ffmpeg", "-v", "error", "-i", str(film), "-i", str(meta), "-map_metadata", "1", "-map_chapters", "1",
         "-c", "copy", str(out)],
        check=True,
    )  # fmt: skip
    probe = subprocess.run(
        ["ffprobe", "-v", "error", "-show_chapters", "-show_format", "-of", "json", str(out)],
        check=True,
        capture_output=True,
    )
    found = json.loads(probe.stdout)
    assert [
        (round(float(c["start_time"]) * 1000), round(float(c["end_time"]) * 1000), c["tags"]["title"])
        for c in found["chapters"]
    ] == [
        (0, 10_500, titles[0].rstrip("\\")),
        (10_500, 25_001, titles[1]),
        (25_001, 40_000, titles[2].rstrip("\\")),
    ]
    assert found["format"]["tags"]["title"] == "The film = a; test"
