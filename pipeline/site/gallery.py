"""All pictures of one build: the cook's own photos, and those drawn for each recipe; made once and kept by content."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from pipeline.recipe.model import Recipe
from pipeline.site.drawn import CardText, recipe_card, social_card
from pipeline.site.errors import PhotoError, SiteError
from pipeline.site.files import digest, remove, write_bytes
from pipeline.site.photos import Picture, folder_of, kept, key_of, place, read_photo

Progress = Callable[[str, int, int], None]
_DRAWING = "1"  # raise when the way of drawing changes


@dataclass(frozen=True, slots=True)
class Drawn:
    """The pictures drawn for a recipe, relative to the site's ``photos/``; "" where there is none."""

    social: str = ""
    card: str = ""


NONE_DRAWN = Drawn()


@dataclass(frozen=True, slots=True)
class Shots:
    """A recipe's pictures by the name in its source, and a hash of them."""

    pictures: Mapping[str, Picture]
    key: str


def beside(recipe: Recipe, name: str) -> Path:
    """A file beside the recipe. Raises PhotoError where the name leads out of its folder."""
    folder = recipe.folder.resolve()
    path = (recipe.folder / name).resolve()
    if not path.is_relative_to(folder):
        raise PhotoError(recipe.folder / name, "this leads out of the recipe's folder", "put the file into it")
    return path


def wanted(recipe: Recipe) -> list[tuple[str, bool]]:
    """The names of a recipe's photos, each once; True for its first, which stands for the page elsewhere."""
    names = dict.fromkeys(str(p.file) for p in (*recipe.photos, *(s.photo for s in recipe.steps if s.photo)))
    first = str(recipe.photos[0].file) if recipe.photos else None
    return [(name, name == first) for name in names]


@dataclass(slots=True)
class Gallery:
    """``cache`` keeps what was made; ``photos`` is the site's folder of that name. ``made`` counts what was new."""

    cache: Path
    photos: Path
    progress: Progress | None = None
    made: int = 0
    _used: set[str] = field(default_factory=set)

    def shots(self, recipes: Sequence[Recipe]) -> list[Shots]:
        """The photos of each recipe, put into the site. Raises SiteError with every picture that cannot be used."""
        jobs: dict[tuple[str, bool], tuple[Path, bytes]] = {}
        keys: list[dict[str, tuple[str, bool]]] = []
        problems: list[str] = []
        for recipe in recipes:
            mine: dict[str, tuple[str, bool]] = {}
            for name, lead in wanted(recipe):
                try:
                    path = beside(recipe, name)
                    content = read_photo(path)
                except PhotoError as error:
                    problems += error.problems
                    continue
                mine[name] = (key_of(content), lead)
                jobs.setdefault(mine[name], (path, content))
            keys.append(mine)
        made: dict[tuple[str, bool], Picture] = {}

        def work(
            job: tuple[tuple[str, bool], tuple[Path, bytes]],
        ) -> tuple[tuple[str, bool], Picture, bool] | PhotoError:
            (stem, lead), (path, content) = job
            try:
                picture, folder, fresh = kept(self.cache, path, content, stem, lead)
            except PhotoError as error:
                return error
            place(picture.names(), folder, self.photos)
            return (stem, lead), picture, fresh

        # Pillow lets go of the interpreter while it scales and packs, so threads are enough here.
        with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
            for done, result in enumerate(pool.map(work, jobs.items()), 1):
                if isinstance(result, PhotoError):
                    problems += result.problems
                    continue
                key, picture, fresh = result
                made[key] = picture
                self._used.add(folder_of(jobs[key][1], key[1]))
                self.made += fresh
                if self.progress:
                    self.progress("pictures", done, len(jobs))
        if problems:
            raise SiteError(*problems)
        return [
            Shots(
                {name: made[key] for name, key in mine.items()},
                digest(*(f"{name}={key}" for name, key in mine.items())),
            )
            for mine in keys
        ]

    def draw(self, orders: Iterable[tuple[str, CardText, Picture | None]]) -> list[Drawn]:
        """The drawn pictures for each order: (a hash of what the words rest on, the words, the photo). Those already
        in the cache are not drawn again."""

        def work(order: tuple[str, CardText, Picture | None]) -> tuple[Drawn, str]:
            ground, text, picture = order
            name = digest(_DRAWING, ground, picture.files[-1][1] if picture else "")[:20]
            folder = self.cache / f"{name}-drawn"
            social, card = f"{name}-social.jpg", f"{name}-card.png"
            if not (folder / "done").is_file():
                photo = self.photos / picture.files[-1][1] if picture else None
                write_bytes(folder / social, social_card(text, photo))
                drawn = recipe_card(text) if text.parts else None
                if drawn is not None:
                    write_bytes(folder / card, drawn)
                write_bytes(folder / "done", b"")
            there = Drawn(social, card if (folder / card).is_file() else "")
            place([n for n in (there.social, there.card) if n], folder, self.photos)
            return there, folder.name

        with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
            results = list(pool.map(work, orders))
        self._used.update(name for _, name in results)
        return [drawn for drawn, _ in results]

    def tidy(self) -> None:
        """Take out of the cache what this build had no use for."""
        for old in self.cache.glob("*"):
            if old.name not in self._used:
                remove(old)
