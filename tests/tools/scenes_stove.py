"""What comes out of a pan: sauce, peppers, chicken."""

from __future__ import annotations

import math

from brush import SCALE, Canvas, along, mix, oval, rounded, smooth, turn
from PIL import Image, ImageChops, ImageFilter
from still_life import (
    BRICK,
    IRON,
    LEAF,
    LINEN,
    SLATE,
    TEAL,
    cloth,
    flakes,
    handle,
    leaf,
    ring,
    slice_of_lemon,
    spoon,
    table,
)


def sauce() -> Canvas:
    c = table("sauce", LINEN)
    cloth(c, [(1080, 700), (1660, 620), (1660, 1260), (1010, 1260)], TEAL, (228, 214, 190), 14)
    handle(c, 740, 610, 500, 440, 66, -24, IRON)
    inner = ring(c, 740, 610, 500, 30, IRON, (70, 62, 64), 54, 0.75)
    pool = ImageChops.multiply(inner, c.mask(c.wobble(oval(740, 612, 452, 452, 90), 3, 150)))
    c.tint(pool, BRICK)
    c.grain(pool, (214, 90, 44), 8, 0.6)
    c.grain(pool, (132, 34, 24), 14, 0.45)
    rings = c.cloud(10)
    swirl = Image.new("L", c.image.size, 0)
    for k in range(7):
        r = 90 + k * 54
        outer, hole = (
            oval(740 + 10 * math.sin(k), 612, r, r * 0.98, 90),
            oval(740 + 10 * math.sin(k) + 6, 616, r - 24, (r - 24) * 0.98, 90),
        )
        swirl = ImageChops.lighter(swirl, c.mask(c.wobble(outer, 4, 70), holes=[c.wobble(hole, 4, 70)]))
    c.light(
        pool,
        ImageChops.multiply(swirl, rings.point([min(255, v + 70) for v in range(256)])),
        22,
        0.32,
        0.5,
        (255, 190, 120),
        (84, 14, 18),
    )
    c.light(pool, c.cloud(70), 6, 0.22, 0.25, (255, 196, 130), (84, 14, 18))
    sheen = ImageChops.multiply(
        swirl.filter(ImageFilter.GaussianBlur(3 * SCALE)),
        c.mask(c.blob(560, 430, 220, 130, 0.2)).filter(ImageFilter.GaussianBlur(40 * SCALE)),
    )
    c.dabs(
        ImageChops.multiply(sheen, pool),
        [(255, 220, 170)],
        260,
        (16, 44),
        (1.5, 3.5),
        lambda x, y: math.degrees(math.atan2(y - 612, x - 740)) + 90,
        0.55,
        1.4,
    )
    rim = ImageChops.multiply(inner, ImageChops.invert(pool))
    c.dabs(
        rim,
        [(150, 44, 28), (178, 66, 36)],
        260,
        (6, 26),
        (3, 9),
        lambda x, y: math.degrees(math.atan2(y - 610, x - 740)) + 90,
        0.7,
        1.2,
    )
    ribbon = [(560, 700), (640, 770), (760, 790), (880, 740), (930, 640), (890, 560)]
    line = along(ribbon)
    cream = ImageChops.multiply(
        pool,
        c.mask(
            *(
                oval(x, y, *(2 * [13 * math.sin(math.pi * (k + 8) / (len(line) + 12)) ** 0.6]))
                for k, (x, y) in enumerate(line)
            )
        ),
    )
    c.relief(
        cream.filter(ImageFilter.GaussianBlur(3 * SCALE)), (246, 210, 176), None, 6, 0.5, 0.3, shadow=(160, 60, 40)
    )
    for x, y, n, a in (
        (660, 520, 112, 30),
        (690, 560, 96, -70),
        (800, 470, 104, 150),
        (880, 620, 84, 80),
        (590, 640, 80, 200),
    ):
        leaf(c, x, y, n, a)
    flakes(c, pool, (420, 300, 1060, 920), 120, (40, 22, 22), (2, 4))
    spoon(c, 480, 760, 22, 860)
    leaf(c, 190, 180, 130, 60)
    leaf(c, 230, 160, 100, 10)
    return c


