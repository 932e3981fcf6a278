"""What stands on the painted table: cloths, boards, pans, and the food in them. Sizes are px of the picture."""

from __future__ import annotations

import math
from collections.abc import Sequence

from brush import SCALE, Canvas, Point, Rgb, mix, oval, rounded, smooth, turn
from PIL import Image, ImageChops, ImageFilter

LINEN, PLASTER, SLATE, TEAL = (222, 211, 194), (206, 190, 178), (74, 82, 92), (58, 98, 108)
OAK, CREAM, CRUST, IRON = (190, 136, 84), (244, 234, 214), (206, 138, 56), (58, 56, 60)
LEAF, BRICK, BERRY, LEMON = (84, 116, 60), (178, 58, 34), (62, 66, 116), (246, 212, 92)


# The table and what stands on it ---------------------------------------------------------------------------


def table(seed: str, colour: Rgb) -> Canvas:
    """A painted tabletop with long, level brush strokes."""
    c = Canvas(seed, colour)
    whole = c.mask(rounded(0, 0, 1600, 1200, 1))
    tones = [mix(colour, (255, 246, 230), 0.22), mix(colour, (40, 30, 40), 0.16), mix(colour, (160, 120, 90), 0.2)]
    c.grain(whole, mix(colour, (30, 24, 34), 0.35), 5, 0.35)
    c.dabs(whole, tones, 900, (90, 260), (4, 14), (-7, 3), 0.3, 2)
    c.grain(whole, mix(colour, (255, 240, 220), 0.5), 40, 0.18, 6)
    return c


def cloth(c: Canvas, corner: Sequence[Point], colour: Rgb, stripe: Rgb, angle: float) -> None:
    """A folded cloth with stripes."""
    shape = c.wobble(corner, 1.4, 60)
    m = c.mask(shape)
    c.cast(m, 12, 0.5)
    c.relief(m, colour, None, 14, 0.3, 0.4)
    xs, ys = [p[0] for p in shape], [p[1] for p in shape]
    mx, my = sum(xs) / len(xs), sum(ys) / len(ys)
    for k in range(-8, 9):
        for off, w, part in ((0, 9, 0.85), (17, 2.5, 0.7)):
            line = turn(
                rounded(mx - 900, my + k * 74 + off - w / 2, mx + 900, my + k * 74 + off + w / 2, 1), (mx, my), angle
            )
            c.tint(ImageChops.multiply(c.mask(line), m), stripe, part)
    folds = c.cloud(4, 0, 255, 3)
    c.light(m, folds, 30, 0.35, 0.4)
    c.dabs(
        m,
        [mix(colour, (255, 255, 255), 0.5), mix(colour, (80, 70, 80), 0.4)],
        2600,
        (5, 14),
        (0.5, 1),
        (angle - 3, angle + 3),
        0.25,
        0.4,
    )


def board(c: Canvas, shape: list[Point], colour: Rgb = OAK, angle: float = 0) -> Image.Image:
    """A wooden board with its grain."""
    m = c.mask(shape)
    c.cast(m, 22, 0.6)
    c.relief(m, colour, None, 8, 0.5, 0.6)
    dark, pale = mix(colour, (74, 38, 18), 0.55), mix(colour, (255, 226, 176), 0.5)
    c.dabs(m, [dark, pale, mix(colour, dark, 0.4)], 900, (80, 300), (1.2, 6), (angle - 2, angle + 2), 0.34, 1.2)
    c.grain(m, dark, 6, 0.3)
    return m


def ring(
    c: Canvas, x: float, y: float, r: float, wall: float, colour: Rgb, inside: Rgb, lift: float = 34, gloss: float = 0.6
) -> Image.Image:
    """A round bowl or pan from above: rim, wall, floor. Returns the mask of its inside."""
    outer, inner = c.mask(oval(x, y, r, r, 120)), c.mask(oval(x, y, r - wall, r - wall, 120))
    c.cast(outer, lift, 0.62)
    c.relief(outer, colour, None, wall * 0.9, gloss, 0.6)
    c.relief(inner, inside, None, 6, 0, 0.2)
    hollow = ImageChops.invert(inner)
    c.light(inner, hollow, wall * 1.5, 0.28, 0.75)
    return inner


