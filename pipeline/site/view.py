"""What the templates see: frozen values with every word and number ready to print.

Templates loop and choose; nothing is converted, rounded or compared in one. ``*_html`` fields and :class:`Markup`
are safe HTML of our own making; every other string is plain text that the template escapes. What a page has many of is
a named tuple, which is made in a fifth of the time of a frozen data class.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from markupsafe import Markup

from pipeline.site.photos import Picture

_NONE = Markup("")
_FOR_SCRIPT = re.compile(r' data-[a-z]+="[^"]*"')
# Where a line may end within an amount: not after a number or a plus. The page's script cuts by the same rule.
_BREAK = re.compile(r"(?<![\d¼-¾⅐-⅞+–]) ")
_WIDE = re.compile(r"[¼-¾⅐-⅞]")  # as wide as two figures
# Letters that stand on one line at full size in a phone's column, and in any (measured).
_LONG, _LONGER = 8, 9


def _bare(html: Markup) -> Markup:
    return Markup(_FOR_SCRIPT.sub("", html))


@dataclass(frozen=True, slots=True)
class ChannelView:
    """The channel on every page. ``root`` is its address with a slash at the end, or ""; ``locale`` its language and
    country as Open Graph has them ("en_US"), or "";
    ``social`` are (title, address) pairs of where else it is found."""

    name: str
    tagline: str
    author: str
    root: str
    language: str
    locale: str
    footer: str
    paper: str
    lead: str
    social: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class PageView:
    """One page: ``up`` leads from it to the site's top ("" or "../"), ``canonical`` is its full address or ""."""

    title: str
    description: str
    up: str
    canonical: str
    kind: str
    image: str = ""  # the whole address of the picture that stands for the page elsewhere, or ""
    image_alt: str = ""
    index: bool = True  # whether search engines may list the page


@dataclass(frozen=True, slots=True)
class PictureView:
    picture: Picture
    alt: str
    caption: str = ""

    def jpegs(self, base: str) -> str:
        """The ``srcset`` of the JPEGs; ``base`` leads to the photos' folder."""
        return ", ".join(f"{base}{jpeg} {width}w" for width, jpeg, _, _ in self.picture.files)

    def webps(self, base: str) -> str:
        return ", ".join(f"{base}{webp} {width}w" for width, _, webp, _ in self.picture.files)

    def avifs(self, base: str) -> str:
        """The ``srcset`` of the AVIFs, "" where there are none."""
        return ", ".join(f"{base}{avif} {width}w" for width, _, _, avif in self.picture.files if avif)

    @property
    def tint(self) -> str:
        """The class of the colour that stands in its place while it loads (``assets/pictures.css``), or ""."""
        return f"tint-{self.picture.tint}" if self.picture.tint >= 0 else ""

    @property
    def small(self) -> str:
        return self.picture.files[0][1]

    @property
    def large(self) -> str:
        return self.picture.files[-1][1]


class Said(NamedTuple):
    """One measure as printed. Where it was worked out from the other one, it is ``derived``, and ``about`` is how it is
    said in a line of plain text ("about 46 g")."""

    text: str
    derived: bool = False
    about: str = ""

    @property
    def parts(self) -> tuple[str, ...]:
        """Pieces that are never broken across lines: ("1¼ cups", "+ 2 tbsp")."""
        return tuple(_BREAK.split(self.text))

    @property
    def length(self) -> str:
        """A class for smaller type where its longest part needs it: "", "long" on a phone, "longer" everywhere."""
        if 2 * len(self.text) + self.derived <= _LONG:
            return ""
        most = max(len(part) + len(_WIDE.findall(part)) for part in self.parts) + self.derived
        return "" if most <= _LONG else "long" if most <= _LONGER else "longer"

    def words(self) -> str:
        """In a line of plain text."""
        return self.about or self.text

    def signed(self) -> str:
        """In the page's own text: "≈46 g" where it was worked out."""
        return f"≈{self.text}" if self.derived else self.text


class IngredientView(NamedTuple):
    """A row of the list. ``scale`` is what a scale reads; ``cup`` what is measured or counted, one line each."""

    name: str
    note: str
    scale: tuple[Said, ...]
    cup: tuple[Said, ...]
    optional: bool
    divided: bool
    to_taste: bool
    plain: str
    brief: str
    named: Markup = _NONE  # the name, with what it is called elsewhere for the script
    of: Markup = _NONE  # an attribute that leads the script to the amount


@dataclass(frozen=True, slots=True)
class ComponentView:
    """``label`` is the short name on its steps, ``tone`` its colour (1 to 6), ``title`` above its list."""

    key: str
    title: str
    label: str
    tone: int
    rows: tuple[IngredientView, ...]


@dataclass(frozen=True, slots=True)
class MomentView:
    """A moment of the film: ``clock`` as shown ("1:05"), ``second`` in whole seconds, ``href`` where it plays or ""."""

    clock: str
    second: int
    href: str


class StepView(NamedTuple):
    """``number`` counts from 1 over the whole recipe; ``starts`` is true where another component takes over."""

    number: int
    title: str
    body: Markup
    plain: str
    tone: int
    label: str
    starts: bool
    moment: MomentView | None
    photo: PictureView | None
    pans: Markup = _NONE  # an attribute that tells the script the sizes of a pan

    @property
    def bare(self) -> Markup:
        """The body without what is for the page's script: for the feed and for paper."""
        return _bare(self.body)


@dataclass(frozen=True, slots=True)
class TimeView:
    label: str
    words: str
    iso: str


@dataclass(frozen=True, slots=True)
class FilmView:
    """``href`` plays the film elsewhere; ``source`` is its file in the site, ``track`` its captions there; or ""."""

    title: str
    href: str
    source: str
    kind: str
    track: str
    length: str


@dataclass(frozen=True, slots=True)
class CautionView:
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class CardView:
    """A recipe in a list: home, archive and feed. ``find`` holds its words in lower case for the search."""

    slug: str
    title: str
    summary: str
    date_iso: str
    date_words: str
    category: tuple[str, ...]
    cuisine: tuple[str, ...]
    keywords: tuple[str, ...]
    total: str
    minutes: int
    find: str
    photo: PictureView | None

    @property
    def shot(self) -> str:
        """The file of its smallest picture, "" where it has none."""
        return self.photo.small if self.photo else ""


@dataclass(frozen=True, slots=True)
class RecipeView:
    """``derived``: some figure was worked out; ``dense``: so long that it is printed smaller; ``data`` its JSON-LD."""

    card: CardView
    summary: Markup
    yields: str
    times: tuple[TimeView, ...]
    photos: tuple[PictureView, ...]
    components: tuple[ComponentView, ...]
    steps: tuple[StepView, ...]
    equipment: tuple[str, ...]
    notes: tuple[Markup, ...]
    substitutions: tuple[tuple[str, Markup], ...]
    cautions: tuple[CautionView, ...]
    film: FilmView | None
    derived: bool
    weight_first: bool
    cup_words: str
    dense: bool
    data: Markup
    gear: tuple[tuple[str, Markup], ...] = ()  # the equipment, each with the sizes of a pan as an attribute
    counter: Markup = _NONE  # what the script works with, as JSON
    nutrition: tuple[tuple[str, str], ...] = ()  # what it is called and what was given

    @property
    def bare_notes(self) -> tuple[Markup, ...]:
        """The notes without what is for the page's script: for the feed and for paper."""
        return tuple(map(_bare, self.notes))

    @property
    def bare_substitutions(self) -> tuple[tuple[str, Markup], ...]:
        """As ``bare_notes``."""
        return tuple((name, _bare(text)) for name, text in self.substitutions)
