"""Structured data in a saved page: JSON-LD and microdata become one kind of item. Nothing is fetched.

JSON-LD: W3C JSON-LD 1.1, as far as pages with schema.org use it (``@graph``, ``@id``, arrays). Microdata: the
algorithms of the HTML standard (WHATWG HTML, section "Microdata"), with ``itemref``. The page is parsed by justhtml,
which follows the same standard and has no dependencies of its own; a library for all formats of structured data brings
seventeen, an RDF store among them.
"""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pipeline.recipe.layout import clean

_SCHEMA = re.compile(r"(?:https?://(?:www\.)?schema\.org/|schema:)", re.IGNORECASE)
# Attributes that hold a microdata value: the HTML standard, "Values: the value of a property".
_VALUES = {
    "meta": "content", "audio": "src", "embed": "src", "iframe": "src", "img": "src", "source": "src",
    "track": "src", "video": "src", "a": "href", "area": "href", "link": "href", "object": "data", "data": "value",
    "meter": "value", "time": "datetime",
}  # fmt: skip
_BLOCKS = frozenset(
    [
        "p",
        "div",
        "li",
        "ul",
        "ol",
        "br",
        "tr",
        "table",
        "section",
        "article",
        "header",
        "footer",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "dt",
        "dd",
        "dl",
        "blockquote",
        "hr",
    ]
)
_SILENT = frozenset(["script", "style", "template", "noscript", "head", "title"])
_DEEPEST = 60  # levels of nested data; no recipe has more, and a page may be made to have


@dataclass(slots=True)
class Item:
    """One thing described: its types without their address ("Recipe"), and its properties, each with all values in
    the page's order. A value is a text (HTML and entities still in it) or another item."""

    types: tuple[str, ...] = ()
    identity: str = ""
    properties: dict[str, list[str | Item]] = field(default_factory=dict)

    def all(self, name: str) -> list[str | Item]:
        return self.properties.get(name, [])

    def first(self, *names: str) -> str | Item | None:
        """The first value of the first of these properties that has one."""
        return next((values[0] for name in names if (values := self.all(name))), None)

    def text(self, *names: str) -> str:
        """That value as plain text on one line, "" where there is none or it is an item without a name."""
        value = self.first(*names)
        if isinstance(value, Item):
            value = value.first("name", "text", "url", "@value")
        return " ".join(plain(value).split()) if isinstance(value, str) else ""

    def texts(self, name: str) -> list[str]:
        """All its values as plain texts, lines kept."""
        found = []
        for value in self.all(name):
            if isinstance(value, Item):
                value = value.text("name", "text", "url")
            if said := plain(value):
                found.append(said)
        return found


def items(page: str | bytes) -> tuple[list[Item], list[str]]:
    """All items of a page that are in no other, JSON-LD first, and notes about what could not be read.

    Bytes are decoded as the HTML standard has it (BOM, ``meta charset``)."""
    from justhtml import JustHTML

    root = JustHTML(page, sanitize=False).root
    notes: list[str] = []
    found: list[Item] = []
    for n, text in enumerate(_scripts(root), 1):
        data = _loaded(text, n, notes)
        if data is not None:
            found += _top(data)
    found += _micro(root)
    return found, notes


def walk(every: list[Item]) -> Iterator[Item]:
    """Each item and those inside it, outermost first, each once."""
    stack = list(reversed(every))
    seen: set[int] = set()
    while stack:
        item = stack.pop()
        if id(item) in seen:
            continue
        seen.add(id(item))
        yield item
        inner = [v for values in item.properties.values() for v in values if isinstance(v, Item)]
        stack += reversed(inner)


def plain(text: str) -> str:
    """Text without HTML: entities read, tags gone, a line for each paragraph or list item."""
    for _ in range(2):  # some pages escape their text twice
        if "&" in text:
            text = html.unescape(text)
    if re.search(r"</?[a-zA-Z][^<>]*>", text):
        from justhtml import JustHTML

        text = _inner(JustHTML(text, sanitize=False).root)
    text = re.sub(r"[\u200b\u200c\u200d\u2060\ufeff\u00ad]", "", text).replace("\u00a0", " ")
    lines = [clean(line) for line in text.splitlines()]
    return "\n".join(line for line in lines if line)


def _nodes(root: Any) -> Iterator[Any]:
    """All nodes in the page's order, without recursion: pages are nested deeper than Python likes."""
    stack = [root]
    while stack:
        node = stack.pop()
        yield node
        stack += reversed(getattr(node, "children", None) or [])


def _attribute(node: Any, name: str) -> str | None:
    attributes = getattr(node, "attrs", None)
    if not attributes or name not in attributes:
        return None
    return attributes[name] or ""


def _scripts(root: Any) -> list[str]:
    return [
        "".join(child.data or "" for child in node.children or ())
        for node in _nodes(root)
        if node.name == "script"
        and (_attribute(node, "type") or "").split(";")[0].strip().lower() == "application/ld+json"
    ]