def handle(c: Canvas, x: float, y: float, r: float, length: float, width: float, angle: float, colour: Rgb) -> None:
    """A pan's handle; ``x``, ``y``, ``r`` are the pan's. Paint it before the pan."""
    x, y = x + (r - 30) * math.cos(math.radians(angle)), y + (r - 30) * math.sin(math.radians(angle))
    m = c.mask(turn(rounded(x, y - width / 2, x + length, y + width / 2, width / 2.2), (x, y), angle))
    c.cast(m, 20, 0.55)
    c.relief(m, colour, None, width * 0.4, 0.5, 0.6)
    eye = c.mask(turn(oval(x + length - width, y, width * 0.36, width * 0.22, 30), (x, y), angle))
    c.shade(eye, 0.7)


# Food ------------------------------------------------------------------------------------------------------


def sprig(c: Canvas, x: float, y: float, angle: float, length: float = 120) -> None:
    """Rosemary: a stem with needles both sides."""
    shapes, stem = [], []
    for i in range(int(length / 6)):
        t = i * 6.0
        for side in (-1, 1):
            n = c.rng.uniform(24, 40) * (1 - 0.55 * t / length)
            a = angle + side * c.rng.uniform(38, 66) * (1 - 0.4 * t / length)
            bx, by = x + t * math.cos(math.radians(angle)), y + t * math.sin(math.radians(angle))
            tip = turn(oval(bx + n / 2, by, n / 2, 2.1, 12), (bx, by), a)
            shapes.append(tip)
        stem.append((x + t * math.cos(math.radians(angle)), y + t * math.sin(math.radians(angle))))
    m = c.mask(*shapes, turn(rounded(x, y - 1.6, x + length, y + 1.6, 1.5), (x, y), angle))
    c.cast(m, 6, 0.55)
    c.relief(m, LEAF, None, 3, 0.5, 0.7)
    c.dabs(m, [(126, 154, 96), (52, 80, 44)], round(length * 5), (5, 12), (0.8, 1.6), (0, 180), 0.6, 0.3)


def needles(c: Canvas, area: Image.Image, where: Sequence[Point], spread: float, count: int) -> None:
    shapes = []
    for _ in range(count):
        px, py = c.rng.choice(list(where))
        px, py = px + c.rng.gauss(0, spread), py + c.rng.gauss(0, spread)
        shapes.append(turn(oval(px, py, c.rng.uniform(9, 17), 2.4, 12), (px, py), c.rng.uniform(0, 180)))
    m = ImageChops.multiply(c.mask(*shapes), area)
    c.cast(m, 4, 0.5)
    c.relief(m, (88, 112, 56), None, 2, 0.5, 0.6)


def flakes(
    c: Canvas,
    area: Image.Image,
    box: tuple[float, float, float, float],
    count: int,
    colour: Rgb,
    size: tuple[float, float] = (2.5, 6),
) -> None:
    """Salt, sugar, crumbs."""
    shapes = []
    for _ in range(count):
        x, y, r = c.rng.uniform(box[0], box[2]), c.rng.uniform(box[1], box[3]), c.rng.uniform(*size)
        shapes.append(
            [(x + r * math.cos(a + c.rng.random()), y + r * math.sin(a + c.rng.random())) for a in (0, 1.6, 3.1, 4.7)]
        )
    m = ImageChops.multiply(c.mask(*shapes), area)
    c.cast(m, 3, 0.4)
    c.tint(m, colour, 0.95)


