"""The folder as it stands now, in memory: recipes read and proven, settings, and every page ready to be rendered.

One edit costs one recipe's reading and proving; nothing is written, and a page is rendered when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from pipeline.measure.lookup import Table, load
from pipeline.measure.record import replace
from pipeline.preview.shots import Shots
from pipeline.proof.prove import Proven, prove, prove_all
from pipeline.recipe.channel import Channel
from pipeline.recipe.folder import own_rows, recipe_paths
from pipeline.recipe.model import Recipe
from pipeline.recipe.problem import SourceError
from pipeline.recipe.settings import read_channel
from pipeline.site.compose import Composer, FilmFiles
from pipeline.site.errors import SiteError
from pipeline.site.kitchen import KITCHEN, kitchen_script
from pipeline.site.pages import Material, Pages, in_order
from pipeline.site.sheet import Page
from pipeline.site.shelves import Found
from pipeline.site.theme import ASSETS, Theme

CHANNEL, ROWS = "channel.yaml", "ingredients.yaml"


class Book(NamedTuple):
    """What the preview shows: pages by path, proofs by the slug of their page, slugs of drafts, and what is wrong
    with the folder as a whole. ``assets`` are files, or text made by the build. ``rest`` lays out the pages that no
    one has asked for yet."""

    pages: dict[str, Page]
    proofs: dict[str, Proven]
    drafts: frozenset[str]
    assets: dict[str, Path | bytes]
    problems: tuple[str, ...]
    rest: Callable[[], list[Page]] = list

    def page(self, path: str) -> Page | None:
        """The page at ``path``; a recipe's own stand ready, the lists are laid out at the first call for one."""
        if path not in self.pages and path.partition("/")[0] not in ("recipes", "print"):
            self.pages.update((page.path, page) for page in self.rest())
        return self.pages.get(path)


EMPTY = Book({}, {}, frozenset(), {}, ())


@dataclass(slots=True)
class Larder:
    """``folder`` holds content/ and perhaps templates/. Not safe for several threads; the caller keeps a lock."""

    folder: Path
    shots: Shots
    channel: Channel = field(default_factory=Channel)
    table: Table = field(default_factory=load)
    proven: dict[Path, Proven] = field(default_factory=dict)
    book: Book = EMPTY
    _composer: Composer | None = None
    _theme: Theme | None = None
    _wrong: list[str] = field(default_factory=list)
    _places: dict[Path, Path] = field(default_factory=dict)
    _known: dict[str, Found] = field(default_factory=dict)
    _slugs: dict[Path, str] = field(default_factory=dict)

    @property
    def content(self) -> Path:
        return self.folder / "content"

    def open(self) -> Book:
        """Reads everything. Raises nothing for an author's mistake: what is wrong stands in the book."""
        self._settings()
        self._templates()
        try:
            paths = recipe_paths([self.content])
        except SourceError as error:
            self._wrong.append(str(error))
            paths = []
        self.proven = dict(zip(paths, prove_all(paths, self.channel, self.table), strict=True))
        self._places = {path.resolve(): path for path in paths}
        return self._lay()

    def warm(self) -> None:
        """Reads, proves and renders one recipe, so that the first save finds everything loaded and compiled.

        At the opening the recipes are read elsewhere (by workers), where there are many. Changes nothing.
        """
        for path, proven in self.proven.items():
            if proven.recipe is None:
                continue
            prove(path, self.channel, self.table)
            for folder in ("recipes", "print"):
                page = self.book.page(f"{folder}/{proven.recipe.slug}.html")
                if page is not None:
                    page.render()
            return

    def change(self, paths: Iterable[Path]) -> Book:
        """Takes in what changed on the disk. ``paths`` are whatever the watcher named."""
        touched = {Path(p) for p in paths}
        content = self.content.resolve()
        settings = {content / CHANNEL, content / ROWS}
        if touched & settings:
            return self.open()
        own = (self.folder / "templates").resolve()
        if any(p.is_relative_to(own) for p in touched):
            self._wrong.clear()
            self._templates()
        due = self._known_ones(touched)
        if due is None:  # a recipe came or went
            try:
                standing = recipe_paths([self.content])
            except SourceError as error:
                self.book = self.book._replace(problems=(str(error),))
                return self.book
            self._places = {path.resolve(): path for path in standing}
            # A photo or the captions beside a recipe are part of it.
            due = {p for real, p in self._places.items() if any(t.is_relative_to(real.parent) for t in touched)}
            due |= {path for path in standing if path not in self.proven}
            self.proven = {path: self.proven[path] for path in standing if path in self.proven}
        for path in due:
            self.proven[path] = prove(path, self.channel, self.table)
        return self._lay()

    def _known_ones(self, touched: set[Path]) -> set[Path] | None:
        """The recipes to which the touched files belong, or None where only a look at the whole folder can tell."""
        folders = {real.parent: path for real, path in self._places.items()}
        due: set[Path] = set()
        for path in touched:
            at = next((folder for folder in path.parents if folder in folders), None)
            if at is None or path in folders or not folders[at].is_file():
                return None
            due.add(folders[at])
        return due

    def _settings(self) -> None:
        self._wrong.clear()
        try:
            self.channel = read_channel(self.content / CHANNEL)
            rows = own_rows(self.content / ROWS)
            self.table = load().with_rows(rows) if rows else load()
        except SourceError as error:  # the last settings that could be read go on
            self._wrong.append(str(error))

    def _templates(self) -> None:
        own = self.folder / "templates"
        try:
            theme = Theme(own if own.is_dir() else None)
            composer = Composer(self.channel, self.table, theme.words)
        except SiteError as error:
            self._wrong.append(str(error))
            return
        self._theme, self._composer = theme, composer
        self._known.clear()  # another channel, table or wording may change every card

    def _lay(self) -> Book:
        """Every page, none of them rendered yet."""
        problems = list(self._wrong)
        proofs: dict[str, Proven] = {}
        recipes: list[Recipe] = []
        for path, proven in self.proven.items():
            recipe = proven.recipe
            slug = recipe.slug if recipe else self._slugs.get(path, path.parent.name)
            self._slugs[path] = slug
            if slug in proofs:
                problems.append(f"{path}: the slug {slug!r} is that of {proofs[slug].sheet.file}, too; change one")
                continue
            proofs[slug] = proven
            if recipe is not None:
                recipes.append(recipe)
        drafts = frozenset(r.slug for r in recipes if r.draft)
        shown = in_order([replace(r, draft=False) if r.draft else r for r in recipes], lambda recipe: recipe)
        pages: dict[str, Page] = {}
        assets: dict[str, Path | bytes] = {}
        rest: Callable[[], list[Page]] = list
        theme, composer = self._theme, self._composer
        if theme is not None and composer is not None:
            materials: list[Material] = []
            for recipe in shown:
                pictures, wrong = self.shots.of(recipe)
                problems += wrong
                key = f"{recipe.slug} {hash(recipe.source)} {sorted(pictures)}"
                materials.append(Material(recipe, pictures, FilmFiles(), key))
            held = {m.key for m in materials}
            for key in [k for k in self._known if k not in held]:
                del self._known[key]
            try:
                site = Pages(theme, composer, materials, "", known=self._known)
                pages, rest = {page.path: page for page in site.own()}, site.all
                assets = {f"{ASSETS}/{name}": path for name, path in theme.assets().items()}
                assets[f"{ASSETS}/{KITCHEN}"] = kitchen_script(theme.words).encode()
            except SiteError as error:
                problems += error.problems
        self.book = Book(pages, proofs, drafts, assets, tuple(problems), rest)
        return self.book
