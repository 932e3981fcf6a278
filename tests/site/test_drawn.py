"""Drawn pictures: their sizes, that all of the words are drawn or none, and that nothing runs over the edge."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from test_structured import data_in

from pipeline.measure.lookup import Table
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Recipe
from pipeline.site.build import Report
from pipeline.site.compose import Composer
from pipeline.site.drawn import CARD, SOCIAL, CardText, recipe_card, social_card
from pipeline.site.lettering import Style, drawable, fitted

TITLES = [
    "Soup",
    "Overnight Dimpled Bread with White Bean Dip and a Great Many Other Things on the Side of It",
    "Pneumonoultramicroscopicsilicovolcanoconiosisbrot",
    "Crème brûlée à l’orange, ½ portion",
    "Ψωμί και хлеб",
]


def opened(raw: bytes) -> Image.Image:
    image = Image.open(BytesIO(raw))
    image.load()
    return image.convert("RGB")


@pytest.mark.parametrize("title", TITLES)
@pytest.mark.parametrize("with_photo", [True, False])
def test_a_title_of_any_length_stays_within_the_rim(
    title: str, with_photo: bool, picture: Callable[..., Path], tmp_path: Path
) -> None:
    photo = picture(tmp_path / "p.jpg", (1600, 1200)) if with_photo else None
    image = opened(social_card(CardText("The Tin Whisk", title, "serves 4 · 1 h", ""), photo))
    assert image.size == SOCIAL == (1200, 630)
    blank = opened(social_card(CardText("The Tin Whisk", "i", "", ""), photo))
    # Whatever differs from a card with next to no words lies inside: 40 px from the right edge, 30 from the others.
    box = ImageChops.difference(image, blank).point(lambda v: 255 if v > 60 else 0).getbbox()
    assert box is not None
    assert box[0] >= (600 if with_photo else 30) and box[1] >= 30 and box[2] <= 1160 and box[3] <= 600


def test_words_without_letters_leave_the_photo_alone(picture: Callable[..., Path], tmp_path: Path) -> None:
    assert not drawable("味噌汁") and drawable("Ψωμί, хлеб, ½ ⅓ crème")
    photo = picture(tmp_path / "p.jpg", (1600, 1200))
    image = opened(social_card(CardText("The Tin Whisk", "味噌汁", "", ""), photo))
    taken = Image.open(photo).convert("RGB").resize((1200, 900)).crop((0, 135, 1200, 765))
    assert max(ImageChops.difference(image, taken).resize((1, 1)).getpixel((0, 0))) < 12  # type: ignore[type-var]
    assert recipe_card(CardText("The Tin Whisk", "味噌汁", "", "")) is None


def test_a_line_is_no_wider_than_its_room() -> None:
    for title in TITLES:
        style, lines = fitted(title, "display", range(90, 39, -5), 500, 3)
        assert len(lines) <= 3 and all(style.width(line) <= 500 for line in lines)
    assert fitted("Soup", "display", range(90, 39, -5), 500, 3)[0].size == 90
    assert Style("plain", 20).wrap("one two", 10_000) == ["one two"]


def long_recipe(cook: Callable[..., Recipe], count: int) -> Recipe:
    lines = "".join(f"  - {100 + i} g thing number {i} with a long name\n" for i in range(count))
    return cook(f"title: Many Things\nslug: many\nyield: serves 4\ningredients:\n{lines}steps: [Mix.]\n", "many")


@pytest.mark.parametrize("count", [1, 12, 30, 80])
def test_a_list_of_any_length_fits_on_the_card(
    count: int, cook: Callable[..., Recipe], channel: Channel, table: Table
) -> None:
    raw = recipe_card(Composer(channel, table).card_text(long_recipe(cook, count)))
    assert raw is not None
    image = Image.open(BytesIO(raw))
    assert image.size == CARD == (1800, 1200)
    assert [round(d) for d in image.info["dpi"]] == [300, 300]  # 6 by 4 inches
    # Nothing is drawn between the rim and the text's own edge.
    rim = image.convert("L").crop((30, 200, 62, 1100))
    assert min(rim.getextrema()) > 230  # type: ignore[type-var]


def test_every_demo_page_names_pictures_that_are_there(demo: Report) -> None:
    """Cuts of 16:9, 4:3 and 1:1, and a card of 1200 by 630, each as said."""
    root = "https://the-tin-whisk.example/"
    for path in sorted((demo.out / "recipes").glob("*.html")):
        page = path.read_text("utf-8")
        (data,) = data_in(page)
        shapes = []
        for address in data["image"]:
            with Image.open(demo.out / address.removeprefix(root)) as image:
                shapes.append(round(image.width / image.height, 2))
                assert image.width >= 1200 and not image.getexif()
        assert shapes[:3] == [1.78, 1.33, 1.0]
        social = page.split('property="og:image" content="')[1].split('"')[0]
        with Image.open(demo.out / social.removeprefix(root)) as image:
            assert image.size == (1200, 630)
        assert "image/avif" in page and 'class="tint-' in page


def test_a_page_without_a_photo_has_the_channels_card(
    small: Callable[..., Recipe], channel: Channel, table: Table, tmp_path: Path
) -> None:
    from pipeline.site.build import build

    out = build([small("a")], channel, table, tmp_path / "site_out").out
    social = (out / "recipes" / "a.html").read_text("utf-8").split('property="og:image" content="')[1].split('"')[0]
    assert (out / social.removeprefix("https://the-tin-whisk.example/")).is_file()
    assert "og:image" not in (out / "404.html").read_text("utf-8")