def leaf(c: Canvas, x: float, y: float, length: float, angle: float, colour: Rgb = (70, 122, 58)) -> None:
    """A basil leaf with its vein."""
    w = length * 0.36
    half = [(0.0, 0.0), (0.2, 0.75), (0.5, 1.0), (0.8, 0.6), (1.0, 0.0)]
    outline = smooth(
        [(x + t * length, y - k * w) for t, k in half] + [(x + t * length, y + k * w) for t, k in half[-2:0:-1]]
    )
    outline = turn(c.wobble(outline, 0.8, 14), (x, y), angle)
    m = c.mask(outline)
    c.cast(m, 9, 0.55)
    vein = c.mask(turn(rounded(x + 6, y - 1.6, x + length * 0.92, y + 1.6, 1), (x, y), angle))
    dome = ImageChops.subtract(m, vein.filter(ImageFilter.GaussianBlur(4 * SCALE)))
    c.relief(m, colour, dome, 13, 0.5, 0.6, (214, 236, 150), (24, 44, 30))
    c.dabs(
        m,
        [mix(colour, (210, 230, 140), 0.5), mix(colour, (20, 50, 30), 0.4)],
        120,
        (8, 22),
        (1, 2.5),
        (angle + 40, angle + 70),
        0.35,
        0.8,
    )
    c.tint(vein, mix(colour, (220, 236, 160), 0.6), 0.7)


