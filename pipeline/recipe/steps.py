"""The steps: plain texts, `component: text`, or mappings with fields."""

from __future__ import annotations

from pipeline.recipe.compose import Leaf, Listing, Mapping, Node
from pipeline.recipe.desk import Desk, is_empty, near
from pipeline.recipe.marks import read_pieces
from pipeline.recipe.model import Component, Photo, Piece, Step
from pipeline.recipe.names import Names
from pipeline.recipe.records import read_value
from pipeline.recipe.span import Span, Text
from pipeline.recipe.spec import STEP
from pipeline.recipe.values import read_moment

_FIELDS = {f.name: f for f in STEP}


def read_steps(desk: Desk, node: Node, components: tuple[Component, ...]) -> tuple[Step, ...]:
    """All steps, in cooking order."""
    reader = _Steps(desk, components)
    if isinstance(node, Mapping) and not any(key in _FIELDS for key, _ in node.pairs):
        if desk.dashed(node.span.start):
            return ()
        desk.wrong(
            node.pairs[0][0].span,
            "`steps` is one list in cooking order",
            "write each step as `- component: text`, whichever part it belongs to",
        )
        return ()
    if isinstance(node, Leaf) and not node.style and desk.dashed(node.span.start):
        return ()
    items = node.items if isinstance(node, Listing) else [node]
    return tuple(step for item in items if (step := reader.step(item)) is not None)


def photo_of(values: dict[str, object], span: Span) -> Photo | None:
    """A Photo from a record's values; None where its file is missing (then a problem is told)."""
    file = values.get("file")
    if not isinstance(file, Text):
        return None
    alt, caption = values.get("alt", ""), values.get("caption", "")
    return Photo(file, alt if isinstance(alt, str) else "", span, caption if isinstance(caption, str) else "")


