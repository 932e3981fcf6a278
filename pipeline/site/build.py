"""The whole site: put together beside the standing one, complete, then swapped in.

Only what depends on a change is rendered anew: every file has a key in the manifest, a hash of all that it was made
from. The same sources give the same bytes; no date comes from a clock. Nothing is checked here.
"""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.proof.crew import Crew
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.compose import Composer, FilmFiles, lead_picture
from pipeline.site.drawn import CardText
from pipeline.site.errors import PhotoError, SiteError
from pipeline.site.files import alone, digest, recover, swap_in
from pipeline.site.film import film_files
from pipeline.site.gallery import NONE_DRAWN, Drawn, Gallery, Progress, Shots
from pipeline.site.kitchen import KITCHEN, kitchen_script
from pipeline.site.manifest import Shelf, read_manifest, refuse_others, strangers
from pipeline.site.own import Cover, Own
from pipeline.site.pages import Material, Pages, in_order
from pipeline.site.photos import Picture
from pipeline.site.press import WORTH_SHARING, Printers, render_all
from pipeline.site.shelves import Found
from pipeline.site.theme import ASSETS, Theme

_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Report:
    """What a build did. Names are relative to ``out``: ``written`` anew, ``removed`` since the last build;
    ``kept`` counts files taken over as they were, ``pictures`` those made anew; ``notes`` are sentences for the cook.
    """

    out: Path
    recipes: int
    written: tuple[str, ...]
    kept: int
    removed: tuple[str, ...]
    pictures: int
    notes: tuple[str, ...] = field(default=())


@cache
def _code() -> str:
    """A hash of the code and data that pages are made by, so that an upgrade renders everything anew."""
    top = Path(__file__).parents[1]
    rooms = (top / "measure", top / "recipe", top / "film", top / "site")
    paths = sorted(p for room in rooms for p in room.rglob("*") if p.suffix in (".py", ".csv", ".json", ".txt"))
    return digest(*(p.read_bytes() for p in paths if "_templates" not in p.parts))


def _refuse_slugs(recipes: Sequence[Recipe]) -> None:
    problems: list[str] = []
    seen: dict[str, Recipe] = {}
    for recipe in recipes:
        if not _SLUG.fullmatch(recipe.slug):
            problems.append(f"{recipe.path}: the slug {recipe.slug!r} cannot name a page; use a-z, 0-9 and hyphens")
        other = seen.setdefault(recipe.slug, recipe)
        if other is not recipe:
            problems.append(f"{recipe.path}: the slug {recipe.slug!r} is that of {other.path}, too; change one of them")
    if problems:
        raise SiteError(*problems)


def ground_of(own: Own) -> str:
    """A hash of what every page rests on: the code, the channel, the ingredient table, the words."""
    composer = own.composer
    return digest(_code(), repr(composer.channel), table_key(composer.table), own.theme.words.digest)


def table_key(table: Table) -> str:
    """A hash of every row: a change of one weight may change any page."""
    return digest(*(repr(row) for row in table.rows()))


def build(
    recipes: Sequence[Recipe],
    channel: Channel,
    table: Table,
    out: Path,
    templates: Path | None = None,
    progress: Progress | None = None,
) -> Report:
    """Build the site of all recipes that are no drafts, and swap it in at ``out``.

    ``templates`` is the folder's own templates folder, whose files stand in front of the shipped ones.
    ``progress(what, done, total)`` is told how far it is. Work in progress, a lock and the cache of pictures stand
    in a dot-folder beside ``out``. Raises SiteError (PhotoError, BadTemplateError) with every problem; what stood at
    ``out`` then still stands.
    """
    theme = Theme(templates)
    own = Own(theme, Composer(channel, table, theme.words))

    def first(i: int) -> tuple[Recipe, Cover]:
        return recipes[i], own.cover(recipes[i])

    with Crew(first, own.make, len(recipes), WORTH_SHARING, own.ready) as crew:
        ground = ground_of(own)  # while the others are at work
        return build_from(list(enumerate(crew.told())), crew, own, ground, out, progress)


