"""Ingredients and the components that hold them, from nodes."""

from __future__ import annotations

import re

from pipeline.measure.grammar import read_amount, read_statements
from pipeline.measure.record import replace
from pipeline.recipe.compose import Leaf, Listing, Mapping, Node
from pipeline.recipe.desk import Desk, is_empty, kind_of
from pipeline.recipe.line import key_of, read_line
from pipeline.recipe.model import Component, IngredientLine
from pipeline.recipe.span import Text
from pipeline.recipe.spec import COMPONENT, INGREDIENT, STEP
from pipeline.recipe.uncommon import each_of, parted
from pipeline.recipe.values import read_flag

_FIELDS = frozenset(f.name for f in INGREDIENT)
_PART_FIELDS = frozenset(f.name for f in COMPONENT)
_STEP_FIELDS = frozenset(f.name for f in STEP)
_BULLET = re.compile(r"[-•*–]\s+")
_AND_ANOTHER = re.compile(r"\s+(?:\+|plus|and|&)\s+(?=[\d¼-¾⅐-⅞])", re.IGNORECASE)
_NO_NAMES = frozenset(("", "more", "extra", "additional", "another", "divided", "reserved", "each", "total"))
_STARTS_WITH_NUMBER = re.compile(r"[\d¼-¾⅐-⅞]|(?:an?|one|two|three|four|five|six|half|about)\s", re.IGNORECASE)


def read_lines(desk: Desk, node: Node, what: str) -> tuple[IngredientLine, ...]:
    """A list of ingredient lines; also one line, several in a block after `|`, or names with amounts."""
    lines = _lines(desk, node, what)
    for line in lines:
        desk.no_number(line.text)
    return lines


def _lines(desk: Desk, node: Node, what: str) -> tuple[IngredientLine, ...]:
    start = node.span.start
    if isinstance(node, Leaf):
        if not node.style and desk.dashed(start):
            return ()
        return tuple(line for part in _block(desk, node) for line in lines_in(part))
    if isinstance(node, Mapping):
        if not node.flow and desk.dashed(start):
            return ()
        if any(isinstance(value, Listing | Mapping) for _, value in node.pairs):
            keys = [key for key, value in node.pairs if isinstance(value, Listing | Mapping)]
            desk.wrong(
                keys[0].span,
                f"`{keys[0]}` looks like a part of the dish, and {what} hold lines only",
                "write `components:` in place of `ingredients:` where the recipe has parts",
            )
            return ()
        return tuple(line for key, value in node.pairs if (line := _named(desk, key, value)) is not None)
    found: list[IngredientLine] = []
    for item in node.items:
        found += _item(desk, item)
    return tuple(found)


def lines_in(text: Text) -> list[IngredientLine]:
    """One line for each of "1 tsp each salt and pepper", "salt and pepper, 1 tsp each", "2 eggs + 1 yolk"; any other
    text is one."""
    m = each_of(text)
    reads = read_statements(m["amount"].strip()) if m else None
    if m is None or reads is None:
        line = read_line(text)
        return _two(text, line) or [line]
    amount, start = text.slice(*m.span("amount")), m.start("names")
    names = [text.slice(start + a, start + b) for a, b in parted(m["names"])]
    return [read_line(Text.joined((amount, " ", name), amount.span)) for name in names]


def _two(text: Text, line: IngredientLine) -> list[IngredientLine] | None:
    """``2 eggs + 1 yolk``: two things, each with its own amount; None where what is added belongs to the first."""
    m = _AND_ANOTHER.search(text, 1) if line.amounts and line.size != "fruit" else None
    if m is None or ("(" in text[: m.start()] and ")" not in text[: m.start()]):
        return None
    first, second = read_line(text.slice(0, m.start())), read_line(text.slice(m.end(), len(text)))
    apart = first.amounts and first.key and second.amounts and second.key not in _NO_NAMES and not second.to_taste
    if not apart or first.note or first.key == second.key or second.key.startswith(("for ", "to ")):
        return None
    if second.note.startswith(("for ", "to ")):  # "2 tbsp sugar + 1 tsp cinnamon for rolling"
        first = read_line(Text.joined((first.text, ", ", second.note), first.text.span))
    return [first, second]


def _block(desk: Desk, leaf: Leaf) -> list[Text]:
    """The lines of a literal block; any other text is one line."""
    if leaf.style != "|":
        desk.hash(leaf)
        return [text] if (text := leaf.text.trimmed()) else []
    lines: list[Text] = []
    start = 0
    for piece in leaf.text.split("\n"):
        text = leaf.text.slice(start, start + len(piece)).trimmed()
        if m := _BULLET.match(text):
            text = text.slice(m.end(), len(text))
        if text:
            lines.append(text)
        start += len(piece) + 1
    return lines


def _item(desk: Desk, node: Node) -> list[IngredientLine]:
    if isinstance(node, Leaf):
        text = desk.text(node, "an ingredient")
        if text is None:
            if is_empty(node):
                desk.wrong(node.span, "this ingredient is empty", "write it after the dash, or take the dash out")
            return []
        return lines_in(text)
    if isinstance(node, Mapping):
        keys = [key for key, _ in node.pairs]
        if len(keys) == 1 and keys[0] not in _FIELDS:
            one = _named(desk, keys[0], node.pairs[0][1])
        else:
            one = _record(desk, node)
        return [] if one is None else [one]
    desk.wrong(
        node.span, "a list stands where one ingredient belongs", "give each ingredient a line of its own with `- `"
    )
    return []