def _inner(node: Any) -> str:
    """The text in a node, a break at each block."""
    out: list[str] = []
    stack: list[Any] = [node]
    while stack:
        one = stack.pop()
        if isinstance(one, str):
            out.append(one)
        elif one.name == "#text":
            out.append(re.sub(r"\s+", " ", one.data or ""))
        elif one.name not in _SILENT or one is node:
            edge = ["\n"] if one.name in _BLOCKS else []
            stack += [*edge, *reversed(getattr(one, "children", None) or []), *edge]
    return "".join(out)


def _loaded(text: str, number: int, notes: list[str]) -> Any:
    """The data of one JSON-LD block; what pages do wrong is mended where it is plain what was meant."""
    if not text.strip():
        return None
    trimmed = re.sub(r"^\s*(?:<!--|(?://)?\s*<!\[CDATA\[)|(?:-->|(?://)?\s*\]\]>)\s*$", "", text).strip().rstrip(";")
    problem: json.JSONDecodeError | None = None
    for tried in (trimmed, re.sub(r",(\s*[}\]])", r"\1", trimmed), html.unescape(trimmed)):
        try:
            return json.loads(tried, strict=False)
        except json.JSONDecodeError as error:
            problem = problem or error
        except RecursionError:
            notes.append(f"block {number} of the page's JSON-LD is nested too deeply to read; it was left out")
            return None
    assert problem is not None
    notes.append(
        f"block {number} of the page's JSON-LD cannot be read: {problem.msg.lower()} in its line {problem.lineno},"
        f" column {problem.colno}; it was left out"
    )
    return None


def _top(data: Any) -> list[Item]:
    """The items of a JSON-LD block; references (``@id``) are put in place of what they name."""
    known: dict[str, Item] = {}
    found = [value for value in _read(data, known, 0) if isinstance(value, Item)]
    for item in list(walk(found)):
        for values in item.properties.values():
            for n, value in enumerate(values):
                if isinstance(value, Item) and not value.properties and value.identity in known:
                    values[n] = known[value.identity]
    return found


def _read(data: Any, known: dict[str, Item], depth: int) -> list[str | Item]:
    if depth > _DEEPEST or data is None:
        return []
    if isinstance(data, list):
        return [value for one in data for value in _read(one, known, depth + 1)]
    if isinstance(data, bool):
        return [str(data).lower()]
    if not isinstance(data, dict):
        return [str(data)]
    if "@value" in data:
        return _read(data["@value"], known, depth + 1)
    if "@list" in data or "@set" in data:
        return _read(data.get("@list", data.get("@set")), known, depth + 1)
    types = tuple(_SCHEMA.sub("", str(t)) for t in _listed(data.get("@type", data.get("type"))))
    item = Item(types, str(data.get("@id") or ""))
    for key, value in data.items():
        if key == "@graph" or not isinstance(key, str) or key.startswith("@"):
            continue
        item.properties.setdefault(_SCHEMA.sub("", key), []).extend(_read(value, known, depth + 1))
    if item.identity and (item.properties or item.identity not in known):
        known[item.identity] = item
    graph = _read(data["@graph"], known, depth + 1) if "@graph" in data else []
    return [*([item] if item.properties or item.types or not graph else []), *graph]


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _micro(root: Any) -> list[Item]:
    """The top-level microdata items: those with ``itemscope`` and no ``itemprop``."""
    by_id: dict[str, Any] = {}
    tops: list[Any] = []
    for node in _nodes(root):
        if name := _attribute(node, "id"):
            by_id.setdefault(name, node)
        if _attribute(node, "itemscope") is not None and _attribute(node, "itemprop") is None:
            tops.append(node)
    return [_item(node, by_id, frozenset()) for node in tops]


def _item(node: Any, by_id: dict[str, Any], above: frozenset[int]) -> Item:
    types = tuple(_SCHEMA.sub("", t) for t in (_attribute(node, "itemtype") or "").split())
    item = Item(types, _attribute(node, "itemid") or "")
    above = above | {id(node)}
    if len(above) > _DEEPEST:
        return item
    referred = [by_id[name] for name in (_attribute(node, "itemref") or "").split() if name in by_id]
    stack = [*reversed(referred), *reversed(node.children or [])]
    seen: set[int] = set()
    while stack:
        one = stack.pop()
        if id(one) in seen or id(one) in above:
            continue
        seen.add(id(one))
        scope = _attribute(one, "itemscope") is not None
        names = (_attribute(one, "itemprop") or "").split()
        if names:
            value = _item(one, by_id, above) if scope else _value(one)
            for name in names:
                item.properties.setdefault(_SCHEMA.sub("", name), []).append(value)
        if not scope:
            stack += reversed(getattr(one, "children", None) or [])
    return item


def _value(node: Any) -> str:
    """A property's value: an attribute where the element has one for it, else its text."""
    attribute = _attribute(node, _VALUES.get(node.name, "content"))
    if attribute is not None:
        return attribute
    return html.escape(_inner(node), quote=False)
