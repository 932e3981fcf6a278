"""A recipe laid out for paper: a sheet with its photo, large type, and index cards; one page, chosen without script."""

from __future__ import annotations

from pipeline.site.binding import binder
from pipeline.site.scan import scan_svg
from pipeline.site.sheet import Desk
from pipeline.site.view import RecipeView

FOLDER = "print"
PAPER = "paper.html.j2"
# A title of more letters is set smaller on a card (measured by printing).
LONG_TITLE = 34


def paper_path(slug: str) -> str:
    return f"{FOLDER}/{slug}.html"


def scan_of(desk: Desk, slug: str) -> str:
    """The code that leads back to a recipe's page, as inline SVG; "" while the channel has no address."""
    address = f"{desk.view.root}recipes/{slug}.html" if desk.view.root else ""
    return scan_svg(address, desk.words("paper.scan", address=address))


def render_paper(desk: Desk, view: RecipeView, card: str) -> str:
    """``card`` is the name in ``photos/`` of the drawn card, or ""."""
    slug = view.card.slug
    page = desk.page("paper", view.card.title, view.card.summary, paper_path(slug), same_as=f"recipes/{slug}.html")
    long = len(view.card.title) > LONG_TITLE
    unbroken = binder(desk.words.terms)
    return desk.render(PAPER, page, recipe=view, scan=scan_of(desk, slug), card=card, long=long, unbroken=unbroken)
