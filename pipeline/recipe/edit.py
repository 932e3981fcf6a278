"""Surgical edits of a person's source: a few characters in or out, every other byte as it was."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Mapping as Mapping_
from collections.abc import Sequence
from pathlib import Path

from pipeline.recipe.compose import Leaf, Listing, Mapping, Node, compose
from pipeline.recipe.model import Recipe
from pipeline.recipe.names import Names
from pipeline.recipe.source import Source, source_of
from pipeline.recipe.span import Span
from pipeline.recipe.spec import STEP
from pipeline.recipe.values import say_moment

Change = tuple[Span, str]  # what stands at the span is replaced by the text

_FIELDS = frozenset(f.name for f in STEP)


class ChangedError(Exception):
    """The file is no longer what was read; nothing was written."""


def apply(source: str, changes: Sequence[Change]) -> str:
    """The source with all changes made. Two changes may meet but not overlap, and two insertions at one place go in
    in the order given. Raises ValueError for an overlap, or a span that is not inside the source."""
    ordered = sorted(enumerate(changes), key=lambda c: (c[1][0].start, c[1][0].end, c[0]))
    out: list[str] = []
    pos = 0
    for _, (span, text) in ordered:
        if not 0 <= span.start <= span.end <= len(source):
            raise ValueError(f"{span}: the change lies outside the file")
        if span.start < pos:
            raise ValueError(f"{span}: two changes overlap")
        out += [source[pos : span.start], text]
        pos = span.end
    out.append(source[pos:])
    return "".join(out)


def set_at(recipe: Recipe, step: int, ms: int) -> tuple[Change, ...]:
    """The changes that make ``ms`` (whole milliseconds) the moment of the step with that index.

    An `at:` that stands there is replaced; else one is put before the step's text, and a step that is plain text
    becomes one with fields. Raises IndexError for a step that is not there, ValueError for a moment below zero.
    """
    return set_all_at(recipe, {step: ms})


def set_all_at(recipe: Recipe, moments: Mapping_[int, int | None]) -> tuple[Change, ...]:
    """The same for several steps at once: step index to whole milliseconds, None for a step that loses its moment (its
    `at:` stays, empty, with a remark of what stood there)."""
    source = source_of(recipe.source, str(recipe.path))
    nodes = _step_nodes(source)
    names = Names(recipe.components)
    changes: list[Change] = []
    for index in sorted(moments):
        if not 0 <= index < len(nodes):
            raise IndexError(f"there is no step {index + 1}")
        ms = moments[index]
        if ms is None:
            changes += _without_moment(source, nodes[index])
        else:
            changes += _step_changes(source, nodes[index], say_moment(ms), names)
    return tuple(changes)


def _step_nodes(source: Source) -> list[Node]:
    root, _ = compose(source)
    assert isinstance(root, Mapping)
    steps = next(value for key, value in root.pairs if key == "steps")
    return steps.items if isinstance(steps, Listing) else [steps]


def _step_changes(source: Source, node: Node, moment: str, names: Names) -> list[Change]:
    if isinstance(node, Leaf):
        return _plain_step(source, node, moment)
    assert isinstance(node, Mapping)
    for key, value in node.pairs:
        if key != "at":
            continue
        assert isinstance(value, Leaf)
        if value.span.end > value.span.start:
            return [(value.span, moment)]
        colon = source.text.index(":", key.span.end)
        return [(source.span(colon + 1, colon + 1), f" {moment}")]
    before = next(
        (key for key, _ in node.pairs if key == "text" or (key not in _FIELDS and names.part(key) is not None)),
        node.pairs[0][0],
    )
    here = source.span(before.span.start, before.span.start)
    if node.flow:
        return [(here, f"at: {moment}, ")]
    return [(here, f"at: {moment}{_newline(source)}{' ' * _indent(source, here)}")]


def _without_moment(source: Source, node: Node) -> list[Change]:
    """`at: 1:05` becomes `at: # was 1:05; cut`; inside braces, where no remark can stand, `at: `."""
    value = next((v for key, v in node.pairs if key == "at"), None) if isinstance(node, Mapping) else None
    if value is None or value.span.end == value.span.start:
        return []
    assert isinstance(node, Mapping)
    typed = source.text[value.span.start : value.span.end]
    return [(value.span, "" if node.flow or "\n" in typed else f"# was {typed}; cut")]


def _indent(source: Source, here: Span) -> int:
    """The column of a mapping's names, counted from 0."""
    return here.column - 1


def _newline(source: Source) -> str:
    m = re.search(r"\r\n|\n|\r", source.text)
    return m.group() if m else "\n"


def _plain_step(source: Source, leaf: Leaf, moment: str) -> list[Change]:
    """`- Mix it.` becomes `- at: 1:05` and `text: Mix it.` below, its further lines indented as much more."""
    start, end = leaf.span.start, leaf.span.end
    column = leaf.span.column - 1
    line = source.line(leaf.span.line)
    dash = re.match(r"([ \t]*(?:- +)*)-[ \t]+$", line[:column])
    if dash is None:  # in a flow list, or a single step that stands without a dash
        return _lone_step(source, leaf, moment)
    newline = _newline(source)
    changes: list[Change] = [(source.span(start, start), f"at: {moment}{newline}{' ' * column}text: ")]
    shift = " " * (column - len(dash[1]))
    last = source.span(max(end - 1, start), end).line
    for number in range(leaf.span.line + 1, last + 1):
        if source.line(number).strip():
            at = source.starts[number - 1]
            changes.append((source.span(at, at), shift))
    return changes


def _lone_step(source: Source, leaf: Leaf, moment: str) -> list[Change]:
    """A text in a flow list, or `steps: text`: put into braces, in double quotes where it must be."""
    typed = source.text[leaf.span.start : leaf.span.end]
    if leaf.style in ("|", ">"):
        raise ValueError("write the step as a list item, `- `, before it can have a moment")
    if leaf.style == "" and re.search(r"[,\[\]{}]|: ", typed):
        typed = '"' + str(leaf.text).replace("\\", "\\\\").replace('"', '\\"') + '"'
    return [(leaf.span, f"{{at: {moment}, text: {typed}}}")]


def write(path: Path, old: bytes, text: str) -> None:
    """Puts ``text`` in place of a file that still holds ``old``: whole or not at all, its mode kept.

    Raises ChangedError if somebody changed the file meanwhile, OSError if it cannot be written.
    """
    target = path.resolve()  # a link stays one
    mode = target.stat().st_mode
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    aside = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(text.encode("utf-8"))
            stream.flush()
            os.fsync(stream.fileno())
        aside.chmod(mode & 0o7777)
        if target.read_bytes() != old:
            raise ChangedError(f"{path} was changed meanwhile; nothing was written")
        aside.replace(target)
    finally:
        aside.unlink(missing_ok=True)
