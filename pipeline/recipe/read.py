"""A recipe's YAML file becomes a Recipe, or a list of everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pipeline.recipe.compose import Leaf, Listing, Mapping, Node, compose
from pipeline.recipe.desk import Desk, is_empty, kind_of, near
from pipeline.recipe.lines import read_components, read_lines
from pipeline.recipe.model import (
    Acceptance,
    Component,
    Photo,
    Recipe,
    Step,
    Substitution,
    Video,
)
from pipeline.recipe.problem import Problem, SourceError
from pipeline.recipe.records import read_value
from pipeline.recipe.settings import read_channel, read_ingredients
from pipeline.recipe.source import Source, load, source_of
from pipeline.recipe.span import Span, Text
from pipeline.recipe.spec import RECIPE, SUBSTITUTION
from pipeline.recipe.steps import photo_of, read_steps
from pipeline.recipe.values import slugify

__all__ = ["Problem", "SourceError", "read", "read_channel", "read_ingredients", "read_text"]

_FIELDS = {f.name: f for f in RECIPE}
_NAMES = ("recipe.yaml", "recipe.yml")


def read(path: Path) -> Recipe:
    """The recipe in a file. Raises SourceError with all problems, in the order of their places."""
    source, _ = load(path)
    return _recipe(source, path, path.absolute())


def read_text(text: str, path: Path = Path("recipe.yaml")) -> Recipe:
    """The recipe in a text that would stand in ``path``. Raises SourceError."""
    return _recipe(source_of(text, str(path)), path, path)


def _recipe(source: Source, path: Path, whole: Path) -> Recipe:
    root, problems = compose(source)
    desk = Desk(source, problems)
    recipe = _Reader(desk, path, whole).recipe(root)
    if desk.problems or recipe is None:
        raise SourceError(desk.problems, desk.source.text)
    return recipe


class _Reader:
    def __init__(self, desk: Desk, path: Path, whole: Path) -> None:
        self.desk = desk
        self.path = path
        self.whole = whole

    def recipe(self, root: Node | None) -> Recipe | None:
        desk = self.desk
        if root is None or (isinstance(root, Leaf) and is_empty(root)):
            desk.wrong(
                desk.source.span(0, 0),
                "the file is empty",
                'begin with `title: ` and the recipe\'s name; `levelcup draft --blank "Title"` makes a whole one',
            )
            return None
        if not isinstance(root, Mapping):
            self.not_a_recipe(root)
            return None
        found = desk.fields(root, RECIPE, "a recipe")
        own = ("ingredients", "components", "steps", "substitutions")
        values = {name: read_value(desk, _FIELDS[name], node) for name, node in found.items() if name not in own}
        components = self.components(found, root)
        steps = read_steps(desk, found["steps"], components) if "steps" in found else ()
        substitutions = self.substitutions(found["substitutions"]) if "substitutions" in found else ()
        title = values.get("title")
        if not isinstance(title, Text):
            return None
        slug = values.get("slug") or ("" if "slug" in found else self.slug(title))
        spans = {name: node.span for name, node in found.items()}
        timed = found.get("times")
        time_spans = {str(k): v.span for k, v in timed.pairs} if isinstance(timed, Mapping) else {}
        return self.build(title, slug, values, components, steps, substitutions, spans, time_spans)

    def build(
        self,
        title: Text,
        slug: str,
        values: dict[str, Any],
        components: tuple[Component, ...],
        steps: tuple[Step, ...],
        substitutions: tuple[Substitution, ...],
        spans: dict[str, Span],
        time_spans: dict[str, Span],
    ) -> Recipe:
        times = values.get("times") or {}
        return Recipe(
            path=self.path,
            source=self.desk.source.text,
            title=title,
            slug=slug,
            yield_=values.get("yield"),
            components=components,
            steps=steps,
            summary=values.get("summary") or "",
            published=values.get("published"),
            draft=bool(values.get("draft")),
            times={name: said[0] for name, said in times.items()},
            times_said=times,
            time_spans={name: span for name, span in time_spans.items() if name in times},  # type: ignore[misc]
            category=values.get("category") or (),
            cuisine=values.get("cuisine") or (),
            keywords=values.get("keywords") or (),
            equipment=values.get("equipment") or (),
            notes=values.get("notes") or (),
            substitutions=substitutions,
            video=self.video(values.get("video"), spans.get("video")),
            photos=self.photos(values.get("photos")),
            accepted=tuple(
                Acceptance(v["finding"], v.get("where", ""), v["reason"], span)
                for v, span in values.get("accept") or ()
                if "finding" in v and "reason" in v
            ),
            nutrition={name: str(value) for name, value in (values.get("nutrition") or {}).items()},
            spans=spans,
        )

    def not_a_recipe(self, root: Node) -> None:
        desk = self.desk
        line = desk.source.text[root.span.start :].split("\n", 1)[0]
        span = desk.source.span(root.span.start, root.span.start + max(len(line.rstrip()), 1))
        if isinstance(root, Leaf) and ":" in line:
            name, _, rest = line.partition(":")
            desk.wrong(span, "a space is missing after the colon", f"write `{name}: {rest.strip()}`")
            return
        desk.wrong(
            span,
            f"a recipe is made of names with values, but here stands {kind_of(root)}",
            "begin with `title: ` and the recipe's name, then `ingredients:` and `steps:`",
        )

    def components(self, found: dict[str, Node], root: Mapping) -> tuple[Component, ...]:
        """The parts under `components`, or the one nameless part under `ingredients`."""
        desk = self.desk
        keys = {str(key): key for key, _ in root.pairs}
        if "components" in found and "ingredients" in found:
            desk.wrong(
                keys["ingredients"].span,
                "`ingredients` and `components` cannot stand side by side",
                "put these ingredients under a component of their own",
            )
        if "components" in found:
            return read_components(desk, found["components"])
        if "ingredients" in found:
            node = found["ingredients"]
            lines = read_lines(desk, node, "`ingredients`")
            return (Component("", "", lines, desk.source.span(keys["ingredients"].span.start, node.span.end)),)
        for name in ("ingredients", "components"):
            if name in keys:
                desk.wrong(keys[name].span, f"`{name}` is empty", "write one ingredient a line, each after `- `")
                return ()
        if not self.misspelt(keys):
            desk.missing(
                root,
                "a recipe has no `ingredients`",
                "add `ingredients:` with one line each, or `components:` where the dish has parts",
            )
        return ()

    def misspelt(self, keys: dict[str, Text]) -> bool:
        """Whether an unknown field was taken for `ingredients` or `components`; then it was told already."""
        meant = {w: f.name for f in RECIPE for w in (f.name, *f.synonyms)}
        unknown = [key.lower() for key in keys if key not in _FIELDS]
        words = [key if key in meant else near(key, meant) for key in unknown]
        return any(meant[w] in ("ingredients", "components") for w in words if w is not None)

    def slug(self, title: Text) -> str:
        """The folder's name; the file's where it is not called recipe.yaml; the title where there is neither."""
        name = self.whole.parent.name if self.whole.name in _NAMES else self.whole.stem
        slug = slugify(name) or slugify(title)
        if not slug:
            self.desk.wrong(
                title.span, "no address can be made from this title", "add `slug: ` and a name in a-z, 0-9 and hyphens"
            )
        return slug

    def video(self, values: dict[str, Any] | None, span: Span | None) -> Video | None:
        if not values or span is None:
            return None
        return Video(
            span,
            values.get("file"),
            values.get("address"),
            values.get("length"),
            values.get("captions"),
            values.get("title", ""),
        )

    def photos(self, records: list[tuple[dict[str, Any], Span]] | None) -> tuple[Photo, ...]:
        return tuple(photo for values, span in records or () if (photo := photo_of(values, span)) is not None)

    def substitutions(self, node: Node) -> tuple[Substitution, ...]:
        """`ingredient: text` pairs, a list of such pairs or of mappings, or plain text about no one ingredient."""
        desk = self.desk
        if isinstance(node, Leaf):
            text = desk.text(node, "`substitutions`")
            return (Substitution("", text, node.span),) if text else ()
        if isinstance(node, Mapping):
            if {"ingredient", "text"} & {str(k) for k, _ in node.pairs}:
                return self.substitution(node)
            return tuple(
                Substitution(key.trimmed(), text, desk.source.span(key.span.start, value.span.end))
                for key, value in node.pairs
                if (text := desk.text(value, f"what replaces {key}")) is not None
            )
        return tuple(one for item in node.items for one in self.substitution(item))

    def substitution(self, node: Node) -> tuple[Substitution, ...]:
        if isinstance(node, Listing):
            self.desk.wrong(
                self.desk.source.span(node.span.start, node.span.start + 1),
                "an entry of `substitutions` cannot be a list",
                "take the second dash out",
            )
            return ()
        if isinstance(node, Leaf) or not {"ingredient", "text"} & {str(k) for k, _ in node.pairs}:
            return self.substitutions(node)
        found = self.desk.fields(node, SUBSTITUTION, "a substitution")
        texts = {name: self.desk.text(value, f"`{name}`") for name, value in found.items()}
        ingredient, text = texts.get("ingredient"), texts.get("text")
        return (Substitution(ingredient, text, node.span),) if ingredient and text else ()