def peppers() -> Canvas:
    c = table("peppers", SLATE)
    cloth(c, [(1150, -80), (1700, -80), (1700, 260), (1300, 330)], (236, 226, 206), (168, 62, 46), 18)
    tray = c.mask(turn(rounded(110, 120, 1490, 1090, 44), (800, 600), -3))
    c.cast(tray, 28, 0.65)
    c.relief(tray, (206, 204, 200), None, 12, 0.6, 0.6)
    bed = c.mask(turn(rounded(150, 160, 1450, 1050, 30), (800, 600), -3))
    c.relief(bed, (226, 218, 204), None, 4, 0, 0.2)
    c.light(bed, ImageChops.invert(bed), 16, 0.3, 0.6)
    c.grain(bed, (196, 150, 100), 7, 0.4)
    for i, (x, y) in enumerate(((380, 380), (800, 350), (1210, 370), (390, 820), (810, 830), (1220, 810))):
        a = c.rng.uniform(-25, 25) + (180 if i % 2 else 0)
        juice = c.mask(c.blob(x + 20, y + 30, 190, 160, 0.16)).filter(ImageFilter.GaussianBlur(10 * SCALE))
        c.tint(juice, (196, 96, 40), 0.45)
        half = smooth(
            [
                (x - 160, y - 20),
                (x - 130, y - 110),
                (x - 20, y - 132),
                (x + 90, y - 118),
                (x + 165, y - 60),
                (x + 180, y + 10),
                (x + 130, y + 104),
                (x + 20, y + 122),
                (x - 100, y + 110),
            ]
        )
        shape = turn(c.wobble(half, 5, 70), (x, y), a)
        m = c.mask(shape)
        c.cast(m, 34, 0.7)
        tone = mix((186, 32, 26), (206, 52, 28), c.rng.random())
        lobes = c.mask(turn(oval(x, y - 44, 210, 12), (x, y), a), turn(oval(x, y + 46, 210, 12), (x, y), a)).filter(
            ImageFilter.GaussianBlur(14 * SCALE)
        )
        c.relief(m, tone, ImageChops.subtract(m, lobes), 56, 0.5, 0.8, (255, 190, 140), (74, 8, 16))
        c.light(m, c.cloud(46), 9, 0.3, 0.35, (255, 180, 120), (70, 10, 14))
        stalk = c.mask(turn(c.wobble(rounded(x - 196, y - 30, x - 128, y + 4, 14), 2, 16), (x, y), a))
        c.cast(stalk, 10, 0.5)
        c.relief(stalk, mix(LEAF, (70, 60, 30), 0.5), None, 9, 0.5, 0.6)
        shine = ImageChops.multiply(
            m,
            c.mask(
                turn(c.blob(x - 20, y - 70, 60, 8, 0.2), (x, y), a), turn(c.blob(x + 20, y + 6, 46, 6, 0.2), (x, y), a)
            ).filter(ImageFilter.GaussianBlur(3 * SCALE)),
        )
        c.tint(shine, (255, 222, 196), 0.6)
        patches = ImageChops.add(c.cloud(16), c.cloud(46), 2)
        inside = m.filter(ImageFilter.GaussianBlur(16 * SCALE)).point(
            [max(0, min(255, (v - 120) * 3)) for v in range(256)]
        )
        char = ImageChops.multiply(inside, patches.point([max(0, min(255, (v - 142) * 9)) for v in range(256)]))
        c.tint(char.filter(ImageFilter.GaussianBlur(3 * SCALE)), (74, 26, 22), 0.7)
        core = ImageChops.multiply(inside, patches.point([max(0, min(255, (v - 156) * 12)) for v in range(256)]))
        c.tint(core.filter(ImageFilter.GaussianBlur(SCALE)), (30, 20, 22), 0.85)
        c.light(core, c.cloud(120), 4, 0.4, 0.3, (180, 150, 140))
    return c


