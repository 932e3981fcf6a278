"""Pictures of the preview: planned from the file's head alone, and made when the browser asks for them.

A thousand recipes have gigabytes of photos, and the cook looks at one page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from pipeline.recipe.model import Recipe
from pipeline.site.errors import PhotoError
from pipeline.site.gallery import beside, wanted
from pipeline.site.photos import Picture, kept, key_of, planned, read_photo, size_of


@dataclass(slots=True)
class Shots:
    """``cache`` is the folder that keeps what was made."""

    cache: Path
    _planned: dict[Path, tuple[tuple[int, int], str, Picture]] = field(default_factory=dict)
    _made_from: dict[str, tuple[Path, str, bool]] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def of(self, recipe: Recipe) -> tuple[Mapping[str, Picture], list[str]]:
        """A recipe's pictures by the name in its source, and what is wrong with those that cannot be used."""
        pictures: dict[str, Picture] = {}
        wrong: list[str] = []
        for name, lead in wanted(recipe):
            try:
                pictures[name] = self._plan(beside(recipe, name), lead)
            except PhotoError as error:
                wrong += error.problems
        return pictures, wrong

    def _plan(self, path: Path, lead: bool) -> Picture:
        try:
            told = path.stat()
        except OSError:
            raise PhotoError(path, "there is no such picture", "put the file there or take its line out") from None
        state = (told.st_mtime_ns, told.st_size)
        known = self._planned.get(path)
        if known is None or known[0] != state or bool(known[2].crops) != lead:
            content = read_photo(path)
            stem = key_of(content)
            picture = planned(*size_of(path, content), stem, lead)
            known = self._planned[path] = (state, stem, picture)
            for name in picture.names():
                self._made_from[name] = (path, stem, lead)
        return known[2]

    def file(self, name: str) -> Path | None:
        """The picture of that name, made now if need be; None where there is none. Raises PhotoError."""
        origin = self._made_from.get(name)
        if origin is None:
            return None
        path, stem, lead = origin
        with self._lock:  # two sizes asked for at once are one piece of work
            content = read_photo(path)
            if key_of(content) != stem:
                return None
            _, folder, _ = kept(self.cache, path, content, stem, lead)
        return folder / name
