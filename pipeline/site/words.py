"""The catalogue of all words that the pages say of their own accord: ``templates/words.yaml``.

A folder's own ``templates/words.yaml`` changes single entries; what it does not name stays as shipped.
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from pipeline.site.errors import BadTemplateError
from pipeline.site.files import digest
from pipeline.site.terms import Entry, Terms

NAME = "words.yaml"
FORMS_TOLD = 300  # numbers whose plural form the scripts are told; larger ones by their last two digits
_HOLE = re.compile(r"\{([a-z]+)\}")
_PLURAL = "language.plural"


@dataclass(frozen=True)
class Words:
    """``words["recipe.print"]``; ``words("archive.tally", n=3)`` fills holes. In a template also ``say.recipe.print``.

    Raises KeyError for an entry or a hole that is not there: the template is wrong then.
    """

    entries: Mapping[str, Entry]
    digest: str = field(default="", compare=False)

    def __getitem__(self, key: str) -> Any:
        found = self.entries.get(key)
        if found is None:
            if key not in self._sections:
                raise KeyError(key)
            return self._sections[key]
        return found if isinstance(found, str) else found[0]

    @cached_property
    def _sections(self) -> dict[str, _Section]:
        return {name: _Section(self, name) for name in {key.partition(".")[0] for key in self.entries}}

    def __call__(self, key: str, **holes: object) -> str:
        entry = self.entries[key]
        if not isinstance(entry, str):
            number = holes.get("n", 1)
            entry = entry[min(self.form(number if isinstance(number, int) else 1), len(entry) - 1)]
        return _HOLE.sub(lambda m: str(holes[m[1]]), entry) if "{" in entry else entry

    def also_set_off(self, names: tuple[str, ...]) -> tuple[str, ...]:
        """For each name the catalogue's own words for what sets a caution off: in lower case, `;` between them."""
        known = self._set_off.get(names)
        if known is None:
            several = ((word.strip().lower() for word in self(f"sets_off.{name}").split(";")) for name in names)
            known = self._set_off[names] = tuple(";".join(filter(None, words)) for words in several)
        return known

    @cached_property
    def _set_off(self) -> dict[tuple[str, ...], tuple[str, ...]]:
        return {}

    def form(self, n: int) -> int:
        """Which form of an entry goes with a number, by gettext's plural formula."""
        return _formula(str(self.entries[_PLURAL]))(n)

    @cached_property
    def terms(self) -> Terms:
        """Amounts, heats and times in these words."""
        return Terms(self.entries, self.form)

    def section(self, name: str) -> dict[str, str | list[str]]:
        """All entries of one section, for a script."""
        start = f"{name}."
        return {
            key.removeprefix(start): value if isinstance(value, str) else list(value)
            for key, value in self.entries.items()
            if key.startswith(start)
        }


@dataclass(frozen=True)
class _Section:
    words: Words
    name: str

    def __getitem__(self, key: str) -> Any:
        return self.words[f"{self.name}.{key}"]


@cache
def _formula(text: str) -> Callable[[int], int]:
    return gettext.c2py(text)


@cache
def _shipped(path: Path) -> Words:
    return _read(path)


def read_words(shipped: Path, own: Path | None = None) -> Words:
    """The shipped catalogue with a folder's own entries over it; both are paths of a ``words.yaml``.

    Raises BadTemplateError where the folder's own cannot be read, names an entry that there is none of, or lost or
    made up a hole.
    """
    words = _shipped(shipped)
    if own is None or not own.is_file():
        return words
    changed = _read(own)
    for key, entry in changed.entries.items():
        known = words.entries.get(key)
        if known is None:
            near = get_close_matches(key, words.entries, 1)
            raise _wrong(own, key, f"there is no entry `{key}`" + (f"; `{near[0]}`?" if near else ""))
        if extra := _holes(entry) - _holes(known):
            raise _wrong(own, key, f"`{key}` has no hole `{{{min(extra)}}}`; see the shipped {NAME}")
        if lost := _holes(known) - _holes(entry) - ({"n"} if isinstance(known, tuple) else set()):
            raise _wrong(own, key, f"`{key}` lost its hole `{{{min(lost)}}}`")
    both = {**words.entries, **changed.entries}
    try:
        _formula(str(both[_PLURAL]))(1)
    except ValueError as error:
        raise _wrong(own, _PLURAL, f"`{_PLURAL}`: {error}") from None
    return Words(both, digest(words.digest, changed.digest))


def _holes(entry: Entry) -> set[str]:
    texts = (entry,) if isinstance(entry, str) else entry
    return {name for text in texts for name in _HOLE.findall(text)}


def _wrong(path: Path, key: str, why: str) -> BadTemplateError:
    """What is wrong with an entry or a section, with its line."""
    import yaml

    node = yaml.compose(path.read_text("utf-8"))
    line = 0
    for name in key.split(".", 1):
        pairs = node.value if isinstance(node, yaml.MappingNode) else []
        found = next(((k, v) for k, v in pairs if k.value == name), None)
        if found is None:
            break
        line, node = found[0].start_mark.line + 1, found[1]
    return BadTemplateError(NAME, line, why)


def _read(path: Path) -> Words:
    import yaml

    try:
        text = path.read_text("utf-8")
        told = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)) or {}
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as error:
        mark = getattr(error, "problem_mark", None)
        why = getattr(error, "problem", None) or str(error)
        raise BadTemplateError(NAME, mark.line + 1 if mark else 0, why) from None
    entries: dict[str, Entry] = {}
    if not isinstance(told, dict):
        raise BadTemplateError(NAME, 1, "this is no list of sections with `entry: text` in them")
    for section, inner in told.items():
        if not isinstance(inner, dict):
            raise _wrong(path, str(section), f"`{section}` is no section; write `{section}:` with entries below")
        for key, value in inner.items():
            if isinstance(value, list) and value and all(isinstance(v, str | int | float) for v in value):
                entries[f"{section}.{key}"] = tuple(str(v) for v in value)
            elif isinstance(value, str | int | float) and not isinstance(value, bool):
                entries[f"{section}.{key}"] = str(value)
            else:
                raise _wrong(path, f"{section}.{key}", f"`{section}.{key}` is no text; put it in quotes")
    return Words(entries, digest(text))
