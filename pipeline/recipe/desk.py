"""Walking a mapping by its field table: unknown, doubled and missing fields; and near names for an unknown one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from pipeline.measure.numbers import no_number
from pipeline.recipe.compose import Leaf, Listing, Mapping, Node
from pipeline.recipe.problem import Problem
from pipeline.recipe.source import Source
from pipeline.recipe.span import Span, Text
from pipeline.recipe.spec import Field
from pipeline.recipe.syntax import quoted

_HIDDEN = frozenset("\u200b\u200c\u200d\u2060\ufeff\xa0\xad")
_DASHED = re.compile(r"[-–•*][^\W_]")
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

    def no_number(self, text: Text) -> bool:
        """Tells of a fraction of nothing ("1/0") in an amount; whether there was one."""
        found = no_number(text)
        if found:
            said = f"`{text[slice(*found)]}` is no number: nothing is cut into 0 parts"
            self.wrong(text.part(*found), said, "write the fraction that was meant, such as `1/2`")
        return found is not None

    def fields(self, node: Mapping, table: Sequence[Field], what: str) -> dict[str, Node]:
        """The known fields that hold something. Unknown ones are problems, and so are missing ones that must be."""
        found: dict[str, Node] = {}
        known = {f.name: f for f in table}
        seen: set[str | None] = set()
        for key, value in node.pairs:
            if key not in known:
                seen.add(self.unknown(key, table, what))
                continue
            seen.add(str(key))
            if not is_empty(value):
                found[key] = value
            elif known[key].required:
                self.wrong(key.span, f"`{key}` is empty", f"write {_example(known[key])}")
        for f in table:
            if f.required and f.name not in seen:
                self.missing(node, f"{what} has no `{f.name}`", f"add {_example(f)}")
        return found

    def missing(self, node: Mapping, message: str, help: str) -> None:
        """Something that should stand in a mapping and does not: told at the mapping's beginning."""
        self.wrong(self.source.span(node.span.start, node.span.start), message, help)

    def unknown(self, key: Text, table: Sequence[Field], what: str, more: Sequence[str] = ()) -> str | None:
        """Tells of an unknown field; the known one that was meant, if that can be seen."""
        names = [*(f.name for f in table), *more]
        meant = {name: name for name in names}
        for f in table:
            for other in f.synonyms:
                meant.setdefault(other, f.name)
        low = key.lower().strip()
        clear = "".join(c for c in key if c.isprintable() and c not in _HIDDEN)
        if clear != key and clear in names:
            self.wrong(key.span, f"an invisible character hides in `{clear}`", f"type `{clear}:` anew")
            return clear
        if key == "<<":
            self.wrong(key.span, "`<<` copies from elsewhere, which a recipe cannot do", "write the lines out")
            return None
        word = low if low in meant else near(low, meant)
        hint = meant[word] if word is not None else None
        help = f"did you mean `{hint}`?" if hint else f"it may have {', '.join(names)}"
        self.wrong(key.span, f"{what} has no field `{key}`", help)
        return hint

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
            self.split(node, f"{name} must be a text; here `{node.pairs[0][0]}:` makes a name and a value of it")
        else:
            self.wrong(node.span, f"{name} must be a text, not {kind_of(node)}")

    def split(self, node: Mapping, message: str) -> None:
        """A text that YAML took for a name and its value, because a colon and a space stand in it."""
        key = node.pairs[0][0]
        line = self.source.text[key.span.start : max(node.span.end, key.span.end)].rstrip()
        whole = "\n" not in line and len(line) < 100
        self.wrong(
            key.span,
            message,
            f"write `{quoted(line)}`"
            if whole
            else "put the text in quotes, or begin it on a line of its own after `|`",
            "a colon followed by a space ends a name, unless the text is in quotes",
        )

    def dashed(self, start: int) -> bool:
        """Whether a list item without its space begins here (`-1 cup`), which YAML takes for a text; tells if so."""
        line = self.source.text[start:].split("\n", 1)[0].rstrip()
        if not _DASHED.match(line):
            return False
        help = f"write `- {line[1:]}`" if len(line) < 80 else "put a space after it"
        self.wrong(self.source.span(start, start + 1), "a space is missing after the dash", help)
        return True

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


def _example(field: Field) -> str:
    return (
        f"`{field.name}: {field.example}`"
        if "\n" not in field.example
        else f"`{field.name}:` and one a line below it, each after `- `"
    )


def is_empty(node: Node) -> bool:
    """Whether nothing was written: `name:` alone. An empty list counts as nothing, too."""
    if isinstance(node, Leaf):
        return not node.text.strip() and node.style != "*"
    return not (node.items if isinstance(node, Listing) else node.pairs)
