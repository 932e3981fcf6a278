"""Every character of a value points back at where it was typed, in every style that YAML has.

PyYAML's own loader is the reference for the values; the places are checked against the source itself.
"""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.recipe import scalars
from pipeline.recipe.compose import Leaf, Listing, Mapping, Node, compose
from pipeline.recipe.problem import SourceError
from pipeline.recipe.source import source_of
from pipeline.recipe.span import Text

WORD = st.text(alphabet=st.sampled_from("abcXYZ019½é🍞漢'\"\\{}:,.()-"), min_size=1, max_size=6)
LINE = st.lists(WORD, min_size=1, max_size=5).map(" ".join)
BREAK = st.sampled_from(["\n", "\r\n", "\r"])
BOM = st.sampled_from(["", "\ufeff"])


def leaves(node: Node | None) -> list[Text]:
    if isinstance(node, Leaf):
        return [node.text]
    if isinstance(node, Listing):
        return [t for item in node.items for t in leaves(item)]
    if isinstance(node, Mapping):
        return [t for key, value in node.pairs for t in (key, *leaves(value))]
    return []


def plain(node: Node | None) -> object:
    if isinstance(node, Leaf):
        return str(node.text)
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    assert isinstance(node, Mapping)
    return {str(key): plain(value) for key, value in node.pairs}


def check(source: str) -> list[Text]:
    """Composes and checks all places; the leaves."""
    made = source_of(source, "r.yaml")
    root, problems = compose(made)
    assert not problems
    assert plain(root) == yaml.load(source.removeprefix("\ufeff"), Loader=yaml.BaseLoader)
    found = leaves(root)
    for text in found:
        at = list(text.places[: len(text)])
        ends = list(text.ends) if text.ends is not None else [p + 1 for p in at]
        assert len(text.places) == len(text) + 1
        assert at == sorted(at)
        for char, start, end in zip(text, at, ends, strict=True):
            typed = source[start:end]
            if typed == char:
                continue
            assert (
                (char in " \n" and typed in ("\n", "\r\n", "\r"))
                or (char == "'" and typed == "''")
                or typed.startswith("\\")
            ), f"{char!r} is said to come from {typed!r}"
        whole = text.part(0, len(text))
        if len(text):
            assert (whole.start, whole.end) == (at[0], ends[-1])
            lines = source[: whole.start].removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
            assert (whole.line, whole.column) == (len(lines), len(lines[-1]) + 1)
    return found


@pytest.fixture(autouse=True)
def no_guessing(monkeypatch: pytest.MonkeyPatch) -> None:
    """The fall-back for a case that nobody thought of is never needed."""

    def never(*_: object) -> object:
        raise AssertionError("the places were guessed")

    monkeypatch.setattr(scalars, "_greedy", never)


@settings(max_examples=150)
@given(LINE, st.lists(st.tuples(LINE, st.integers(0, 2)), max_size=4), st.sampled_from("'\""), BREAK, BOM)
def test_quoted_texts(first: str, more: list[tuple[str, int]], quote: str, newline: str, bom: str) -> None:
    def inside(line: str) -> str:
        if quote == "'":
            return line.replace("'", "''")
        return line.replace("\\", "\\\\").replace('"', '\\"').replace("½", "\\u00bd")

    body = inside(first) + "".join(
        f"  {newline}" + newline * blank + " " * (3 + blank) + inside(line) for line, blank in more
    )
    check(f"{bom}a: {quote}{body}{quote}  # c{newline}b: x{newline}")


@settings(max_examples=150)
@given(
    st.lists(st.tuples(LINE, st.integers(0, 2), st.integers(0, 3)), min_size=1, max_size=5),
    st.sampled_from(["|", "|-", "|+", ">", ">-", ">+", "|2", ">2-", "| # c", ">+2"]),
    BREAK,
    BOM,
    st.integers(0, 3),
)
def test_block_texts(lines: list[tuple[str, int, int]], header: str, newline: str, bom: str, blank_end: int) -> None:
    explicit = "2" in header
    body = ""
    for i, (line, blank, deeper) in enumerate(lines):
        # without an indicator the first line sets the indentation
        indent = "  " + (" " * deeper if i or explicit else "")
        body += newline * (blank if i else 0) + indent + line + newline
    check(f"{bom}a: {header}{newline}{body}{newline * blank_end}b: x{newline}")


@settings(max_examples=150)
@given(
    st.lists(
        st.lists(st.text("abcXY½é🍞漢'.()", min_size=1, max_size=5), min_size=1, max_size=4), min_size=1, max_size=4
    ),
    BREAK,
    BOM,
)
def test_plain_texts(lines: list[list[str]], newline: str, bom: str) -> None:
    body = f" {newline}{newline}   ".join("x" + " ".join(words) for words in lines)
    check(f"{bom}- a: {body}{newline}  b:  x  # c{newline}- {body}{newline}")


@settings(max_examples=100)
@given(
    st.dictionaries(
        st.text("abc½ é", min_size=1, max_size=4),
        st.one_of(st.text(max_size=30), st.lists(st.text(max_size=20), max_size=3)),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from([None, "'", '"', "|", ">"]),
    st.booleans(),
    st.sampled_from([20, 80]),
)
def test_whatever_pyyaml_writes(data: dict[str, object], style: str | None, allow: bool, width: int) -> None:
    source = yaml.dump(data, default_style=style, allow_unicode=allow, width=width)
    source = source.replace("!!str ", "").replace("? ", "? ")
    try:
        made = source_of(source, "r.yaml")
    except SourceError:  # characters that we refuse
        return
    try:
        expected = yaml.load(source, Loader=yaml.BaseLoader)
    except yaml.YAMLError:
        return
    root, problems = compose(made)
    if not problems:
        assert plain(root) == expected
        for text in leaves(root):
            assert len(text.places) == len(text) + 1


def test_escaped_breaks_and_empty_lines() -> None:
    check('a: "one \\\n   two\\n\n\n  three \\\n\n  four"\n')
    check("a: 'one\n\n\n  two'\n")
    check('a: ""\nb: \'\'\nc:\nd: "  "\n')
    check("a: |\n\n\n  x\n   \n  y\n\n\nb: >\n\n  x\n\n   y\n  z\n\n")
    check("a: >\n  x\n    y\n\n    z\n  w\n")
    check("a: |+\n\n\nb: >-\n\n\n")
    check("a: |\n  no break at the end")


def test_a_part_of_an_escape_covers_all_of_it() -> None:
    source = 'a: "1\\u00bd cups"\n'
    (_, text) = check(source)
    assert text == "1½ cups"
    span = text.part(0, 2)
    assert source[span.start : span.end] == "1\\u00bd"
    assert text.slice(1, 7).part(0, 1).end == span.end


def test_joined_pieces_keep_their_places() -> None:
    (_, text) = check("a: one two\n")
    joined = Text.joined((text.slice(4, 7), ", ", text.slice(0, 3)), text.span)
    assert joined == "two, one"
    assert (joined.part(0, 3).column, joined.part(5, 8).column) == (8, 4)
    assert joined.part(0, 8).start == 3
