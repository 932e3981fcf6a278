"""The bread, its dough and its dip."""

from __future__ import annotations

import math

from brush import SCALE, Canvas, Point, oval, rounded, smooth, turn
from PIL import Image, ImageChops, ImageFilter
from still_life import IRON, OAK, PLASTER, TEAL, board, bread, cloth, flakes, grid, needles, ring, spoon, sprig, table


def bread_and_dip() -> Canvas:
    c = table("bread", TEAL)
    cloth(c, [(-80, 760), (520, 820), (560, 1300), (-80, 1300)], (236, 226, 206), (168, 62, 46), -8)
    board(c, turn(rounded(170, 130, 1180, 1010, 60), (680, 560), -6), OAK, -6)
    slab = c.wobble(turn(rounded(250, 210, 1090, 900, 70), (680, 560), -6), 4, 84)
    piece = turn(rounded(800, 600, 1120, 930, 26), (680, 560), -6)
    whole, cut = c.mask(slab), c.mask(c.wobble(piece, 1.5, 60))
    body = ImageChops.subtract(whole, cut)
    c.cast(body, 30, 0.7)
    dents = [turn([p], (680, 560), -6)[0] for p in grid(c, 260, 225, 1085, 890, 8, 7, 9)]
    dents = [p for p in dents if cut.getpixel((round(p[0] * SCALE), round(p[1] * SCALE))) == 0]
    under = c.image.copy()
    bread(c, slab, dents)
    c.image.paste(under, (0, 0), ImageChops.multiply(cut, whole))
    # The crumb shows along the cut.
    crumb = ImageChops.multiply(
        ImageChops.subtract(
            cut.filter(ImageFilter.GaussianBlur(12 * SCALE)).point([255 if v > 24 else 0 for v in range(256)]), cut
        ),
        whole,
    )
    c.tint(crumb, (248, 230, 184))
    c.dabs(crumb, [(226, 196, 138), (255, 246, 218), (208, 170, 110)], 900, (2, 6), (1.5, 4), (0, 180), 0.8, 0.5)
    for x, y, a in ((420, 330, 25), (720, 290, 70), (380, 640, -35), (620, 560, 10), (930, 430, 120), (560, 800, -15)):
        sprig(c, x, y, a, c.rng.uniform(70, 110))
    needles(c, body, dents, 26, 60)
    flakes(c, body, (280, 220, 1080, 900), 240, (255, 252, 244))
    # The piece that was cut, slid away.
    small = turn(rounded(860, 830, 1120, 1080, 26), (990, 955), 14)
    spot = c.mask(small)
    c.cast(spot, 28, 0.7)
    bread(c, c.wobble(small, 2.5, 60), [turn([p], (990, 955), 14)[0] for p in grid(c, 875, 850, 1105, 1065, 3, 3, 7)])
    sprig(c, 930, 960, -20, 80)
    flakes(c, spot, (860, 830, 1120, 1080), 40, (255, 252, 244))
    inner = ring(c, 1310, 330, 235, 22, (232, 222, 206), (238, 226, 196))
    dip(c, inner, 1310, 330, 212)
    flakes(c, c.mask(rounded(0, 0, 1600, 1200, 1)), (1120, 700, 1560, 1160), 26, (244, 238, 226), (2, 5))
    sprig(c, 1300, 900, -30, 190)
    return c


