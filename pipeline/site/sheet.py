"""One file of text of the site, and what each is made with: templates, settings, and the key of what it rests on."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from pipeline.recipe.channel import Channel
from pipeline.site.files import digest
from pipeline.site.prose import safe_link
from pipeline.site.theme import Theme
from pipeline.site.view import ChannelView, PageView
from pipeline.site.words import Words


@dataclass(frozen=True, slots=True)
class Page:
    """A file of the site: ``path`` in it, ``key`` a hash of all it depends on, ``render`` its text. ``of`` is the place
    among the recipes of the one whose own file it is."""

    path: str
    key: str
    render: Callable[[], str]
    of: int | None = None


# language[-script]-REGION of a language tag (RFC 5646, 2.1); a region by number is no country.
_TAG = re.compile(r"([a-z]{2,3})(?:-[a-z]{4})?-([a-z]{2})(?:-.*)?", re.IGNORECASE)


def locale_of(language: str) -> str:
    """Open Graph's ``language_TERRITORY`` for a language tag: "en-US" is "en_US"; "" where the tag names no country,
    for a guessed one would be wrong."""
    found = _TAG.fullmatch(language.strip())
    return f"{found[1].lower()}_{found[2].upper()}" if found else ""


def channel_view(channel: Channel) -> ChannelView:
    return ChannelView(
        name=channel.name,
        tagline=channel.tagline,
        author=channel.author or channel.name,
        root=f"{channel.address}/" if channel.address else "",
        language=channel.language,
        locale=locale_of(channel.language),
        footer=channel.footer,
        paper=channel.paper,
        lead=channel.lead,
        social=tuple((link.title, link.address) for link in channel.social if safe_link(link.address)),
    )


@dataclass(frozen=True)
class Desk:
    """What all pages of one build are made with. ``ground`` is a hash of what every page rests on; ``social`` the
    name in ``photos/`` of the picture that stands for pages without one of their own, or ""."""

    theme: Theme
    channel: Channel
    ground: str
    social: str = ""

    @cached_property
    def view(self) -> ChannelView:
        return channel_view(self.channel)

    @property
    def words(self) -> Words:
        return self.theme.words

    def page(
        self, kind: str, title: str, about: str, path: str, social: str = "", alt: str = "", same_as: str = ""
    ) -> PageView:
        """``social`` and ``alt`` are the page's own picture where it has one; ``same_as`` the path of the page of
        which this one is another form."""
        root = self.view.root
        place = "" if path == "index.html" else same_as or path
        picture = social or self.social
        return PageView(
            title=title,
            description=about,
            up="../" * path.count("/"),
            canonical=f"{root}{place}" if root else "",
            kind=kind,
            image=f"{root}photos/{picture}" if root and picture else "",
            image_alt=alt if social and alt else title,
            index=not same_as,
        )

    def key(self, template: str, *parts: object) -> str:
        """ "" where nothing is kept from one build to the next (``ground`` is "" then): hashing has its price."""
        if not self.ground:
            return ""
        return digest(self.ground, self.theme.digest(template), self.social, *(repr(p) for p in parts))

    def render(self, template: str, page: PageView, **context: object) -> str:
        return self.theme.render(template, {"channel": self.view, "page": page, **context})

    def sheet(self, template: str, page: PageView, path: str, **context: object) -> Page:
        """A page whose key is simply all that it shows."""
        return Page(path, self.key(template, page, context), lambda: self.render(template, page, **context))
