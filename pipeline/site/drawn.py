"""Pictures that are drawn, not taken: the card that stands for a page where it is shared, and a card to print.

Both are of our own look: an enamelled card with its rim and a measuring jug's graduations. Colours are those of the
light scheme in ``templates/assets/tokens.css``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from pipeline.site.lettering import Style, drawable, fitted
from pipeline.site.scan import scan_modules
from pipeline.site.view import ComponentView

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

SOCIAL = (1200, 630)  # px: Open Graph consumers' usual picture, about 1.91 to 1 (from memory)
CARD = (1800, 1200)  # px: 6 by 4 inches at 300 dots to the inch
_INK, _SOFT, _RIM, _CARD, _BAND, _LINE = "#16203a", "#4b5a74", "#1d3f8a", "#fcfdfd", "#f0f4f8", "#c5cfdc"
_TONES = ("#1d4fa3", "#a83a22", "#3c671d", "#7b2f7d", "#80540a", "#0b6464")


@dataclass(frozen=True, slots=True)
class CardText:
    """What the drawn pictures say. ``facts`` is one short line; ``address`` the page's, or "";
    ``more`` says that ``{n}`` lines are left out."""

    channel: str
    title: str
    facts: str
    address: str
    parts: tuple[ComponentView, ...] = ()
    weight_first: bool = True
    more: str = "+ {n}"


def _jpeg(image: Image) -> bytes:
    buffer = BytesIO()
    image.save(buffer, "JPEG", quality=86, optimize=True, progressive=True)
    return buffer.getvalue()


def _graduations(draw: ImageDraw, x: int, y: int, high: int, ink: str) -> None:
    """Marks up the left side, every fifth one longer, as on a jug."""
    for i in range(1, high // 22):
        draw.line((x, y + high - i * 22, x + (34 if i % 5 == 0 else 18), y + high - i * 22), fill=ink, width=3)


def social_card(text: CardText, photo: Path | None) -> bytes:
    """The 1200 by 630 picture of a page, as JPEG. ``photo`` is a picture of the site's own making. Words that the
    packaged faces cannot write are left out; the photo then stands alone."""
    from PIL import Image, ImageDraw, ImageOps

    image = Image.new("RGB", SOCIAL, _CARD)
    words = drawable(text.title)
    left = 0 if photo is None else 600 if words else SOCIAL[0]
    if photo is not None:
        with Image.open(photo) as taken:
            image.paste(ImageOps.fit(taken.convert("RGB"), (left, SOCIAL[1]), Image.Resampling.LANCZOS), (0, 0))
    if not words:
        return _jpeg(image)
    draw = ImageDraw.Draw(image)
    _graduations(draw, left + 8, 0, SOCIAL[1], _RIM)
    x = left + 72
    room = SOCIAL[0] - x - 56
    facts = Style("plain", 30)
    tail = facts.wrap(text.facts, room)[:2] if drawable(text.facts) else []
    high = SOCIAL[1] - 50 - 110 - 24 - len(tail) * facts.step
    for size in range(76 if photo else 104, 35, -4):
        style, lines = fitted(text.title, "display", range(size, size - 1, -1), room, max(1, int(high / (size * 1.12))))
        if not lines[-1].endswith("…"):
            break
    y = 50 + (high - len(lines) * style.step) // 2
    for line in lines:
        style.write(draw, x, y, line, _INK)
        y += style.step
    y += 24
    for line in tail:
        facts.write(draw, x, y, line, _SOFT)
        y += facts.step
    if drawable(text.channel) and text.channel != text.title:
        name, (only, *_) = fitted(text.channel, "bold", range(30, 17, -2), room, 1)
        draw.line((x, SOCIAL[1] - 94, x + room, SOCIAL[1] - 94), fill=_LINE, width=3)
        name.write(draw, x, SOCIAL[1] - 82, only, _RIM)
    draw.rectangle((0, 0, SOCIAL[0] - 1, SOCIAL[1] - 1), outline=_RIM, width=10)
    return _jpeg(image)


Row = tuple[str, str, str, int]  # scale, name, cup, tone; a heading has only a name


def _rows(text: CardText) -> list[Row]:
    rows: list[Row] = []
    for part in text.parts:
        if part.title:
            rows.append(("", part.title, "", part.tone))
        for row in part.rows:
            # The first of each says it: "1 stick" and not "1 stick, ½ cup".
            scale, cup = (side[0].signed() if side else "" for side in (row.scale, row.cup))
            rows.append((scale, row.name, cup, 0) if text.weight_first else (cup, row.name, scale, 0))
    return rows


def recipe_card(text: CardText) -> bytes | None:
    """The list of a recipe in both measures on a card of 6 by 4 inches, as PNG, the page's address and its code to
    scan with it. None where the packaged faces cannot write it. A list too long for the card ends with how many more
    lines the page has."""
    rows = _rows(text)
    if not drawable("".join([text.title, text.facts, text.channel, *(w for row in rows for w in row[:3])])):
        return None
    from PIL import Image, ImageDraw

    image = Image.new("RGB", CARD, _CARD)
    draw = ImageDraw.Draw(image)
    edge = 70
    code = scan_modules(text.address) if text.address else ()
    room = CARD[0] - 2 * edge - (250 if code else 0)
    style, lines = fitted(text.title, "display", range(84, 59, -4), room, 1)
    if lines[-1].endswith("…"):
        style, lines = fitted(text.title, "display", range(76, 43, -4), room, 2)
    y = 58
    for line in lines:
        style.write(draw, edge, y, line, _INK)
        y += style.step
    facts = Style("plain", 32)
    for line in facts.wrap(text.facts, room)[:2]:
        facts.write(draw, edge, y + 10, line, _SOFT)
        y += facts.step
    if code:
        _code(draw, code, CARD[0] - edge - 210, 50, 210)
        y = max(y, 250)
    y += 28
    draw.line((edge, y, CARD[0] - edge, y), fill=_RIM, width=6)
    _table(draw, rows, edge, y + 14, CARD[1] - 96 - y - 14, text.more)
    foot = Style("bold", 26)
    foot.write(draw, edge, CARD[1] - 78, text.channel, _RIM)
    if text.address and drawable(text.address):
        small, (address, *_) = fitted(text.address.partition("://")[2], "plain", range(26, 15, -1), 1100, 1)
        small.write(draw, CARD[0] - edge, CARD[1] - 78, address, _SOFT, "right")
    draw.rounded_rectangle((12, 12, CARD[0] - 13, CARD[1] - 13), 36, outline=_RIM, width=10)
    buffer = BytesIO()
    image.quantize(64, dither=Image.Dither.NONE).save(buffer, "PNG", optimize=True, dpi=(300, 300))
    return buffer.getvalue()


def _code(draw: ImageDraw, rows: Sequence[str], x: int, y: int, size: int) -> None:
    unit = size // len(rows)
    for j, row in enumerate(rows):
        for i, dark in enumerate(row):
            if dark == "1":
                draw.rectangle(
                    (x + i * unit, y + j * unit, x + (i + 1) * unit - 1, y + (j + 1) * unit - 1), fill="#000000"
                )


def _table(draw: ImageDraw, rows: list[Row], x: int, y: int, high: int, more: str) -> None:
    """Two columns of lines, each with the two measures left and right of its name, as large as there is room for."""
    gap = 56
    wide = (CARD[0] - 2 * x - gap) // 2
    for size in range(44, 21, -1):
        bold, plain = Style("bold", size), Style("plain", size)
        side = max((bold.width(start) for start, *_ in rows), default=0)
        side = min(side, wide * 2 // 5)
        blocks = [_block(row, bold, plain, side, wide) for row in rows]
        step = round(size * 1.3)
        room = high // step
        first, second, left = _columns(blocks, room)
        if not left:
            break
    for column, at in ((first, x), (second, x + wide + gap)):
        top = y
        for (*_, tone), cells in column:
            for n in range(max(map(len, cells))):
                start, name, end = (cell[n] if n < len(cell) else "" for cell in cells)
                if tone:
                    bold.write(draw, at, top, name, _TONES[tone - 1])
                    draw.line((at, top + round(step * 1.02), at + wide, top + round(step * 1.02)), fill=_LINE, width=2)
                else:
                    bold.write(draw, at + side, top, start, _INK, "right")
                    plain.write(draw, at + side + 18, top, name, _INK)
                    bold.write(draw, at + wide, top, end, _INK, "right")
                top += step
    if left:
        Style("plain", size).write(draw, x + wide * 2 + gap, y + high - step, more.format(n=left), _SOFT, "right")


Block = tuple[Row, list[list[str]]]


def _block(row: Row, bold: Style, plain: Style, side: int, wide: int) -> Block:
    """A row's three cells, each as lines."""
    start, name, end, tone = row
    if tone:
        return row, [[], bold.wrap(name, wide), []]
    room = wide - side - 36 - bold.width(end)
    return row, [bold.wrap(start, side), plain.wrap(name, max(room, wide // 5)), bold.wrap(end, side)]


def _columns(blocks: list[Block], room: int) -> tuple[list[Block], list[Block], int]:
    """The rows in two columns of ``room`` lines, and how many are left over. A heading never ends a column."""
    total = sum(max(map(len, cells)) for _, cells in blocks)
    goals = (min(room, -(-total // 2) + 1), room)
    columns: list[list[Block]] = []
    at = 0
    for goal in goals:
        column: list[Block] = []
        used = 0
        while at < len(blocks) and used + max(map(len, blocks[at][1])) <= goal:
            column.append(blocks[at])
            used += max(map(len, blocks[at][1]))
            at += 1
        while column and at < len(blocks) and column[-1][0][3]:
            column.pop()
            at -= 1
        columns.append(column)
    return columns[0], columns[1], len(blocks) - at