def build_from(
    covers: Sequence[tuple[int, Cover]],
    printers: Printers,
    own: Own,
    ground: str,
    out: Path,
    progress: Progress | None = None,
) -> Report:
    """The same from recipes that stand elsewhere: ``covers`` are (the number that ``printers`` have for a recipe, what
    is told of it); ``ground`` is what :func:`ground_of` gives."""
    out = Path(os.path.realpath(out))
    work = out.parent / f".{out.name}.levelcup"
    fresh, old = work / "new", work / "old"
    shown = in_order(covers, lambda pair: pair[1].recipe)
    _refuse_slugs([cover.recipe for _, cover in shown])
    try:
        with alone(work):
            recover(out, fresh, old)
            refuse_others(out)
            fresh.mkdir(parents=True)
            report = _build(shown, printers, own, ground, out, fresh, work, progress)
            swap_in(fresh, out, old)
            return report
    except OSError as error:
        where = error.filename or out
        raise SiteError(f"{where}: {error.strerror or error}; the last site stands as it was") from None


def _drawn(
    gallery: Gallery, shown: Sequence[Cover], shots: list[Shots], channel: Channel, ground: str
) -> dict[str, Drawn]:
    """The drawn pictures by slug; the channel's own, which stands for all pages without one, under "".

    Only a recipe with a photo has some: drawing takes longer than all the pages of a recipe do.
    """
    orders: dict[str, tuple[str, CardText, Picture | None]] = {}
    for cover, mine in zip(shown, shots, strict=True):
        recipe = cover.recipe
        if cover.text is not None and recipe.photos:
            picture = mine.pictures[str(recipe.photos[0].file)]
            orders[recipe.slug] = (digest(ground, cover.key), cover.text, picture)
    whole = CardText(channel.name, channel.name, channel.tagline, "")
    orders[""] = (repr(whole), whole, None)
    return dict(zip(orders, gallery.draw(orders.values()), strict=True))


def _build(
    shown: Sequence[tuple[int, Cover]],
    printers: Printers,
    own: Own,
    ground: str,
    out: Path,
    fresh: Path,
    work: Path,
    progress: Progress | None,
) -> Report:
    theme, composer = own.theme, own.composer
    channel = composer.channel
    covers = [cover for _, cover in shown]
    before = read_manifest(out)
    shelf = Shelf(fresh, out, before)
    notes: list[str] = []
    gallery = Gallery(work / "pictures", fresh / "photos", progress)
    shots = gallery.shots([cover.recipe for cover in covers])
    drawn = _drawn(gallery, covers, shots, channel, ground)
    gallery.tidy()
    for path in sorted((fresh / "photos").glob("*")):
        name = f"photos/{path.name}"
        if name in before.files:
            shelf.now.files[name] = before.files[name]
            shelf.kept += 1
        else:
            shelf.note(name, "", digest(path.read_bytes()))

    materials: list[Material] = []
    known: dict[str, Found] = {}
    for cover, mine in zip(covers, shots, strict=True):
        recipe = cover.recipe
        film = film_files(recipe, shelf, notes)
        key = digest(cover.key, mine.key, repr(film), repr(drawn.get(recipe.slug)))
        materials.append(Material(recipe, mine.pictures, film, key, drawn.get(recipe.slug, NONE_DRAWN)))
        card = cover.found.card
        photo = lead_picture(recipe, mine.pictures)
        known[key] = Found(replace(card, photo=photo), cover.found.ingredients) if photo else cover.found

    for name, path in theme.assets().items():
        shelf.put(f"{ASSETS}/{name}", path.read_bytes())
    shelf.put(f"{ASSETS}/{KITCHEN}", kitchen_script(theme.words).encode())

    pages = Pages(theme, composer, materials, ground, drawn.get("", NONE_DRAWN), known)
    render_all(pages, [number for number, _ in shown], printers, shelf, progress)

    mine_and_theirs = strangers(out, before)
    shelf.carry(mine_and_theirs)
    removed = shelf.finish()
    return Report(out, len(shown), tuple(sorted(shelf.written)), shelf.kept, removed, gallery.made, tuple(notes))


__all__ = ["FilmFiles", "PhotoError", "Report", "SiteError", "build"]
