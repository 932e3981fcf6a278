"""The JSON Schema (draft 2020-12) of recipe.yaml and channel.yaml, made from the field tables.

Editors complete and check a source with it. It is a little wider than the reader: it knows the shapes, the reader
also knows the words inside. Numbers and true/false are let in where a text is meant, because an editor resolves an
unquoted `4` or `yes` before the schema sees it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pipeline.recipe.spec import CHANNEL, COMPONENT, INGREDIENT, RECIPE, STEP, SUBSTITUTION, Field

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_TEXT: dict[str, Any] = {"type": ["string", "number", "boolean"]}
_NOTHING: dict[str, Any] = {"type": "null"}
_PATTERNS = {
    "date": r"^\d{4}-\d{1,2}-\d{1,2}$",
    "language": r"^[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*$",
    "slug": r"^[a-z0-9]+(-[a-z0-9]+)*$",
    "address": r"^https?://[^\s<>\"]+$",
    "yield": r"\d|[¼-¾⅐-⅞]|\b([Aa]n?|[Oo]ne|[Tt]wo|[Tt]hree|[Ff]our|[Ff]ive|[Ss]ix|[Ss]even|[Ee]ight|[Nn]ine|[Tt]en"
    r"|[Ee]leven|[Tt]welve|[Hh]alf|[Dd]ozen)\b",
    "moment": r"^(\d{1,3}:)?\d{1,3}:[0-5]\d([.,]\d{1,9})?$|^\d[^:]*$|^(an?|one|half)\b",
    "time": r"[A-Za-z]",
    "file": r"^[^\\/~\n][^\\\n]*$",
    "number": r"^[0-9]{1,6}$",
}


def recipe_schema() -> dict[str, Any]:
    """The schema of recipe.yaml, as JSON's dicts and lists."""
    schema = _object(RECIPE)
    schema["anyOf"] = [{"required": ["ingredients"]}, {"required": ["components"]}]
    schema["not"] = {"required": ["ingredients", "components"]}
    return {"$schema": DIALECT, "title": "A recipe", **schema, "$defs": _definitions()}


def channel_schema() -> dict[str, Any]:
    """The schema of channel.yaml."""
    return {"$schema": DIALECT, "title": "A channel's settings", **_object(CHANNEL)}


def _object(table: Sequence[Field]) -> dict[str, Any]:
    schema: dict[str, Any] = {
        "type": "object",
        "properties": {f.name: _field(f) for f in table},
        "additionalProperties": False,
    }
    required = [f.name for f in table if f.required]
    if required:
        schema["required"] = required
    return schema


def _field(field: Field) -> dict[str, Any]:
    shape = _shape(field)
    if not field.required:  # `notes:` with nothing after it is as good as none
        shape = {"anyOf": [shape, _NOTHING]}
    return {"description": field.doc, "examples": [_example(field)], **shape}


def _example(field: Field) -> Any:
    """The field's example as data."""
    from yaml import BaseLoader, load

    return load(f"{field.name}: {field.example}", Loader=BaseLoader)[field.name]


def _one_or_many(shape: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [shape, {"type": "array", "items": shape}]}


def _shape(field: Field) -> dict[str, Any]:
    kind = field.kind
    if kind == "flag":
        words = ("yes", "no", "true", "false", "on", "off")
        return {"anyOf": [{"type": "boolean"}, {"enum": list(words)}, _any_case((*words, "y", "n"))]}
    if kind == "choice":
        return {"anyOf": [{"enum": list(field.choices)}, _any_case(field.choices)]}
    if kind in ("texts", "words"):
        return _one_or_many(_TEXT)
    if kind in ("record", "records"):
        shape = _object(field.of)
        if field.short:
            shape = {"anyOf": [shape, _short(field)]}
        return shape if kind == "record" else _one_or_many(shape)
    if kind in ("lines", "components", "steps", "substitutions"):
        return {"$ref": f"#/$defs/{kind}"}
    if kind == "date":
        return {"type": "string", "pattern": _PATTERNS["date"]}
    if kind in _PATTERNS:
        return (
            {**_TEXT, "pattern": _PATTERNS[kind]} if kind != "time" else {"type": "string", "pattern": _PATTERNS[kind]}
        )
    return _TEXT


def _any_case(words: Sequence[str]) -> dict[str, Any]:
    """These words however they are capitalised; a regular expression of JSON Schema (ECMA-262) has no flag for it."""
    each = ("".join(f"[{c.upper()}{c}]" if c.isalpha() else c for c in word) for word in words)
    return {"type": "string", "pattern": f"^({'|'.join(each)})$"}


def _short(field: Field) -> dict[str, Any]:
    return _shape(next(f for f in field.of if f.name == field.short))


def _definitions() -> dict[str, Any]:
    """What takes more than one form."""
    amounts = {"type": "object", "additionalProperties": {"anyOf": [_TEXT, _NOTHING]}, "minProperties": 1}
    lines = {"$ref": "#/$defs/lines"}
    component = _object(COMPONENT)
    step = _object(STEP)
    # `dough: text` stands for `component: dough` and `text:`
    rest = {name: shape for name, shape in step["properties"].items() if name not in ("component", "text")}
    short = {
        "type": "object",
        "properties": {**rest, "component": False, "text": False},
        "additionalProperties": _TEXT,
        "minProperties": 1,
        "maxProperties": len(rest) + 1,
    }
    pair = {"type": "object", "additionalProperties": _TEXT, "minProperties": 1}
    substitution = {"anyOf": [_object(SUBSTITUTION), pair, _TEXT]}
    return {
        "line": {
            "description": "One ingredient: `650 g or 2 3/4 cups water, room temperature`, or its fields.",
            "anyOf": [_TEXT, _object(INGREDIENT), {**amounts, "maxProperties": 1}],
        },
        "lines": {"anyOf": [_TEXT, {"type": "array", "items": {"$ref": "#/$defs/line"}}, amounts]},
        "components": {
            "type": "object",
            "minProperties": 1,
            "additionalProperties": {"anyOf": [lines, component, _NOTHING]},
        },
        "step": {
            "description": "One step: a text, `component: text`, or its fields.",
            "anyOf": [_TEXT, step, short],
        },
        "steps": {"anyOf": [{"$ref": "#/$defs/step"}, {"type": "array", "items": {"$ref": "#/$defs/step"}}]},
        "substitutions": {"anyOf": [substitution, {"type": "array", "items": substitution}]},
    }