class _Steps:
    def __init__(self, desk: Desk, components: tuple[Component, ...]) -> None:
        self.desk = desk
        self.components = components
        self.names = Names(components)

    def step(self, node: Node) -> Step | None:
        desk = self.desk
        if isinstance(node, Mapping) and node.pairs:
            return self.mapping(node)
        if isinstance(node, Leaf):
            text = desk.text(node, "a step")
            if text is None:
                if is_empty(node):
                    desk.wrong(node.span, "this step is empty", "write what to do after the dash, or take the dash out")
                return None
            if len(self.components) > 1:
                self.homeless(text.span, text)
            return Step(text, self.pieces(text, 0), 0, node.span)
        desk.wrong(
            desk.source.span(node.span.start, min(node.span.start + 1, node.span.end)),
            "a list stands where one step belongs",
            "give each step a line of its own with `- `",
        )
        return None

    def pieces(self, text: Text, component: int) -> tuple[Piece, ...]:
        return read_pieces(self.desk, text, self.names, component)

    def homeless(self, span: Span, text: str) -> None:
        """A step that does not say its component, where there are several."""
        keys = ", ".join(f"`{c.key}`" for c in self.components)
        short = text if len(text) < 40 else f"{text[:36].rstrip()} …"
        first = self.components[0].key
        self.desk.wrong(
            self.desk.source.span(span.start, span.start + len(text.split("\n", 1)[0])),
            f"this step does not say which component it belongs to: {keys}",
            f"write `- {first}: {short.splitlines()[0]}`, or a line `component: {first}`;"
            " a step that brings the parts together may have an empty component, such as `to serve:`",
        )

    def mapping(self, node: Mapping) -> Step | None:
        desk = self.desk
        own: tuple[int, Text] | None = None
        text_node: Node | None = None
        known: list[tuple[Text, Node]] = []
        trouble = False
        for key, value in node.pairs:
            part = self.names.part(key) if key not in _FIELDS else None
            if key in _FIELDS:
                known.append((key, value))
            elif part is not None:
                if text_node is not None:
                    desk.wrong(key.span, "this step belongs to two components", "make two steps of it")
                    trouble = True
                own, text_node = (part, key), value
            elif len(node.pairs) == 1:
                self.stranger(node, key, value)
                return None
            else:
                desk.unknown(key, STEP, "a step", [c.key for c in self.components if c.key])
                trouble = True
        fields = {str(key): value for key, value in known if not is_empty(value)}
        if text_node is not None:
            for name in ("text", "component"):
                if name in fields and own:
                    desk.wrong(
                        fields[name].span,
                        f"this step has `{own[1]}:` and `{name}:` too",
                        f"keep one: `{own[1]}:` says both the component and the text",
                    )
                    trouble = True
        component = self.component(fields, own, node, trouble)
        return self.build(node, fields, text_node, component, trouble)

    def stranger(self, node: Mapping, key: Text, value: Node) -> None:
        """`- Word: text` where Word is no component."""
        desk = self.desk
        if node.flow or (is_empty(value) and value.span.start == value.span.end and not key.strip()):
            desk.not_text(node, "a step")
            return
        keys = [c.key for c in self.components if c.key]
        if "{" in key:  # "Stir {flour: 1 cup} in" without quotes
            desk.split(node, "a colon and a space stand inside a text without quotes")
            return
        hint = near(key, [*keys, *_FIELDS])
        listed = f"; the components are {', '.join(f'`{k}`' for k in keys)}" if keys else ""
        line = desk.source.text[key.span.start : max(value.span.end, key.span.end)].split("\n", 1)[0].rstrip()
        quoted = f'`- "{line}"`' if '"' not in line and len(line) < 60 else "quotes around it"
        first = f"did you mean `{hint}`? " if hint else ""
        desk.wrong(
            key.span,
            f"`{key}` is neither a component nor a field of a step{listed}",
            f"{first}if the colon belongs to the text, write {quoted}",
        )

    def component(self, fields: dict[str, Node], own: tuple[int, Text] | None, node: Mapping, trouble: bool) -> int:
        desk = self.desk
        if own is not None:
            return own[0]
        if "component" in fields:
            name = desk.text(fields["component"], "`component`")
            if name is None:
                return 0
            part = self.names.part(name)
            if part is None:
                keys = [c.key for c in self.components if c.key]
                hint = near(name, keys)
                if not keys:
                    desk.wrong(
                        name.span,
                        f"`{name}` is not a component; this recipe has one part and no names",
                        "take the line out, or name the parts under `components:`",
                    )
                else:
                    desk.wrong(
                        name.span,
                        f"`{name}` is not a component",
                        f"did you mean `{hint}`?" if hint else f"write {' or '.join(f'`{k}`' for k in keys)}",
                    )
                return 0
            return part
        if len(self.components) > 1 and not trouble:
            typed = fields.get("text")
            self.homeless(node.span, str(typed.text) if isinstance(typed, Leaf) else "…")
        return 0

    def build(
        self, node: Mapping, fields: dict[str, Node], short: Node | None, component: int, trouble: bool
    ) -> Step | None:
        desk = self.desk
        body = short if short is not None else fields.get("text")
        text = desk.text(body, "a step's text") if body is not None else None
        if text is None and not trouble and (body is None or is_empty(body)):
            desk.wrong(
                desk.source.span(node.span.start, node.span.start),
                "this step has no text",
                "add `text: ` and what to do",
            )
        title = desk.text(fields["title"], "a step's title") if "title" in fields else None
        at, at_span = None, None
        if "at" in fields and (moment := desk.text(fields["at"], "`at`")):
            at, at_span = read_moment(desk, moment), moment.span
        photo = None
        if "photo" in fields:
            record = read_value(desk, _FIELDS["photo"], fields["photo"])
            photo = photo_of(record, fields["photo"].span) if record else None
        if text is None:
            return None
        return Step(text, self.pieces(text, component), component, node.span, title or "", at, at_span, photo)