def dip(c: Canvas, inner: Image.Image, x: float, y: float, r: float) -> None:
    """White bean dip with a groove of oil and a dusting of paprika."""
    swirl: list[Point] = []
    for i in range(300):
        a, k = i / 300 * 4.3 * math.pi, 0.16 + 0.62 * i / 300
        swirl.append((x + r * k * math.cos(a), y + r * k * math.sin(a)))
    groove = c.mask(
        *(oval(px, py, 20 + 6 * math.sin(i / 9), 20 + 6 * math.sin(i / 9), 20) for i, (px, py) in enumerate(swirl))
    )
    groove = groove.filter(ImageFilter.GaussianBlur(5 * SCALE))
    c.tint(inner, (240, 228, 196))
    c.grain(inner, (224, 204, 160), 30, 0.4)
    c.light(inner, ImageChops.subtract(inner.point([v * 230 // 255 for v in range(256)]), groove), 22, 0.6, 0.6)
    oil = groove.point([max(0, min(255, (v - 150) * 5)) for v in range(256)])
    oil = ImageChops.multiply(oil, c.cloud(9).point([max(0, min(255, (v - 70) * 6)) for v in range(256)]))
    c.relief(oil.filter(ImageFilter.GaussianBlur(2 * SCALE)), (196, 158, 36), None, 6, 0.5, 0.5)
    c.dabs(oil, [(255, 244, 190)], 120, (6, 14), (1, 2.4), (-60, -20), 0.8, 0.8)
    dust = ImageChops.multiply(
        inner, c.mask(oval(x - r * 0.1, y - r * 0.05, r * 0.5, r * 0.45)).filter(ImageFilter.GaussianBlur(40 * SCALE))
    )
    c.dabs(dust, [(176, 62, 24), (206, 90, 36)], 1500, (1, 2.4), (1, 2), (0, 180), 0.9, 0.3)


def folding() -> Canvas:
    c = table("folding", OAK)
    whole = c.mask(rounded(0, 0, 1600, 1200, 1))
    flour = c.mask(c.blob(470, 980, 420, 170, 0.3)).filter(ImageFilter.GaussianBlur(50 * SCALE))
    c.tint(flour, (250, 244, 232), 0.55)
    flakes(c, whole, (0, 700, 1000, 1190), 420, (252, 246, 236), (1, 3.5))
    cloth(c, [(1120, -60), (1700, -60), (1700, 520), (1240, 420)], (226, 216, 200), TEAL, 20)
    inner = ring(c, 820, 600, 500, 34, (58, 108, 142), (72, 128, 160), 60, 0.7)
    c.dabs(
        inner,
        [(96, 150, 178), (52, 100, 132)],
        300,
        (40, 120),
        (3, 8),
        lambda x, y: math.degrees(math.atan2(y - 600, x - 820)) + 90,
        0.35,
        2,
    )
    glow, deep = (255, 251, 236), (146, 104, 72)
    dough = c.mask(c.blob(815, 640, 370, 335, 0.035, 14))
    c.cast(dough, 34, 0.6)
    c.relief(dough, (238, 220, 182), None, 110, 0.5, 0.6, glow, deep)
    c.grain(dough, (224, 198, 150), 10, 0.5)
    c.light(dough, c.cloud(22), 20, 0.3, 0.3, glow, deep)
    # The far side, pulled up and laid over the middle: narrow where the hands were, wide where it hinges.
    flap = c.wobble(
        smooth(
            [
                (486, 590),
                (540, 420),
                (670, 322),
                (830, 296),
                (990, 326),
                (1100, 440),
                (1140, 590),
                (1050, 632),
                (960, 700),
                (830, 716),
                (700, 690),
                (590, 640),
            ]
        ),
        2,
        50,
    )
    fold = c.mask(flap)
    c.cast(ImageChops.multiply(fold, dough), 22, 0.7)
    c.tint(fold, (247, 233, 202))
    c.light(fold, None, 60, 0.55, 0.7, glow, deep)
    c.grain(fold, (230, 206, 160), 12, 0.45)
    c.light(fold, c.cloud(26), 18, 0.3, 0.3, glow, deep)
    dust = ImageChops.multiply(dough, c.cloud(18).point([max(0, min(255, (v - 150) * 5)) for v in range(256)]))
    c.tint(dust.filter(ImageFilter.GaussianBlur(6 * SCALE)), (255, 252, 244), 0.35)
    flakes(c, dough, (460, 320, 1180, 960), 140, (255, 253, 247), (1, 2.6))
    for x, y, r in ((640, 800, 24), (700, 850, 14), (980, 800, 30), (1040, 740, 16), (900, 880, 18)):
        bubble = c.mask(c.blob(x, y, r, r * 0.92, 0.08)).filter(ImageFilter.GaussianBlur(4 * SCALE))
        c.light(bubble, None, 16, 0.5, 0.35, glow, (176, 136, 100))
    # A wooden spoon, resting on the rim.
    spoon(c, 190, 260, 80, 640)
    return c


def dimpling() -> Canvas:
    c = table("dimpling", PLASTER)
    cloth(c, [(-60, -60), (430, -60), (330, 330), (-60, 420)], (236, 226, 206), (168, 62, 46), -32)
    pan = turn(rounded(190, 150, 1410, 1050, 50), (800, 600), 3)
    p = c.mask(pan)
    c.cast(p, 40, 0.7)
    c.relief(p, IRON, None, 10, 0.5, 0.5)
    well = turn(rounded(222, 182, 1378, 1018, 40), (800, 600), 3)
    w = c.mask(well)
    c.relief(w, (44, 42, 46), None, 4, 0, 0)
    c.light(w, ImageChops.invert(w), 20, 0.35, 0.5)
    dents = [turn([q], (800, 600), 3)[0] for q in grid(c, 250, 215, 1350, 985, 9, 7, 10)]
    m = bread(c, c.wobble(turn(rounded(232, 192, 1368, 1008, 44), (800, 600), 3), 3.5, 84), dents, True)
    for x, y, a in (
        (380, 330, 20),
        (640, 720, -30),
        (900, 400, 60),
        (1120, 780, 15),
        (1180, 330, 110),
        (470, 860, -10),
        (800, 560, 40),
    ):
        sprig(c, x, y, a, c.rng.uniform(64, 100))
    needles(c, m, dents, 24, 80)
    flakes(c, m, (250, 210, 1350, 990), 260, (255, 253, 246))
    return c
