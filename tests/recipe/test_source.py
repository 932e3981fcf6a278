"""Files that are no recipe: too big, not UTF-8, hostile. Every one is answered, none is a traceback."""

from __future__ import annotations

import os
import pickle
import time
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pipeline.recipe.read import SourceError, read, read_text
from pipeline.recipe.source import LIMIT


def told(path: Path) -> list[str]:
    with pytest.raises(SourceError) as caught:
        read(path)
    for problem in caught.value.problems:
        assert str(problem).startswith(f"{path}:")
    return [f"{p.span.line}:{p.span.column} {p.message} | {p.help} | {p.why}" for p in caught.value.problems]


@pytest.mark.parametrize(
    ("data", "place", "words"),
    [
        (b"title: Caf\xe9\n", "1:11", "byte 0xE9 at offset 10"),
        (b"title: a\nyield: 1\xbd cups\n", "2:9", "in Windows-1252 that byte is `½`"),
        ("title: é\nsummary: ".encode() + b"\x80", "2:10", "in Windows-1252 that byte is `€`"),
        (b"title: \xc3", "1:8", "0xC3"),
        (b"title: \xed\xa0\x80", "1:8", "0xED"),
        ("title: a".encode("utf-16"), "1:1", "UTF-16"),
        ("title: a".encode("utf-16-le"), "1:1", "UTF-16"),
        ("title: a".encode("utf-16-be"), "1:1", "UTF-16"),
        (b"title: a\nsummary: b\x00c\n", "2:11", "U+0000 (NUL)"),
        (b"title: a\x07\n", "1:9", "U+0007"),
        ("title: a\u2028b\n".encode(), "1:9", "press Enter"),
        ("title: a\x85b\n".encode(), "1:9", "next line"),
        ("title: a\ufeffb\n".encode(), "1:9", "byte order mark"),
        (b"title: " + b"x" * LIMIT, "1:1", "over 1 MB"),
        (b"[" * 5000, "1:1001", "nested far too deep"),
        (b"[" * 500, "1:21", "nested more than 20 levels"),
        (b"- " * 5000, "1:41", "nested more than 20 levels"),
        (b"{a: " * 5000, "1:81", "nested more than 20 levels"),
    ],
)
def test_not_a_recipe(tmp_path: Path, data: bytes, place: str, words: str) -> None:
    path = tmp_path / "recipe.yaml"
    path.write_bytes(data)
    (line,) = told(path)
    assert line.startswith(f"{place} ")
    assert words in line


def test_a_half_of_a_pair_and_many_strays() -> None:
    with pytest.raises(SourceError) as caught:
        read_text("title: a\ud83cb\n")
    assert "1:9" in str(caught.value)
    assert "U+D83C" in str(caught.value)
    with pytest.raises(SourceError) as caught:
        read_text("title: é" + "\x01\u2029" * 30)
    assert len(caught.value.problems) == 20
    assert "40 more like it" in caught.value.problems[-1].message


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "recipe.yaml"
    with path.open("wb") as stream:
        stream.truncate(5 * 10**9)  # sparse: reading it all would not fit
    assert "over 1 MB" in told(path)[0]


def test_laughs_are_refused_before_they_grow(tmp_path: Path) -> None:
    path = tmp_path / "recipe.yaml"
    lines = ["a0: &a0 [lol, lol]"] + [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]" for i in range(1, 40)]
    path.write_text("\n".join(lines), encoding="utf-8")
    start = time.process_time()
    lines_told = told(path)
    assert time.process_time() - start < 5  # expanded, it would never end
    assert sum("cannot begin with `*`" in line for line in lines_told) == 39 * 9


def test_what_is_no_file(tmp_path: Path) -> None:
    assert "no such file" in told(tmp_path / "none.yaml")[0]
    assert "a folder" in told(tmp_path)[0]
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert "not an ordinary file" in told(pipe)[0]
    if os.geteuid() != 0:
        secret = tmp_path / "recipe.yaml"
        secret.write_text("title: a")
        secret.chmod(0)
        assert "cannot be opened" in told(secret)[0]


PIECES = [
    "title: ", "steps:", "components:", "ingredients:", "times: ", "video: ", "photos:", "accept:", "substitutions:",
    "yield: ", "published: ", "slug: ", "notes: ", "at: ", "text: ", "component: ", "dough", "name: ", "amount: ",
    "\n", "\n", "\n  ", "\n  - ", "\n- ", "\n    ", "- ", ": ", "a", "1/2 cup flour", "{", "}", "{flour}",
    "{flour: half}",     "{{", "[", "]", ",", '"', "'", "|", ">", "\\", "#", " #1", "&a", "*a", "!x", "%",
    "@", "`", "? ", "\t", "\r\n", "½",
    "🍞",     "2026-13-45", "1:05", "30 min", "{450}", "---", "...", "<<: ", "\u00a0", "\ufeff", "~", "0", "é", "  ",
]  # fmt: skip


@settings(max_examples=600)
@given(st.lists(st.sampled_from(PIECES), max_size=25).map("".join))
@example("title: a\ncomponents: {dough: }\nsteps:\n- ? a\n")
def test_no_text_breaks_the_reader(source: str) -> None:
    try:
        recipe = read_text(source, Path("x/recipe.yaml"))
    except SourceError as error:
        assert error.problems
        assert str(error)
        for problem in error.problems:
            assert 0 <= problem.span.start <= problem.span.end <= len(source)
        assert pickle.loads(pickle.dumps(error)).problems == error.problems
    else:
        assert recipe.title


@settings(max_examples=200)
@given(st.binary(max_size=60))
def test_no_bytes_break_the_reader(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "recipe.yaml"
    path.write_bytes(data)
    with pytest.raises(SourceError):  # sixty random bytes are no recipe
        read(path)
