"""The channel's settings and its own ingredients: content/channel.yaml and content/ingredients.yaml."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pipeline.recipe.channel import Channel, ChapterRules, Link
from pipeline.recipe.compose import Leaf, Listing, Mapping, Node, compose
from pipeline.recipe.desk import Desk, is_empty, kind_of
from pipeline.recipe.problem import SourceError
from pipeline.recipe.records import read_fields
from pipeline.recipe.source import Source, load, source_of
from pipeline.recipe.span import Span
from pipeline.recipe.spec import CHANNEL


def read_channel(path: Path) -> Channel:
    """The channel's settings; all defaults where there is no such file. Raises SourceError."""
    if not path.exists():
        return Channel()
    return _channel(load(path)[0])


def read_channel_text(text: str, path: Path = Path("channel.yaml")) -> Channel:
    """The same from a text that would stand in ``path``. Raises SourceError."""
    return _channel(source_of(text, str(path)))


def _channel(source: Source) -> Channel:
    root, problems = compose(source)
    desk = Desk(source, problems)
    values: dict[str, Any] = {}
    if root is not None and not is_empty(root):
        if isinstance(root, Mapping):
            values = read_fields(desk, CHANNEL, root, "the channel")
        else:
            desk.wrong(
                source.span(root.span.start, root.span.start + 1),
                f"the channel's settings are names with values, but here stands {kind_of(root)}",
                "begin with `name: ` and the channel's name",
            )
    if "address" in values:
        values["address"] = str(values["address"]).rstrip("/")
    if "chapters" in values:
        values["chapters"] = ChapterRules(**values["chapters"])
    for name in ("social", "links"):
        if name in values:
            values[name] = tuple(
                Link(v["title"], v["address"]) for v, _ in values[name] if "title" in v and "address" in v
            )
    if desk.problems:
        raise SourceError(desk.problems, desk.source.text)
    return Channel(**values)


def read_ingredients(path: Path) -> tuple[list[dict[str, Any]], list[dict[str, Span]], Source]:
    """The rows of content/ingredients.yaml: plain dicts of texts, lists and dicts, and where each of a row's fields
    stands ("" for the row itself). Empty lists where there is no such file. Raises SourceError.

    What the fields mean is for ``measure.rows.rows_from``; ``line`` is added for its messages.
    """
    if not path.exists():
        return [], [], source_of("", str(path))
    source, _ = load(path)
    root, problems = compose(source)
    desk = Desk(source, problems)
    rows: list[dict[str, Any]] = []
    places: list[dict[str, Span]] = []
    if isinstance(root, Mapping) and all(isinstance(v, Mapping) for _, v in root.pairs):
        # `name:` with its fields below it, as an alternative to a list
        for key, value in root.pairs:
            assert isinstance(value, Mapping)
            rows.append({"name": str(key.trimmed()), **{str(k): _plain(v) for k, v in value.pairs}})
            places.append({"": key.span, "name": key.span, **{str(k): v.span for k, v in value.pairs}})
    elif isinstance(root, Listing):
        for item in root.items:
            if isinstance(item, Mapping):
                rows.append({str(k): _plain(v) for k, v in item.pairs})
                places.append({"": item.span, **{str(k): v.span for k, v in item.pairs}})
            else:
                desk.wrong(
                    item.span,
                    "an ingredient here has fields of its own",
                    "write `- name: spelt flour` and `cup: 110-130` below it",
                )
    elif root is not None and not is_empty(root):
        desk.wrong(
            source.span(root.span.start, root.span.start + 1),
            "this file is a list of ingredients",
            "write `- name: spelt flour` and `cup: 110-130` below it",
        )
    if desk.problems:
        raise SourceError(desk.problems, desk.source.text)
    return rows, places, source


def _plain(node: Node) -> Any:
    if isinstance(node, Leaf):
        return str(node.text.strip())
    if isinstance(node, Listing):
        return [_plain(item) for item in node.items]
    return {str(key): _plain(value) for key, value in node.pairs}
