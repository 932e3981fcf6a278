"""Surgical edits: what was asked for changes, every other byte stays."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.recipe.edit import ChangedError, apply, set_all_at, set_at, write
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read, read_text
from pipeline.recipe.source import source_of

PATH = Path("x/recipe.yaml")
DEMO = sorted((Path(__file__).parents[2] / "content" / "recipes").glob("*/recipe.yaml"))

# Steps as people write them, each a list item's text after "- " and before the next; `dough` is a component.
FORMS = {
    "plain": "  - dough: Mix it.\n",
    "plain, quoted": "  - \"dough\": 'Mix it.'\n",
    "short, with more": "  - dough: Mix it.   # slowly\n    title: Mix\n",
    "short, literal": "  - dough: |\n      Mix it.\n\n        deeper\n\n",
    "long": "  - component: dough\n    title: Mix\n    text: >-\n      Mix\n      it.\n",
    "text first": "  - text: Mix it.\n    component: dough\n",
    "comment after the dash": "  -   # mixing\n    component: dough\n    text: Mix it.\n",
    "wide dash": "  -   component: dough\n      text: Mix it.\n",
    "flow": '  - {component: dough, text: "Mix it.", title: Mix}\n',
    "has a moment": "  - component: dough\n    at: 0:30   # a guess\n    text: Mix it.\n",
    "has an empty moment": "  - component: dough\n    at:\n    text: Mix it.\n",
    "has a moment in flow": "  - {at: 0:30, component: dough, text: Mix it.}\n",
    "has a quoted moment": "  - dough: Mix it.\n    at: '0:30'\n",
}
LONE = {
    "plain": "  - Mix it.   # slowly\n",
    "plain, two lines": "  - Mix it\n    slowly, then\n\n    rest.\n",
    "plain, badly indented": "  - Mix it\n      slowly\n   then rest.\n",
    "double quotes": '  - "Mix: it \\\n    slowly, {{braces}}"\n',
    "single quotes": "  - 'Mix: it\n\n    slowly'\n",
    "literal": "  - |\n    Mix it.\n\n      deeper\n    rest.\n\n",
    "literal with an indicator": "  - |2-\n      Mix it.\n    rest.\n",
    "folded, kept": "  - >+\n    Mix it.\n    slowly\n\n\n",
    "literal, far in": "  -   |\n         Mix it.\n         rest\n",
    "mapping": "  - text: Mix it.\n    title: Mix\n",
    "two dashes deep": "  -    Mix it.\n",
}
HEAD = "title: a # one\nsummary: >\n  b\n  c\ncomponents:\n  dough: [1 cup flour]\n  sauce: [1 cup oil]\nsteps:\n"
LONE_HEAD = "title: a # one\ningredients: [1 cup flour]\nsteps:\n"
TAIL = "# the end  \nnotes: [x,  y]\n"


def same_but_for_moments(old: Recipe, new: Recipe, moments: dict[int, int]) -> None:
    assert len(new.steps) == len(old.steps)
    for i, (a, b) in enumerate(zip(old.steps, new.steps, strict=True)):
        assert b.at == moments.get(i, a.at)
        assert (b.text, b.title, b.component) == (a.text, a.title, a.component)
    assert (new.title, new.notes, new.summary) == (old.title, old.notes, old.summary)


def changed_only_there(old: str, new: str, changes: list[tuple[int, int, str]]) -> None:
    """Taking the inserted text out again and putting the old back gives the old source."""
    shift = 0
    for start, end, text in sorted(changes):
        here = start + shift
        assert new[here : here + len(text)] == text
        new = new[:here] + old[start:end] + new[here + len(text) :]
    assert new == old


@settings(max_examples=150)
@given(
    st.booleans(),
    st.lists(st.sampled_from(sorted(FORMS)), min_size=1, max_size=4),
    st.lists(st.sampled_from(sorted(LONE)), min_size=1, max_size=4),
    st.sampled_from(["\n", "\r\n", "\r"]),
    st.sampled_from(["", "\ufeff"]),
    st.data(),
)
def test_a_moment_is_set_in_any_form_of_step(
    several: bool, forms: list[str], lone: list[str], newline: str, bom: str, data: st.DataObject
) -> None:
    body = "".join(FORMS[f] for f in forms) if several else "".join(LONE[f] for f in lone)
    source = bom + ((HEAD if several else LONE_HEAD) + body + TAIL).replace("\n", newline)
    old = read_text(source, PATH)
    moments = data.draw(st.dictionaries(st.integers(0, len(old.steps) - 1), st.integers(0, 4 * 3_600_000), min_size=1))
    changes = set_all_at(old, moments)
    new_source = apply(source, changes)
    same_but_for_moments(old, read_text(new_source, PATH), moments)
    changed_only_there(source, new_source, [(s.start, s.end, t) for s, t in changes])
    bare = new_source.replace("\r\n", "") if newline == "\r\n" else new_source
    assert newline == "\r" or "\r" not in bare
    # once there, a moment is replaced in place
    again = read_text(new_source, PATH)
    for index in moments:
        ((span, text),) = set_at(again, index, 1000)
        assert text.strip() == "0:01"
        assert "\n" not in new_source[span.start : span.end]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("- at: 1:05\n  text: Drink it.", "- at: # was 1:05; cut\n  text: Drink it."),
        ('- text: Drink it.\n  at:   "1:05"   # guess', '- text: Drink it.\n  at:   # was "1:05"; cut   # guess'),
        ("- {at: 1:05, text: Drink it.}", "- {at: , text: Drink it.}"),
        ("- Drink it.", "- Drink it."),
        ("- at:\n  text: Drink it.", "- at:\n  text: Drink it."),
    ],
)
def test_a_moment_is_taken_out(before: str, after: str) -> None:
    head = "title: a\ningredients: [1 cup water]\nsteps:\n"
    old = read_text(f"{head}{before}\n", PATH)
    new = apply(old.source, set_all_at(old, {0: None}))
    assert new == f"{head}{after}\n"
    again = read_text(new, PATH)
    assert again.steps[0].at is None
    assert read_text(apply(new, set_at(again, 0, 65_000)), PATH).steps[0].at == 65_000


@pytest.mark.parametrize("path", DEMO, ids=[p.parent.name for p in DEMO])
def test_the_demo_takes_moments(path: Path) -> None:
    old = read(path)
    moments = {i: 1000 * (7 + 61 * i) for i in range(len(old.steps))}
    new = read_text(apply(old.source, set_all_at(old, moments)), path)
    same_but_for_moments(old, new, moments)


def test_one_step_without_a_dash_and_steps_in_a_flow_list() -> None:
    one = read_text("title: a\ningredients: [1 cup water]\nsteps: Drink it, all.\n", PATH)
    new = apply(one.source, set_at(one, 0, 65_000))
    assert new.splitlines()[2] == 'steps: {at: 1:05, text: "Drink it, all."}'
    assert read_text(new, PATH).steps[0].at == 65_000
    flow = read_text("title: a\ningredients: [1 cup water]\nsteps: [Drink it., 'Or: not.']\n", PATH)
    new = apply(flow.source, set_all_at(flow, {0: 0, 1: 42_500}))
    assert new.splitlines()[2] == "steps: [{at: 0:00, text: Drink it.}, {at: 0:42.5, text: 'Or: not.'}]"
    assert [s.at for s in read_text(new, PATH).steps] == [0, 42_500]


def test_what_cannot_be_set() -> None:
    recipe = read_text("title: a\ningredients: [1 cup water]\nsteps: [a]\n", PATH)
    with pytest.raises(IndexError, match="no step 2"):
        set_at(recipe, 1, 0)
    with pytest.raises(ValueError, match="negative"):
        set_at(recipe, 0, -1)


@settings(max_examples=150)
@given(st.text("ab\n½🍞", max_size=30), st.data())
def test_changes_are_made_where_they_belong(text: str, data: st.DataObject) -> None:
    cuts = sorted(data.draw(st.lists(st.integers(0, len(text)), max_size=8)))
    source = source_of(text, "r.yaml")
    pairs = list(zip(cuts[::2], cuts[1::2], strict=False))
    changes = [(source.span(a, b), data.draw(st.text("xyz", max_size=3))) for a, b in pairs]
    expected = text
    for span, new in reversed(changes):
        expected = expected[: span.start] + new + expected[span.end :]
    shuffled = data.draw(st.permutations(changes)) if len(set(pairs)) == len(pairs) else changes
    if not any(a == c and b == c and (c, d) != (a, b) for a, b in pairs for c, d in pairs):
        assert apply(text, shuffled) == expected


def test_changes_that_overlap_are_refused() -> None:
    source = source_of("abcdef", "r.yaml")
    with pytest.raises(ValueError, match="overlap"):
        apply("abcdef", [(source.span(0, 3), "x"), (source.span(2, 4), "y")])
    with pytest.raises(ValueError, match="outside"):
        apply("abc", [(source.span(2, 6), "x")])


def test_writing_keeps_the_mode_and_the_link(tmp_path: Path) -> None:
    real = tmp_path / "real.yaml"
    real.write_bytes(b"old\r\n")
    real.chmod(0o640)
    link = tmp_path / "recipe.yaml"
    link.symlink_to(real)
    write(link, b"old\r\n", "\ufeffnew\r\n")
    assert link.is_symlink()
    assert real.read_bytes() == b"\xef\xbb\xbfnew\r\n"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    assert sorted(p.name for p in tmp_path.iterdir()) == ["real.yaml", "recipe.yaml"]


def test_a_file_that_changed_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "recipe.yaml"
    path.write_bytes(b"hers")
    with pytest.raises(ChangedError, match="changed meanwhile"):
        write(path, b"old", "new")
    assert path.read_bytes() == b"hers"
    assert [p.name for p in tmp_path.iterdir()] == ["recipe.yaml"]
