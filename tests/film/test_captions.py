"""Captions of every format and fault: cases in captions.yaml, libraries as witnesses, invented files."""

from __future__ import annotations

import io
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
import srt
import webvtt
import yaml
from hypothesis import given
from hypothesis import strategies as st

from pipeline.film.captions import read_captions, read_captions_text
from pipeline.film.clock import read_stamp, say_exact, say_moment
from pipeline.film.transcript import CaptionError, Transcript

HERE = Path(__file__).parent
CASES: list[dict[str, Any]] = yaml.safe_load((HERE / "captions.yaml").read_text(encoding="utf-8"))
DEMO = sorted((HERE.parent.parent / "content" / "recipes").glob("*/captions.*"))


def test_there_are_cases() -> None:
    assert len(CASES) >= 25
    assert DEMO, "the demo recipes have captions"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_case(case: dict[str, Any]) -> None:
    if "problems" in case:
        with pytest.raises(CaptionError) as caught:
            read_captions_text(case["text"], case["file"])
        assert [line for line, _ in caught.value.problems] == list(case["problems"])
        for (_, message), part in zip(caught.value.problems, case["problems"].values(), strict=True):
            assert part in message
        return
    film = read_captions_text(case["text"], case["file"])
    assert [f"{cue.start}-{cue.end} {cue.text}" for cue in film.cues] == case["cues"]
    repairs = case.get("repairs", {})
    assert [repair.line for repair in film.repairs] == list(repairs), film.repairs
    for repair, part in zip(film.repairs, repairs.values(), strict=True):
        assert part in repair.message
    if "words" in case:
        assert [f"{word.start} {word.text}" for word in film.words] == case["words"]


@pytest.mark.parametrize("case", [c for c in CASES if "cues" in c and c["text"]], ids=lambda case: case["name"])
@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_encodings_and_line_ends_change_nothing(case: dict[str, Any], encoding: str, tmp_path: Path) -> None:
    path = tmp_path / case["file"]
    path.write_bytes(case["text"].replace("\n", "\r\n").encode(encoding))
    assert [f"{cue.start}-{cue.end} {cue.text}" for cue in read_captions(path).cues] == case["cues"]


def test_windows_1252_is_read_with_a_note(tmp_path: Path) -> None:
    path = tmp_path / "a.srt"
    path.write_bytes("1\n00:00:01,000 --> 00:00:02,000\nCrème fraîche, ½ cup\n".encode("cp1252"))
    film = read_captions(path)
    assert film.cues[0].text == "Crème fraîche, ½ cup"
    assert [r.line for r in film.repairs] == [3]


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"\xff\xfe1", b"\0" * 50, b"x" * 20_000_001])
def test_what_is_no_text_is_refused(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "a.srt"
    path.write_bytes(data)
    with pytest.raises(CaptionError) as caught:
        read_captions(path)
    assert str(caught.value).startswith(f"{path}:1: ")


@pytest.mark.parametrize("path", DEMO, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_demo_captions_as_the_libraries_read_them(path: Path) -> None:
    """Witnesses: srt (SubRip) and webvtt-py (WebVTT) on sound files."""
    film = read_captions(path)
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".srt":
        theirs = [
            (round(c.start.total_seconds() * 1000), round(c.end.total_seconds() * 1000), c.content.split())
            for c in srt.parse(text)
        ]
    else:
        theirs = [
            (round(c.start_in_seconds * 1000) + c.start_time.milliseconds,
             round(c.end_in_seconds * 1000) + c.end_time.milliseconds, c.text.split())
            for c in webvtt.from_buffer(io.StringIO(text))
        ]  # fmt: skip
    assert [(c.start, c.end, c.text.split()) for c in film.cues] == theirs
    assert film.repairs == ()


SAID = ("flour", "water", "450", "grams", "a", "stir,", "until.", "don't", "½", "cup")
WORDS = st.lists(st.sampled_from(SAID), min_size=1, max_size=8)
FILMS = st.lists(st.tuples(st.integers(0, 5_000), st.integers(1, 9_000), WORDS), min_size=1, max_size=12)


def _timed(film: list[tuple[int, int, list[str]]]) -> list[tuple[int, int, str]]:
    now, result = 0, []
    for i, (gap, length, words) in enumerate(film):
        start = now + gap
        now = start + length
        # A number in front keeps invented captions from looking like a roll.
        result.append((start, now, " ".join([f"n{i}", *words])))
    return result


def _sound(film: Transcript) -> None:
    for cue, after in zip(film.cues, film.cues[1:], strict=False):
        assert cue.end <= after.start
    for word, next_word in zip(film.words, film.words[1:], strict=False):
        assert word.start <= word.end <= next_word.start
    for cue in film.cues:
        assert 0 <= cue.start < cue.end
        assert cue.text and cue.line >= 1
    for i, cue in enumerate(film.cues):
        own = [word for word in film.words if word.cue == i]
        assert " ".join(word.text for word in own) == cue.text
        assert own[0].start >= cue.start and own[-1].end <= cue.end


@given(FILMS, st.booleans())
def test_what_is_written_is_read(film: list[tuple[int, int, list[str]]], vtt: bool) -> None:
    cues = _timed(film)
    mark = "." if vtt else ","
    blocks = [f"{say_exact(a, mark)} --> {say_exact(b, mark)}\n{text}\n" for a, b, text in cues]
    if vtt:
        text = "WEBVTT\n\n" + "\n".join(blocks)
    else:
        text = "\n".join(f"{i}\n{block}" for i, block in enumerate(blocks, 1))
    read = read_captions_text(text, "a.vtt" if vtt else "a.srt")
    assert [(c.start, c.end, c.text) for c in read.cues] == cues
    _sound(read)


PIECES = st.sampled_from(
    ["WEBVTT", "", "1", "2", "00:00:01,000 --> 00:00:02,000", "0:05 -> 0:04", "-0:01 --> 00:00:03.5", "a b", "[0:07] x",
     "00:00:00.000 --> 00:00:09.000 align:start", "x --> y", "0:0a --> 0:09", "<i>", "&#x110000;", "[Music]", "-",
     "- -", "<00:00:01.5>so<c> on", "NOTE", "♪", "(la)", "\u202e", "99:99:99 --> 1:2", "00:00:02:12 --> 00:00:03:24"]
)  # fmt: skip


@given(st.lists(PIECES, max_size=25), st.sampled_from(["a.srt", "a.vtt", "a.txt"]))
def test_any_text_gives_a_sound_transcript_or_a_caption_error(lines: list[str], name: str) -> None:
    try:
        film = read_captions_text("\n".join(lines), name)
    except CaptionError as error:
        assert error.problems and all(line >= 1 and message for line, message in error.problems)
        return
    _sound(film)


@given(st.binary(max_size=300))
def test_any_bytes_raise_nothing_else(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "any.srt"
    path.write_bytes(data)
    with suppress(CaptionError):
        _sound(read_captions(path))


@given(st.integers(0, 400_000_000))
def test_a_moment_is_split_once(ms: int) -> None:
    assert read_stamp(say_exact(ms)) == ms
    assert read_stamp(say_moment(ms)) == ms // 1000 * 1000
    assert read_stamp(say_moment(ms, hours=True)) == ms // 1000 * 1000


def test_a_moment_near_the_full_minute() -> None:
    assert say_exact(59_999) == "00:00:59.999"
    assert say_moment(59_999) == "0:59"
    with pytest.raises(ValueError, match="before its start"):
        say_exact(-1)