def _named(desk: Desk, key: Text, value: Node) -> IngredientLine | None:
    """`water: 650 g or 2 3/4 cups, lukewarm`: the name first, as a shopping list has it."""
    if isinstance(value, Listing):
        desk.wrong(
            key.span,
            f"`{key}:` begins a list inside the list of ingredients",
            "parts of the dish stand under `components:`, each with its own ingredients",
        )
        return None
    if isinstance(value, Mapping):
        desk.wrong(
            key.span,
            f"`{key}` must be followed by an amount, not {kind_of(value)}",
            "write `- name: …` and `amount: …` on lines of their own, or all in one line",
        )
        return None
    name, amount = key.trimmed(), desk.text(value, f"the amount of `{key}`")
    if not name:
        desk.wrong(key.span, "an ingredient's name is missing before this colon", "write `- 650 g water`")
        return None
    if amount is None:
        return read_line(name)
    span = desk.source.span(key.span.start, value.span.end)
    begins = read_amount(amount, 0, bare=True)
    if _STARTS_WITH_NUMBER.match(name) and begins is None:
        line = f"{name}, {amount}"
        desk.wrong(
            key.span,
            "a colon and a space stand inside an ingredient line",
            f"write `{line}`, or put it in quotes",
            "a colon followed by a space ends a name",
        )
        return None
    if begins is None:
        return read_line(Text.joined((name, ", ", amount), span))
    cut = _first_comma(amount)
    return read_line(Text.joined((amount.slice(0, cut), " ", name, amount.slice(cut, len(amount))), span))


def _first_comma(text: str) -> int:
    """Where the first comma stands that is in no parenthesis and no number; the text's length if there is none."""
    depth = 0
    for i, char in enumerate(text):
        depth += {"(": 1, ")": -1}.get(char, 0)
        if char == "," and depth <= 0 and not text[i + 1 : i + 2].isdigit():
            return i
    return len(text)


def _record(desk: Desk, node: Mapping) -> IngredientLine | None:
    """The mapping form, for what does not fit into one line."""
    found = desk.fields(node, INGREDIENT, "an ingredient")
    texts = {k: desk.text(found[k], f"`{k}`") for k in ("name", "amount", "size", "note") if k in found}
    flags = {
        k: read_flag(desk, t) for k in ("optional", "divided") if k in found and (t := desk.text(found[k], f"`{k}`"))
    }
    name = texts.get("name")
    if name is None:
        return None
    amount, size, note = texts.get("amount"), texts.get("size"), texts.get("note")
    parts: list[Text | str] = [part for t in (amount, size, name) if t is not None for part in (t, " ")][:-1]
    if note is not None:
        parts += [", ", note]
    line = read_line(Text.joined(parts, node.span))
    if amount is not None and not line.amounts:
        desk.wrong(
            amount.span, f"`{amount}` is not an amount", "write it as `650 g or 2 3/4 cups`, `2`, or `1 (14 oz) can`"
        )
        return None
    return replace(
        line,
        name=name,
        key=key_of(name),
        size=str(size) if size else line.size,
        note=str(note) if note else line.note,
        optional=bool(flags.get("optional")) or line.optional,
        divided=bool(flags.get("divided")) or line.divided,
    )


def read_components(desk: Desk, node: Node) -> tuple[Component, ...]:
    """The parts of the dish, in the order typed."""
    if not isinstance(node, Mapping):
        desk.wrong(
            desk.source.span(node.span.start, min(node.span.end, node.span.start + 1)),
            f"`components` names the parts of the dish, each with its ingredients; here stands {kind_of(node)}",
            "write each part's name and a colon, its ingredients indented below it;"
            " a recipe of one part has `ingredients:`",
        )
        return ()
    found: dict[str, Component] = {}
    for key, value in node.pairs:
        name = key.trimmed()
        low = name.lower()
        if not name:
            desk.wrong(key.span, "a component needs a name before the colon", "write `dough:`")
        elif low in _STEP_FIELDS:
            desk.wrong(
                key.span, f"a component cannot be called `{name}`, which is a field of a step", f"write `the-{low}:`"
            )
        elif low in found:
            desk.wrong(
                key.span,
                f"`{name}` stands twice; the first is in line {found[low].span.line}",
                "give one of them another name",
            )
        else:
            found[low] = _component(desk, name, value)
    return tuple(found.values())


def _component(desk: Desk, key: Text, node: Node) -> Component:
    title = key.slice(0, len(key))
    capital = Text.at(key[:1].upper() + key[1:], key.span, title.places, title._starts, title.ends)
    span = desk.source.span(key.span.start, node.span.end)
    what = f"the ingredients of `{key}`"
    if isinstance(node, Mapping) and _is_record(node):
        found = desk.fields(node, COMPONENT, f"the component `{key}`")
        typed = desk.text(found["title"], "a component's title") if "title" in found else None
        lines = read_lines(desk, found["ingredients"], what) if "ingredients" in found else ()
        return Component(str(key), typed or capital, lines, span)
    return Component(str(key), capital, () if is_empty(node) else read_lines(desk, node, what), span)


def _is_record(node: Mapping) -> bool:
    return any(k in _PART_FIELDS or isinstance(v, Listing | Mapping) for k, v in node.pairs)