def bread(c: Canvas, shape: list[Point], dents: Sequence[Point], pale: bool = False) -> Image.Image:
    """Dimpled dough or bread: the dents are in its height, so that the light finds them."""
    m = c.mask(shape)
    top = (236, 216, 170) if pale else (217, 152, 66)
    pits = c.mask(*(c.blob(x, y, c.rng.uniform(18, 26), c.rng.uniform(18, 26), 0.1) for x, y in dents))
    height = ImageChops.subtract(
        m.point([v * 235 // 255 for v in range(256)]), pits.filter(ImageFilter.GaussianBlur(7 * SCALE))
    )
    c.tint(m, top)
    c.grain(m, (244, 196, 108) if not pale else (248, 234, 200), 12, 0.7)
    c.grain(m, (158, 84, 28) if not pale else (214, 184, 126), 9, 0.55)
    c.grain(m, (132, 62, 20) if not pale else (222, 196, 140), 34, 0.4)
    rim = ImageChops.subtract(
        m, m.filter(ImageFilter.GaussianBlur(16 * SCALE)).point([max(0, min(255, (v - 128) * 2)) for v in range(256)])
    )
    c.tint(ImageChops.multiply(rim, m), (138, 70, 22) if not pale else (220, 190, 130), 0.75)
    around = ImageChops.subtract(
        pits.filter(ImageFilter.GaussianBlur(15 * SCALE)).point([min(255, v * 2) for v in range(256)]), pits
    )
    c.tint(ImageChops.multiply(around, m), (164, 88, 26) if not pale else (240, 222, 178), 0.34)
    c.tint(
        ImageChops.multiply(pits.filter(ImageFilter.GaussianBlur(3 * SCALE)), m),
        (244, 204, 120) if not pale else (222, 190, 120),
        0.55,
    )
    c.light(m, height, 24, 0.5, 0.62 if pale else 0.85, shadow=(176, 126, 84) if pale else (70, 34, 30))
    c.light(m, c.cloud(60), 7, 0.16, 0.2)
    oil = ImageChops.multiply(
        pits, c.mask(*(c.blob(x + 5, y + 6, 11, 9, 0.2) for x, y in dents)).filter(ImageFilter.GaussianBlur(2 * SCALE))
    )
    c.tint(oil, (206, 158, 40) if not pale else (214, 178, 70), 0.55)
    glints = c.mask(
        *(
            c.blob(x + c.rng.uniform(3, 9), y + c.rng.uniform(5, 10), c.rng.uniform(2.5, 5), 2.2, 0.2, 7, -30)
            for x, y in dents
        )
    )
    c.tint(glints.filter(ImageFilter.GaussianBlur(SCALE)), (255, 250, 226), 0.85)
    return m


def spread(c: Canvas, x0: float, y0: float, x1: float, y1: float, count: int, apart: float) -> list[Point]:
    """Places that keep their distance, as fruit does that was put there by hand."""
    out: list[Point] = []
    for _ in range(count * 40):
        p = (c.rng.uniform(x0, x1), c.rng.uniform(y0, y1))
        if len(out) < count and all(math.dist(p, q) >= apart for q in out):
            out.append(p)
    return out


def grid(c: Canvas, x0: float, y0: float, x1: float, y1: float, nx: int, ny: int, jitter: float) -> list[Point]:
    """Rows that are set off against each other, as fingers do it."""
    out = []
    for j in range(ny):
        for i in range(nx):
            t = (i + (0.28 if j % 2 else 0.72)) / nx
            out.append(
                (x0 + t * (x1 - x0) + c.rng.gauss(0, jitter), y0 + (j + 0.5) / ny * (y1 - y0) + c.rng.gauss(0, jitter))
            )
    return out


def berries(c: Canvas, where: Sequence[Point], r: float) -> None:
    for x, y in where:
        k = r * c.rng.uniform(0.85, 1.12)
        m = c.mask(c.blob(x, y, k, k, 0.05))
        c.cast(m, 5, 0.5)
        tone = mix(BERRY, c.rng.choice([(92, 60, 120), (44, 48, 88), (96, 108, 160)]), c.rng.uniform(0.1, 0.6))
        c.relief(m, tone, None, k * 0.75, 0.55, 0.75, (196, 206, 240), (24, 18, 48))
        crown = c.mask(
            [
                (
                    x + (k * 0.34 if i % 2 else k * 0.16) * math.cos(i * math.pi / 5 + x),
                    y + (k * 0.34 if i % 2 else k * 0.16) * math.sin(i * math.pi / 5 + x),
                )
                for i in range(10)
            ]
        )
        if c.rng.random() < 0.55:
            c.tint(crown, (28, 26, 56), 0.8)


def slice_of_lemon(c: Canvas, x: float, y: float, r: float, angle: float) -> None:
    m = c.mask(oval(x, y, r, r * 0.97))
    c.cast(m, 7, 0.5)
    c.relief(m, (236, 188, 52), None, 7, 0.5, 0.5)
    c.tint(c.mask(oval(x, y, r * 0.9, r * 0.87)), (250, 240, 200))
    wedges = []
    for i in range(9):
        a = angle + i * 40
        wedges.append(
            turn(
                smooth(
                    [(x + r * 0.1, y), (x + r * 0.74, y - r * 0.22), (x + r * 0.82, y), (x + r * 0.74, y + r * 0.22)], 6
                ),
                (x, y),
                a,
            )
        )
    flesh = c.mask(*wedges)
    c.relief(flesh, (248, 214, 96), None, 5, 0.4, 0.35)
    c.dabs(
        flesh,
        [(255, 236, 150), (240, 190, 60)],
        160,
        (4, 10),
        (1, 2.5),
        lambda px, py: math.degrees(math.atan2(py - y, px - x)),
        0.5,
        0.6,
    )


def spoon(c: Canvas, x: float, y: float, angle: float, length: float) -> None:
    stick = turn(rounded(x, y - 13, x + length, y + 13, 12), (x, y), angle)
    bowl = turn(oval(x, y, 92, 62), (x, y), angle)
    m = c.mask(stick, bowl)
    c.cast(m, 20, 0.6)
    c.relief(m, (176, 116, 62), None, 14, 0.5, 0.6)
    c.dabs(m, [(128, 78, 38), (214, 160, 98)], 300, (30, 90), (0.8, 2.4), (angle - 2, angle + 2), 0.4, 0.6)
    dent = c.mask(turn(oval(x - 4, y, 70, 44), (x, y), angle))
    c.light(dent, ImageChops.invert(dent), 22, 0.5, 0.7)
