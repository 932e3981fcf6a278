"""What is baked in a square tin: cake and oat squares."""

from __future__ import annotations

from brush import SCALE, Canvas, Point, oval, rounded, turn
from PIL import Image, ImageChops, ImageFilter
from still_life import berries, cloth, flakes, leaf, ring, spread, table


def cake() -> Canvas:
    c = table("cake", (150, 168, 160))
    cloth(c, [(-60, 820), (640, 900), (700, 1300), (-60, 1300)], (240, 230, 212), (66, 92, 132), -6)
    pan = c.mask(rounded(130, 90, 1030, 990, 40))
    c.cast(pan, 40, 0.7)
    c.relief(pan, (176, 176, 174), None, 10, 0.7, 0.6)
    well = c.mask(rounded(158, 118, 1002, 962, 26))
    c.relief(well, (120, 116, 114), None, 4, 0, 0)
    c.light(well, ImageChops.invert(well), 18, 0.3, 0.6)
    size, gap = 264, 8
    for j in range(3):
        for i in range(3):
            x0, y0 = 176 + i * (size + gap), 136 + j * (size + gap)
            if (i, j) == (2, 2):
                crumbs = c.mask(rounded(x0, y0, x0 + size, y0 + size, 4))
                c.tint(crumbs, (196, 186, 168))
                c.light(crumbs, ImageChops.invert(crumbs), 14, 0.2, 0.7)
                flakes(c, crumbs, (x0, y0, x0 + size, y0 + size), 60, (222, 168, 88), (2, 6))
                continue
            square(c, x0, y0, size, 0, 9)
    plate = ring(c, 1285, 770, 255, 30, (238, 232, 222), (244, 239, 230), 22, 0.5)
    band = c.mask(oval(1285, 770, 214, 214, 90), holes=[oval(1285, 770, 208, 208, 90)])
    c.tint(band, (66, 92, 132), 0.7)
    square(c, 1285 - 122, 770 - 122, 244, 17, 9)
    flakes(c, plate, (1080, 600, 1440, 960), 26, (222, 168, 88), (2, 6))
    berries(
        c,
        [
            (1130, 180),
            (1180, 226),
            (1240, 170),
            (1290, 240),
            (1216, 280),
            (1390, 190),
            (1420, 330),
            (1120, 330),
            (1500, 250),
            (1340, 330),
        ],
        27,
    )
    leaf(c, 1310, 160, 70, -30, (84, 128, 84))
    return c


def cake_top(c: Canvas, m: Image.Image, spots: list[Point]) -> None:
    c.tint(m, (226, 172, 84))
    c.grain(m, (246, 206, 124), 14, 0.7)
    c.grain(m, (180, 112, 44), 24, 0.5)
    c.light(m, c.cloud(90), 6, 0.4, 0.45)
    stain = ImageChops.multiply(
        m, c.mask(*(c.blob(x, y, 38, 36, 0.25) for x, y in spots)).filter(ImageFilter.GaussianBlur(8 * SCALE))
    )
    c.tint(stain, (128, 64, 92), 0.5)


def square(c: Canvas, x0: float, y0: float, size: float, angle: float, count: int) -> None:
    """One square of the cake."""
    mid = (x0 + size / 2, y0 + size / 2)
    m = c.mask(turn(c.wobble(rounded(x0, y0, x0 + size, y0 + size, 12), 1.6, 40), mid, angle))
    c.cast(m, 14, 0.6)
    spots = spread(c, x0 + 34, y0 + 34, x0 + size - 34, y0 + size - 34, count, 52)
    spots = [turn([p], mid, angle)[0] for p in spots]
    cake_top(c, m, spots)
    c.light(m, None, 10, 0.5, 0.75)
    sunk = c.mask(*(c.blob(x, y, 31, 29, 0.1) for x, y in spots)).filter(ImageFilter.GaussianBlur(4 * SCALE))
    c.shade(ImageChops.multiply(sunk, m), 0.4, (90, 44, 40))
    berries(c, spots, 23)
    flakes(
        c,
        m,
        (mid[0] - size / 1.5, mid[1] - size / 1.5, mid[0] + size / 1.5, mid[1] + size / 1.5),
        170,
        (255, 244, 214),
        (1.5, 4),
    )


def squares() -> Canvas:
    c = table("squares", (196, 176, 156))
    cloth(c, [(1120, 760), (1660, 700), (1660, 1260), (1040, 1260)], (70, 78, 96), (226, 196, 150), 12)
    paper = c.mask(c.wobble(turn(rounded(220, 130, 1290, 1080, 6), (760, 600), -7), 1.5, 60))
    c.cast(paper, 7, 0.5)
    c.relief(paper, (240, 230, 212), c.cloud(7), 24, 0.2, 0.3)
    for j in range(3):
        for i in range(4):
            if (i, j) == (3, 2):
                continue
            x, y = 340 + i * 248 + c.rng.uniform(-8, 8), 250 + j * 270 + c.rng.uniform(-8, 8)
            mid = turn([(x + 100, y + 110)], (760, 600), -7)[0]
            oat_square(c, mid[0], mid[1], 216, -7 + c.rng.uniform(-5, 5))
    oat_square(c, 1400, 330, 216, 24)
    flakes(c, paper, (260, 180, 1270, 1060), 160, (86, 52, 36), (2, 6))
    return c


def oat_square(c: Canvas, x: float, y: float, size: float, angle: float) -> None:
    h = size / 2
    m = c.mask(turn(c.wobble(rounded(x - h, y - h, x + h, y + h, 16), 2.2, 44), (x, y), angle))
    c.cast(m, 26, 0.7)
    c.relief(m, (98, 58, 38), None, 14, 0.5, 0.7)
    c.grain(m, (70, 38, 26), 30, 0.6)
    c.dabs(m, [(190, 150, 104), (164, 120, 78), (126, 82, 52)], 90, (9, 15), (6, 9), (0, 180), 0.85, 0.5)
    c.light(m, c.cloud(100), 5, 0.4, 0.5)
    chips = spread(c, x - h + 34, y - h + 34, x + h - 34, y + h - 34, 7, 46)
    for cx, cy in chips:
        k = c.mask(c.blob(cx, cy, 15, 14, 0.12))
        c.cast(k, 5, 0.5)
        c.relief(k, (52, 28, 22), None, 9, 0.6, 0.6, (214, 170, 140))
    flakes(c, m, (x - h, y - h, x + h, y + h), 60, (252, 246, 232), (1.5, 3.5))