def chicken() -> Canvas:
    c = table("chicken", (186, 122, 92))
    cloth(c, [(-60, -60), (560, -60), (420, 240), (-60, 330)], (240, 230, 212), LEAF, -22)
    handle(c, 790, 610, 520, 400, 62, 24, IRON)
    inner = ring(c, 790, 610, 520, 30, IRON, (66, 60, 60), 54, 0.75)
    c.tint(inner, (232, 196, 104))
    c.dabs(
        inner,
        [(252, 232, 168), (244, 214, 130), (214, 168, 74), (255, 242, 196)],
        9000,
        (9, 15),
        (2.6, 4.2),
        (0, 180),
        0.95,
        0.25,
    )
    c.light(inner, c.cloud(60), 8, 0.3, 0.45)
    c.light(inner, ImageChops.invert(inner), 40, 0.2, 0.7)
    peas = [
        (790 + r * math.cos(a), 610 + r * math.sin(a))
        for r, a in ((c.rng.uniform(40, 450), c.rng.uniform(0, 6.3)) for _ in range(130))
    ]
    for x, y in peas:
        m = c.mask(oval(x, y, 13, 13, 24))
        c.cast(m, 4, 0.5)
        c.relief(
            m, mix((104, 148, 58), (140, 176, 80), c.rng.random()), None, 9, 0.6, 0.7, (240, 252, 190), (30, 50, 20)
        )
    for x, y, a in ((620, 420, 20), (1010, 480, 110), (560, 800, -50), (960, 830, 30)):
        thigh(c, x, y, a)
    for x, y, r, a in (
        (800, 300, 82, 10),
        (780, 640, 88, 30),
        (1130, 690, 78, 0),
        (420, 610, 76, 20),
        (760, 960, 78, 5),
    ):
        slice_of_lemon(c, x, y, r, a)
    herbs = c.mask(
        *(
            c.blob(
                790 + r * math.cos(t),
                610 + r * math.sin(t),
                c.rng.uniform(5, 13),
                c.rng.uniform(3, 7),
                0.35,
                7,
                c.rng.uniform(0, 180),
            )
            for r, t in ((c.rng.uniform(0, 440), c.rng.uniform(0, 6.3)) for _ in range(150))
        )
    )
    herbs = ImageChops.multiply(herbs, inner)
    c.cast(herbs, 3, 0.4)
    c.relief(herbs, (78, 116, 48), None, 3, 0.5, 0.6)
    flakes(c, inner, (330, 160, 1250, 1060), 120, (40, 28, 26), (1.5, 3.5))
    slice_of_lemon(c, 1430, 300, 100, 12)
    return c


def thigh(c: Canvas, x: float, y: float, angle: float) -> None:
    """A browned chicken thigh, skin up."""
    shape = smooth(
        [
            (x - 190, y + 6),
            (x - 150, y - 96),
            (x - 20, y - 128),
            (x + 120, y - 104),
            (x + 186, y - 10),
            (x + 150, y + 92),
            (x + 10, y + 122),
            (x - 120, y + 98),
        ]
    )
    m = c.mask(turn(c.wobble(shape, 6, 70), (x, y), angle))
    c.cast(m, 40, 0.75)
    c.relief(m, (204, 124, 48), None, 80, 0.6, 0.85, (255, 232, 176), (92, 34, 18))
    c.grain(m, (150, 74, 24), 13, 0.65)
    c.grain(m, (238, 178, 84), 17, 0.5)
    c.light(m, c.cloud(34), 12, 0.4, 0.5, (255, 226, 160), (90, 34, 16))
    c.light(m, c.cloud(110), 4, 0.25, 0.3, (255, 226, 160), (90, 34, 16))
    crisp = ImageChops.multiply(m, c.cloud(20).point([max(0, min(255, (v - 165) * 6)) for v in range(256)]))
    c.tint(crisp.filter(ImageFilter.GaussianBlur(3 * SCALE)), (104, 48, 18), 0.6)
    shine = ImageChops.multiply(
        m,
        c.mask(
            turn(c.blob(x - 40, y - 60, 70, 14, 0.3), (x, y), angle),
            turn(c.blob(x + 60, y - 20, 40, 9, 0.3), (x, y), angle),
        ).filter(ImageFilter.GaussianBlur(5 * SCALE)),
    )
    c.tint(shine, (255, 240, 206), 0.55)
