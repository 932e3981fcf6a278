"""The text under the film: hook, ingredients in both measures, chapter marks, the rest, within the platform's limits.

The template ``post.txt.j2`` arranges it and is the cook's to change. Whatever it does, what leaves here has no ``<``
or ``>``, at most 5,000 bytes of UTF-8, and its chapter marks in one unbroken block with nothing else that could be
taken for one. A stamp at a line's start makes a chapter, and the platform links any stamp in the text to that moment of
the film ("ready at 12:30"), so outside the block every colon of a stamp becomes the ratio sign, "12∶30" (limits and
behaviour of the film platform, from memory). Addresses keep theirs.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from pipeline.film.chapters import chapters_of, description_lines
from pipeline.measure.lookup import Table
from pipeline.measure.record import replace
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.cautions import cautions
from pipeline.site.compose import Composer
from pipeline.site.errors import BadTemplateError, SiteError
from pipeline.site.prose import inline, plain
from pipeline.site.theme import Theme, shipped_words
from pipeline.site.view import ComponentView
from pipeline.site.words import Words

MOST_BYTES = 5_000
TEMPLATE = "post.txt.j2"
_STAMP = re.compile(r"\b[a-z][a-z0-9+.-]*://\S+|\bwww\.\S+|(?<![\d:])\d{1,3}(?::\d\d)+", re.IGNORECASE)
_ANGLES = str.maketrans({"<": "‹", ">": "›"})


@dataclass(frozen=True, slots=True)
class Post:
    """``text`` is ready to paste; ``cut`` says, in order, what was left out to stay within the limit."""

    text: str
    cut: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PostPart:
    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PostView:
    """What the template sees, every field a line or lines. ``page`` is "" while the site has no address."""

    title: str
    hook: str
    page: str
    components: tuple[PostPart, ...]
    yields: str
    marks: tuple[str, ...]
    equipment: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    links: tuple[str, ...]
    keywords: tuple[str, ...]
    channel: str


def _line(text: str) -> str:
    """One line without anything that a text field could choke on."""
    text = "".join(" " if unicodedata.category(c) in ("Cc", "Zl", "Zp", "Cs") else c for c in text)
    return " ".join(text.split()).translate(_ANGLES)


def _lines(texts: tuple[str, ...] | list[str]) -> tuple[str, ...]:
    return tuple(line for line in (_line(text) for text in texts) if line)


def _hash_word(words: str) -> str:
    """ "make ahead" → "#makeahead"; "" where no letter is left."""
    kept = "".join(c for c in words if c.isalnum() or unicodedata.category(c) == "Mn")
    return f"#{kept}" if kept and not kept.isdigit() else ""


def post_view(recipe: Recipe, channel: Channel, table: Table, words: Words | None = None) -> PostView:
    """The whole of it, nothing left out yet."""
    composer = Composer(channel, table, words or shipped_words())
    chapters = chapters_of(recipe, channel.chapters, composer.words("post.intro"))
    length = recipe.video.length if recipe.video else None
    return PostView(
        title=_line(str(recipe.title)),
        hook=_line(plain(inline(recipe.summary))) or _line(str(recipe.title)),
        page=f"{channel.address}/recipes/{recipe.slug}.html" if channel.address else "",
        components=_parts(composer.components(recipe), False),
        yields=_line(str(recipe.yield_.text)) if recipe.yield_ else "",
        marks=_lines(description_lines(chapters, length)),
        equipment=_lines(recipe.equipment),
        notes=_lines([plain(note) for note in composer.notes(recipe)]),
        cautions=_lines([c.text for c in cautions(recipe, composer.words)]),
        links=_lines([f"{link.title}: {link.address}" for link in channel.links]),
        keywords=tuple(dict.fromkeys(w for w in map(_hash_word, recipe.keywords) if w)),
        channel=_line(channel.name),
    )


def _parts(components: tuple[ComponentView, ...], brief: bool) -> tuple[PostPart, ...]:
    return tuple(
        PostPart(_line(c.title), _lines([row.brief if brief else row.plain for row in c.rows]))
        for c in components
        if c.rows
    )


def _first_sentence(text: str) -> str:
    return re.split(r"(?<=[.!?])\s", text, maxsplit=1)[0]


def _set_right(text: str, marks: tuple[str, ...]) -> str:
    """The rendered text with tidy lines, and no false mark outside the block of marks."""
    text = text.replace("\r\n", "\n").translate(_ANGLES)
    text = "".join(c if c == "\n" or unicodedata.category(c) not in ("Cc", "Cs") else " " for c in text)
    text = re.sub(r"[ \t]+$", "", text, flags=re.MULTILINE)
    text = re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"
    if not marks:
        return _no_stamps(text)
    block_of_marks = "\n".join(marks) + "\n"
    start = text.find(block_of_marks) if text.startswith(block_of_marks) else text.find("\n" + block_of_marks) + 1
    if start <= 0 and not text.startswith(block_of_marks):
        raise BadTemplateError(
            TEMPLATE, 0, "the chapter marks must stand in it one a line, unbroken: {% for line in post.marks %}"
        )
    end = start + len(block_of_marks)
    return _no_stamps(text[:start]) + block_of_marks + _no_stamps(text[end:])


def _no_stamps(text: str) -> str:
    return _STAMP.sub(lambda m: m.group() if m.group()[0].isalpha() else m.group().replace(":", "∶"), text)


def post_text(recipe: Recipe, channel: Channel, table: Table, templates: Path | None = None) -> Post:
    """The whole text under the film. ``templates`` is the folder's own templates folder.

    If it is too long, it is shortened in this order: keywords, links, equipment, notes, what is said beside each
    ingredient, all but the first sentence of the summary, then the ingredients (the page has them). Marks, link and
    cautions always stay. Raises BadTemplateError, or SiteError where even that is too long.
    """
    theme = Theme(templates)
    view = post_view(recipe, channel, table, theme.words)
    components = Composer(channel, table, theme.words).components(recipe)
    where = theme.words("post.see_page" if view.page else "post.see_film")
    steps: list[tuple[str, Callable[[PostView], PostView]]] = [
        ("keywords", lambda v: replace(v, keywords=())),
        ("links", lambda v: replace(v, links=())),
        ("equipment", lambda v: replace(v, equipment=())),
        ("notes", lambda v: replace(v, notes=())),
        ("what is said beside each ingredient", lambda v: replace(v, components=_parts(components, True))),
        ("all but the first sentence of the summary", lambda v: replace(v, hook=_first_sentence(v.hook))),
        ("the ingredients", lambda v: replace(v, components=(PostPart("", (where,)),))),
    ]
    cut: list[str] = []
    while True:
        text = _set_right(theme.render(TEMPLATE, {"post": view}), view.marks)
        if len(text.encode()) <= MOST_BYTES:
            return Post(text, tuple(cut))
        if not steps:
            raise SiteError(
                f"{recipe.path}: the text under the film has {len(text.encode()):,} bytes even when shortened, and "
                f"the platform takes {MOST_BYTES:,}; shorten chapter titles, the summary or {TEMPLATE}"
            )
        while steps:
            name, shorten = steps.pop(0)
            shorter = shorten(view)
            if shorter != view:
                view = shorter
                cut.append(name)
                break
