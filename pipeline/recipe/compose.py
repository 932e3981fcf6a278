"""YAML text becomes nodes with places: leaves, lists and mappings, and nothing else.

The nodes are made from libyaml's events and not by its composer, because events come one at a time: nesting, aliases
and a second document are refused before anything is built from them. Nothing is resolved: ``no``, ``1:30`` and ``~``
stay what was typed, and each field reads its own kind.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, NamedTuple

import yaml

from pipeline.recipe.problem import Problem, SourceError
from pipeline.recipe.scalars import places_of
from pipeline.recipe.source import Source
from pipeline.recipe.span import Span, Text
from pipeline.recipe.syntax import quoted, syntax_problem

DEEPEST = 20  # levels; a recipe has 5

_Parser = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # libyaml where the installed PyYAML has it


class Leaf(NamedTuple):
    """A text. ``style`` is "" for a plain one, else ' " | or >. ``comment`` is what an unquoted text was cut at."""

    text: Text
    style: str
    span: Span


class Listing(NamedTuple):
    items: list[Node]
    span: Span
    flow: bool = False


class Mapping(NamedTuple):
    """Keys and values in the order typed; a key that stood twice is here once, the first time."""

    pairs: list[tuple[Text, Node]]
    span: Span
    flow: bool = False


Node = Leaf | Listing | Mapping


class _Open:
    """A list or mapping that is still being filled."""

    __slots__ = ("flow", "items", "key", "mapping", "pairs", "seen", "start")

    def __init__(self, start: int, flow: bool, mapping: bool) -> None:
        self.start = start
        self.flow = flow
        self.mapping = mapping
        self.items: list[Node] = []
        self.pairs: list[tuple[Text, Node]] = []
        self.key: Text | None = None
        self.seen: dict[str, Text] = {}


def compose(source: Source) -> tuple[Node | None, list[Problem]]:
    """The root node (None for an empty file), and what is wrong but does not hinder reading on.

    Raises SourceError where nothing after the place can be read: bad syntax, deep nesting, a second document.
    """
    return _Composer(source).run()


class _Composer:
    def __init__(self, source: Source) -> None:
        self.source = source
        self.bom = source.bom
        self.problems: list[Problem] = []
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.documents = 0

    def run(self) -> tuple[Node | None, list[Problem]]:
        bom = self.bom
        for event in self._events():
            kind = type(event)
            mark = event.start_mark
            start = mark.index + bom
            end = event.end_mark.index + bom
            if kind is yaml.ScalarEvent:
                if event.tag or event.anchor:
                    self._properties(start)
                    start = max(start, end - len(event.value))
                    mark = self.source.span(start, end)
                    self._put(self._leaf(event, mark.line, mark.column, start, end))
                else:
                    self._put(self._leaf(event, mark.line + 1, mark.column + 1, start, end))
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                if event.tag or event.anchor:
                    self._properties(start)
                if len(self.stack) >= DEEPEST:
                    raise self._refuse(
                        start,
                        start + 1,
                        f"this is nested more than {DEEPEST} levels deep",
                        "a recipe needs 5 levels at most; put a text that has brackets in quotes",
                    )
                self.stack.append(_Open(start, bool(event.flow_style), kind is yaml.MappingStartEvent))
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                self._close(end)
            elif kind is yaml.AliasEvent:
                self._alias(start, end)
            elif kind is yaml.DocumentStartEvent:
                self.documents += 1
                if self.documents > 1:
                    raise self._refuse(
                        start,
                        max(end, start + 1),
                        "a second document begins here",
                        "take out the line `---`; each recipe has a file of its own",
                    )
        return self.root, self.problems

    def _events(self) -> Iterator[Any]:
        """PyYAML's events, one by one; its stubs know neither marks nor kinds well enough to be of use."""
        parser = _Parser(self.source.text[self.bom :])
        try:
            next_event = parser.get_event
            while (event := next_event()) is not None:
                yield event
        except yaml.YAMLError as error:
            raise SourceError([*self.problems, syntax_problem(error, self.source)], self.source.text) from None
        finally:
            parser.dispose()

    def _refuse(self, start: int, end: int, message: str, help: str) -> SourceError:
        problem = self.source.problem(self.source.span(start, end), message, help)
        return SourceError([*self.problems, problem], self.source.text)

    def _leaf(self, event: Any, line: int, column: int, start: int, end: int) -> Leaf:
        source, value, style = self.source, event.value, event.style or ""
        text = source.text
        shift = 1 if style in ("'", '"') else 0
        places: range = range(0)
        walk = None
        if style == "|" or style == ">":
            walk = partial(places_of, text, start, event.end_mark.index + self.bom, style, value)
            end = start + len(text[start:end].rstrip())
        elif text[start + shift : end - shift] == value:
            places = range(start + shift, end - shift + 1)
        else:
            walk = partial(places_of, text, start, end, style, value)
        span = Span(source.file, line, column, start, end)
        return Leaf(Text.at(value, span, places, source.starts, walk=walk), style, span)

    def _put(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        top = self.stack[-1]
        if not top.mapping:
            top.items.append(node)
        elif top.key is None:
            if isinstance(node, Leaf):
                top.key = node.text
            else:
                top.key = Text.at("", node.span, (node.span.start,), self.source.starts)
                self._wrong(
                    node.span,
                    "a name before a colon must be plain text",
                    f"put the text in quotes: `{quoted(self.source.line(node.span.line).strip(' -'))}`",
                )
        else:
            key, top.key = top.key, None
            first = top.seen.get(key)
            if first is None:
                top.seen[key] = key
                top.pairs.append((key, node))
            else:
                self._wrong(
                    key.span,
                    f"`{key}` stands twice; the first is in line {first.span.line}",
                    "keep one of the two, or put both texts under one name",
                )

    def _close(self, end: int) -> None:
        top = self.stack.pop()
        if not top.flow:  # libyaml ends a block where the next thing begins
            last = top.pairs[-1][1].span.end if top.pairs else top.items[-1].span.end if top.items else top.start
            end = max(top.start, last)
        span = self.source.span(top.start, end)
        if top.mapping:
            self._put(Mapping(top.pairs, span, top.flow))
        else:
            self._put(Listing(top.items, span, top.flow))

    def _properties(self, start: int) -> None:
        """An anchor or a tag: what a text that begins with `&` or `!` looks like to YAML."""
        source = self.source
        sign = source.text[start]
        here = source.span(start, start)
        line = source.line(here.line)[here.column - 1 :]
        word = line.split(maxsplit=1)[0] if line.split() else sign
        self._wrong(
            source.span(start, start + len(word)),
            f"a text cannot begin with `{sign}`",
            f"put it in quotes: `{quoted(line.strip())}`",
            "YAML takes it for a " + ("label to copy from" if sign == "&" else "type") + "; a recipe has none",
        )

    def _alias(self, start: int, end: int) -> None:
        source = self.source
        span = source.span(start, end)
        line = source.text[start : start + len(source.line(span.line)) - span.column + 1].strip()
        self._wrong(
            span,
            "a text cannot begin with `*`",
            f"put it in quotes: `{quoted(line)}`",
            "YAML takes it for a copy of something labelled before; a recipe has none",
        )
        self._put(Leaf(Text.at("", span, (start,), source.starts), "*", span))

    def _wrong(self, span: Span, message: str, help: str, why: str = "") -> None:
        self.problems.append(self.source.problem(span, message, help, why))
