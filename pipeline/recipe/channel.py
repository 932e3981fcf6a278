"""The channel's settings, ``content/channel.yaml``."""

from __future__ import annotations

from typing import Literal, NamedTuple

from pipeline.measure.units import Standard


class ChapterRules(NamedTuple):
    """Limits of the film platform for chapter marks: first at 0:00, ascending, at least ``least`` of them, each at
    least ``shortest`` ms long, titles of at most ``title`` characters."""

    least: int = 3
    shortest: int = 10_000
    title: int = 60


class Link(NamedTuple):
    """A link and what it is called."""

    title: str
    address: str


class Channel(NamedTuple):
    """Settings of one channel; every field has a default, so that a folder works without the file.

    ``address`` is the site's own (no slash at the end), "" while it has none. ``cup`` is whose cup and spoon the
    audience has. ``fan`` / ``gas``: whether pages print the fan-oven and gas-mark figures too. ``paper`` is what
    prints are laid out for. ``social``: where else the channel is found; ``links`` stand in the text under each film.
    """

    name: str = "My channel"
    tagline: str = ""
    author: str = ""
    address: str = ""
    language: str = "en"
    cup: Standard = "us"
    lead: Literal["weight", "volume"] = "weight"
    fan: bool = False
    gas: bool = False
    paper: Literal["letter", "a4"] = "letter"
    chapters: ChapterRules = ChapterRules()
    footer: str = ""
    social: tuple[Link, ...] = ()
    links: tuple[Link, ...] = ()
