"""How findings are printed: whole messages, marks under wide characters, the one-line form, JSON against its schema."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.proof.finding import Edit, Finding, Fix
from pipeline.proof.paint import print_text, wants_colour
from pipeline.proof.report import Sheet, exit_code, print_json, print_lines, safe, sheet, summary
from pipeline.recipe.span import Span

HERE = Path(__file__).parent
SCHEMA = json.loads(
    (HERE.parents[1] / "pipeline" / "proof" / "data" / "findings.schema.json").read_text(encoding="utf-8")
)
Proven = Callable[..., Any]


def place(source: str, words: str, after: int = 0) -> Span:
    start = source.index(words, after)
    line = source.count("\n", 0, start) + 1
    return Span("a.yaml", line, start - (source.rfind("\n", 0, start) + 1) + 1, start, start + len(words))


def one(source: str, words: str, second: str | None = None, **more: Any) -> Sheet:
    other = place(source, second) if second else None
    found = Finding("pair-disagrees", "error", place(source, words), "they differ", second=other, **more)
    return Sheet("a.yaml", "Bread", "bread", source, (found,))


def marked(sheet_: Sheet) -> list[str]:
    return [line.partition("| ")[2] for line in print_text([sheet_]).splitlines() if "| " in line]


def test_a_whole_message() -> None:
    """Exact text, written by hand from the model in the style guide."""
    source = "title: Bread\ningredients:\n  - 250 g or 1 cup flour\n"
    fixes = (Fix("`250 g or 2 cups` if `250 g` is right"), Fix("`125 g or 1 cup` if `1 cup` is right"))
    assert print_text([one(source, "1 cup", "250 g", why="one cup weighs 125 g", fixes=fixes)]) == (
        "Bread (a.yaml)\n"
        "\n"
        "a.yaml:3:14: error[pair-disagrees] they differ\n"
        "3 |   - 250 g or 1 cup flour\n"
        "  |     -----    ^^^^^\n"
        "why: one cup weighs 125 g\n"
        "help: `250 g or 2 cups` if `250 g` is right\n"
        "  or: `125 g or 1 cup` if `1 cup` is right\n"
        "\n"
        "1 recipe: 1 error\n"
    )


def test_the_other_half_on_another_line() -> None:
    source = "a: 1\n" * 9 + "b: 22\nc: 333\n"
    text = print_text([one(source, "333", "22")])
    assert "10 | b: 22\n   |    --\n11 | c: 333\n   |    ^^^\n" in text


@pytest.mark.parametrize(
    ("line", "words", "rule"),
    [
        ("- 1 cup flour", "1 cup", "  ^^^^^"),
        ("- 🥖🥖 1 cup", "1 cup", "       ^^^^^"),  # an emoji takes two columns
        ("- 小麦粉 1 cup", "1 cup", "         ^^^^^"),  # so does an East Asian wide letter (UAX 11)
        ("- 小麦粉 1 cup", "麦粉", "    ^^^^"),
        ("- cre\u0300me 1 cup", "1 cup", "        ^^^^^"),  # a combining accent takes none
        ("-\t1 cup", "1 cup", "     ^^^^^"),  # a tab is shown as four blanks
        ("- \x1b[31m 1 cup", "1 cup", "           ^^^^^"),  # an escape is written out
        ("- 👩🏽\u200d🍳 1 cup", "1 cup", "     ^^^^^"),  # a joined emoji is one
    ],
)
def test_the_mark_stands_under_its_words(line: str, words: str, rule: str) -> None:
    assert marked(one(line + "\n", words))[1] == rule


def test_a_long_line_is_cut_around_the_mark() -> None:
    source = "x " * 200 + "250 g" + " y" * 200 + "\n"
    text, rule = marked(one(source, "250 g"))
    assert len(text) <= 102 and text.startswith("…") and text.endswith("…")
    assert text[rule.index("^") : rule.rindex("^") + 1] == "250 g"


def test_nothing_steers_the_terminal() -> None:
    source = "title: \x1b]0;gone\x07 \u202edaerb\n"
    bad = one(source, "daerb", why="\x1b[2J\u2066", fixes=(Fix("\x9b31m\r"),))
    bad = Sheet("a\x1b.yaml", "\x1b[31mBread", "", source, bad.findings)
    for printed in (print_text([bad]), print_lines([bad])):
        assert not any(c in printed for c in "\x1b\x07\x9b\r\u202e\u2066")


@given(st.text())
def test_safe_text_is_printable_and_ordinary_text_is_left_alone(text: str) -> None:
    shown = safe(text)
    assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 for c in shown)
    assert safe(shown) == shown
    if text.isascii() and text.isprintable():
        assert shown == text


@given(st.text(max_size=60), st.integers(0, 70), st.integers(0, 70))
def test_any_span_of_any_line_can_be_shown(text: str, start: int, length: int) -> None:
    span = Span("a.yaml", 1, 1, start, start + length)
    found = Finding("x", "note", span, "m")
    assert print_text([Sheet("a.yaml", "", "", text, (found,))]).endswith("1 recipe: 1 note\n")


def test_colour_is_only_for_terminals() -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    assert wants_colour(Terminal(), {})
    assert not wants_colour(Terminal(), {"NO_COLOR": "1"})
    assert not wants_colour(Terminal(), {"TERM": "dumb"})
    assert not wants_colour(io.StringIO(), {})
    plain = print_text([one("a: 1\n", "1")])
    coloured = print_text([one("a: 1\n", "1")], colour=True)
    assert "\x1b[31m" in coloured and "\x1b" not in plain
    for code in ("31", "1", "0"):
        coloured = coloured.replace(f"\x1b[{code}m", "")
    assert coloured == plain


def test_one_line_each() -> None:
    assert print_lines([one("a: 1\n", "1")]) == "a.yaml:1:4: error[pair-disagrees] they differ\n"


def test_json_keeps_its_schema(prove: Proven) -> None:
    source = (
        "title: Brot 🥖\ningredients:\n  - 250 g or 1 cup flour\nsteps:\n  - Bake {milk}.\n"
        "video: {address: 'https://video.example/x'}\n"
    )
    recipe, found = prove(source)
    data = json.loads(print_json([sheet(recipe, found)]))
    jsonschema.validate(data, SCHEMA, cls=jsonschema.Draft202012Validator)
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert data["version"] == 1
    assert data["summary"]["recipes"] == 1
    assert data["summary"]["errors"] == sum(f.severity == "error" for f in found) > 0
    first = next(f for f in data["recipes"][0]["findings"] if f["check"] == "pair-disagrees")
    assert source[first["place"]["start"] : first["place"]["end"]] == "1 cup"
    edit = first["fixes"][0]["edits"][0]
    assert source[: edit["place"]["start"]] + edit["text"] + source[edit["place"]["end"] :] == source.replace(
        "1 cup", "2 cups"
    )


@pytest.mark.parametrize("field", ["check", "place", "fixes", "severity"])
def test_the_schema_would_notice_a_missing_field(field: str) -> None:
    data = json.loads(print_json([one("a: 1\n", "1")]))
    jsonschema.validate(data, SCHEMA)
    del data["recipes"][0]["findings"][0][field]
    with pytest.raises(jsonschema.ValidationError, match=field):
        jsonschema.validate(data, SCHEMA)


def test_the_closing_line_and_the_exit_code() -> None:
    clean = Sheet("b.yaml", "Cake", "cake", "", ())
    assert summary([clean]) == "1 recipe: nothing found"
    assert exit_code([clean]) == 0
    assert summary([clean, one("a: 1\n", "1")]) == "2 recipes: 1 error"
    assert exit_code([clean, one("a: 1\n", "1")]) == 1
    span = Span("a.yaml", 1, 1, 0, 1)
    note = Finding("x", "note", span, "m", fixes=(Fix("f", (Edit(span, "b"),)),))
    assert exit_code([Sheet("a.yaml", "", "", "a", (note,))]) == 0
    assert summary([Sheet("a.yaml", "", "", "a", (note, note))]) == "1 recipe: 2 notes"
    unreadable = Finding("source-unreadable", "error", span, "m")
    assert exit_code([Sheet("a.yaml", "", "", "a", (unreadable,))]) == 2
