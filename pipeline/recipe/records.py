"""The simple fields of a table, read by their kinds; mappings with named fields ("records") among them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pipeline.recipe.compose import Leaf, Listing, Mapping, Node
from pipeline.recipe.desk import Desk, is_empty, kind_of
from pipeline.recipe.span import Span, Text
from pipeline.recipe.spec import Field
from pipeline.recipe.values import (
    read_address,
    read_choice,
    read_date,
    read_file,
    read_flag,
    read_language,
    read_moment,
    read_slug,
    read_time,
    read_whole,
    read_yield,
)

_READERS = {
    "date": read_date,
    "flag": read_flag,
    "moment": read_moment,
    "time": read_time,
    "yield": read_yield,
    "slug": read_slug,
    "language": read_language,
    "file": read_file,
    "address": read_address,
    "number": read_whole,
}


def read_value(desk: Desk, field: Field, node: Node) -> Any:
    """One field's value by its kind; None where it is empty or wrong (then the desk knows).

    "record" gives a dict of its fields, "records" a list of (dict, Span); "texts" and "words" a tuple of Text.
    """
    kind = field.kind
    if kind == "record":
        return read_record(desk, field, node)
    if kind == "records":
        return read_records(desk, field, node)
    if kind in ("texts", "words"):
        return read_texts(desk, node, f"`{field.name}`", commas=kind == "words")
    text = desk.text(node, f"`{field.name}`")
    if text is None or kind in ("text", "marked"):
        return text
    if kind == "choice":
        return read_choice(desk, text, field.choices)
    return _READERS[kind](desk, text)


def read_record(desk: Desk, field: Field, node: Node) -> dict[str, Any] | None:
    """A mapping with the fields ``field.of``; a plain text stands for ``field.short``."""
    if isinstance(node, Leaf) and field.short:
        short = next(f for f in field.of if f.name == field.short)
        value = read_value(desk, short, node)
        return None if value is None else {short.name: value}
    if isinstance(node, Listing) and len(node.items) == 1:
        node = node.items[0]
    if not isinstance(node, Mapping):
        names = ", ".join(f"`{f.name}`" for f in field.of)
        desk.wrong(
            _first(desk, node),
            f"`{field.name}` has fields of its own, but here stands {kind_of(node)}",
            f"write {names} below it, each with a colon",
        )
        return None
    return read_fields(desk, field.of, node, f"`{field.name}`")


def read_fields(desk: Desk, table: Sequence[Field], node: Mapping, what: str) -> dict[str, Any]:
    """The values of a mapping's fields; empty and wrong ones are left out."""
    found = desk.fields(node, table, what)
    values = {f.name: read_value(desk, f, found[f.name]) for f in table if f.name in found}
    return {name: value for name, value in values.items() if value is not None}


def read_records(desk: Desk, field: Field, node: Node) -> list[tuple[dict[str, Any], Span]]:
    """A list of records, or one that stands alone."""
    items = node.items if isinstance(node, Listing) else [node]
    found: list[tuple[dict[str, Any], Span]] = []
    for item in items:
        if is_empty(item):
            desk.wrong(item.span, f"this entry of `{field.name}` is empty", "fill it in, or take it out")
            continue
        if isinstance(item, Listing):
            desk.wrong(_first(desk, item), f"an entry of `{field.name}` cannot be a list", "take the second dash out")
            continue
        values = read_record(desk, field, item)
        if values is not None:
            found.append((values, item.span))
    return found


def read_texts(desk: Desk, node: Node, name: str, commas: bool = False) -> tuple[Text, ...]:
    """A list of texts, or one text; ``commas`` part the one text."""
    if isinstance(node, Leaf):
        text = desk.text(node, name)
        if text is None:
            return ()
        return _parted(text) if commas else (text,)
    if isinstance(node, Mapping):
        desk.not_text(node, name)
        return ()
    found: list[Text] = []
    for item in node.items:
        text = desk.text(item, f"each of {name}")
        if text is not None:
            found.append(text)
        elif is_empty(item):
            desk.wrong(item.span, f"this entry of {name} is empty", "fill it in, or take it out")
    return tuple(found)


def _parted(text: Text) -> tuple[Text, ...]:
    parts: list[Text] = []
    start = 0
    for piece in text.split(","):
        part = text.slice(start, start + len(piece)).trimmed()
        if part:
            parts.append(part)
        start += len(piece) + 1
    return tuple(parts)


def _first(desk: Desk, node: Node) -> Span:
    """The first line of a node: the smallest place that shows what stands there."""
    line = desk.source.text[node.span.start : node.span.end].split("\n", 1)[0]
    return desk.source.span(node.span.start, node.span.start + max(len(line.rstrip()), 1))
