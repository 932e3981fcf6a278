"""Walking a mapping by its field table: unknown, doubled and missing fields; and near names for an unknown one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from pipeline.recipe.compose import Leaf, Listing, Mapping, Node
from pipeline.recipe.problem import Problem
from pipeline.recipe.source import Source
from pipeline.recipe.span import Span, Text
from pipeline.recipe.spec import Field

_HASH = re.compile(r"[ \t]+#(?=\w)")


def near(word: str, names: Iterable[str]) -> str | None:
    """The name nearest to a mistyped word, or None where none is near. Case does not count."""
    from rapidfuzz import fuzz, process

    known = list(names)
    found = process.extractOne(word.lower(), [n.lower() for n in known], scorer=fuzz.ratio, score_cutoff=65)
    return known[found[2]] if found else None


def kind_of(node: Node) -> str:
    """What a node is, in a cook's words."""
    if isinstance(node, Mapping):
        return "names with values (`name: value`)"
    return "a list" if isinstance(node, Listing) else "a text"


class Desk:
    """One file being read: its source, and the problems found so far."""

    def __init__(self, source: Source, problems: list[Problem]) -> None:
        self.source = source
        self.problems = problems

    def wrong(self, span: Span, message: str, help: str = "", why: str = "") -> None:
        self.problems.append(self.source.problem(span, message, help, why))

    def fields(self, node: Mapping, table: Sequence[Field], what: str, required: bool = True) -> dict[str, Node]:
        """The known fields that hold something. Unknown ones are problems, and so are missing ones if ``required``."""
        found: dict[str, Node] = {}
        known = {f.name: f for f in table}
        for key, value in node.pairs:
            if key in known:
                if not is_empty(value):
                    found[key] = value
                elif known[key].required and required:
                    self.wrong(key.span, f"`{key}` is empty", f"write `{key}: {known[key].example.strip()}`")
            else:
                self.unknown(key, table, what)
        if required:
            for f in table:
                if f.required and f.name not in found and not any(k == f.name for k, _ in node.pairs):
                    if any(k in f.synonyms for k, _ in node.pairs):
                        continue  # told already, with this name as the one to use
                    self.wrong(
                        self.source.span(node.span.start, node.span.start),
                        f"{what} has no `{f.name}`",
                        f"add `{f.name}: {f.example.strip() if chr(10) not in f.example else '…'}`",
                    )
        return found

    def unknown(self, key: Text, table: Sequence[Field], what: str, more: Sequence[str] = ()) -> None:
        low = key.lower().strip()
        names = [*(f.name for f in table), *more]
        hint = next((f.name for f in table if low == f.name or low in f.synonyms), None) or near(low, names)
        clear = "".join(c for c in key if c.isprintable() and c not in "\u200b\u200c\u200d\u2060\ufeff\xa0\xad")
        if clear != key and clear in names:
            self.wrong(key.span, f"an invisible character hides in `{clear}`", f"type `{clear}:` anew")
        elif hint is not None:
            self.wrong(key.span, f"{what} has no field `{key}`", f"did you mean `{hint}`?")
        else:
            self.wrong(key.span, f"{what} has no field `{key}`", f"it may have {', '.join(names)}")

    def text(self, node: Node, name: str) -> Text | None:
        """A field that is any text; None (and a problem) for a list or mapping, None for an empty one."""
        if not isinstance(node, Leaf):
            self.not_text(node, name)
            return None
        self.hash(node)
        trimmed = node.text.trimmed()
        return trimmed if trimmed else None

    def not_text(self, node: Node, name: str) -> None:
        if isinstance(node, Mapping) and node.flow:
            typed = self.source.text[node.span.start : node.span.end]
            self.wrong(
                self.source.span(node.span.start, node.span.start + 1),
                "a text that begins with `{` must be in quotes, or begin on a line of its own after `|`",
                f'write `"{typed}"`' if '"' not in typed and len(typed) < 80 else "put quotes around it",
            )
        elif isinstance(node, Mapping) and len(node.pairs) == 1:
            key = node.pairs[0][0]
            self.wrong(
                key.span,
                f"{name} must be a text; here `{key}:` makes a name and a value of it",
                "put the text in quotes, because a colon and a space stand in it",
            )
        else:
            self.wrong(node.span, f"{name} must be a text, not {kind_of(node)}")

    def hash(self, leaf: Leaf) -> None:
        """An unquoted text that ends at ` #` as in "1 #10 can": YAML takes the rest for a comment."""
        if leaf.style:
            return
        text = self.source.text
        m = _HASH.match(text, leaf.span.end)
        if m is None:
            return
        line = text[leaf.span.start :].split("\n", 1)[0].rstrip()
        start = m.end() - 1
        self.wrong(
            self.source.span(start, start + len(text[start:].split(maxsplit=1)[0])),
            "the text ends here, because ` #` begins a comment",
            f'if it belongs to the text, write `"{line}"`; if it is a comment, put a space after `#`',
        )


def is_empty(node: Node) -> bool:
    """Whether nothing was written: `name:` alone. An empty list counts as nothing, too."""
    if isinstance(node, Leaf):
        return not node.text.strip() and node.style != "*"
    return not (node.items if isinstance(node, Listing) else node.pairs)
