"""A small painter's kit on Pillow: a table seen from above, soft light from the top left, everything seeded.

Coordinates are those of the finished picture (1600 x 1200); the canvas is ``SCALE`` times
as large and shrunk at the end.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from pathlib import Path

from PIL import Image, ImageChops, ImageDraw, ImageFilter

WIDTH, HEIGHT, SCALE = 1600, 1200, 2
SIZE = (WIDTH * SCALE, HEIGHT * SCALE)
Rgb = tuple[int, int, int]
Point = tuple[float, float]


def mix(a: Rgb, b: Rgb, t: float) -> Rgb:
    return (
        round(a[0] + (b[0] - a[0]) * t),
        round(a[1] + (b[1] - a[1]) * t),
        round(a[2] + (b[2] - a[2]) * t),
    )


def smooth(points: Sequence[Point], steps: int = 10) -> list[Point]:
    """A closed Catmull-Rom curve through the points."""
    n = len(points)
    curve: list[Point] = []
    for i in range(n):
        p0, p1, p2, p3 = (points[(i + k - 1) % n] for k in range(4))
        curve.extend(spline(p0, p1, p2, p3, j / steps) for j in range(steps))
    return curve


def even(points: Sequence[Point], pitch: float) -> list[Point]:
    """Points about ``pitch`` px apart along a closed outline."""
    ends = list(zip(points, [*points[1:], points[0]], strict=True))
    total = sum(math.dist(a, b) for a, b in ends)
    gap = total / max(4, round(total / pitch))
    out: list[Point] = []
    left = 0.0
    for a, b in ends:
        side = math.dist(a, b)
        while left < side:
            t = left / side
            out.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
            left += gap
        left -= side
    return out


def along(points: Sequence[Point], steps: int = 24) -> list[Point]:
    """An open smooth line through the points."""
    ends = [points[0], *points, points[-1]]
    line: list[Point] = []
    for i in range(len(points) - 1):
        p0, p1, p2, p3 = ends[i : i + 4]
        for j in range(steps):
            line.append(spline(p0, p1, p2, p3, j / steps))
    return [*line, points[-1]]


def spline(p0: Point, p1: Point, p2: Point, p3: Point, t: float) -> Point:
    """Catmull-Rom between the second and the third point."""

    def one(a: float, b: float, c: float, d: float) -> float:
        return 0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)

    return one(p0[0], p1[0], p2[0], p3[0]), one(p0[1], p1[1], p2[1], p3[1])


def turn(points: Sequence[Point], centre: Point, degrees: float) -> list[Point]:
    s, c = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return [
        (centre[0] + (x - centre[0]) * c - (y - centre[1]) * s, centre[1] + (x - centre[0]) * s + (y - centre[1]) * c)
        for x, y in points
    ]


def oval(x: float, y: float, rx: float, ry: float, n: int = 72) -> list[Point]:
    return [(x + rx * math.cos(2 * math.pi * i / n), y + ry * math.sin(2 * math.pi * i / n)) for i in range(n)]


def rounded(x0: float, y0: float, x1: float, y1: float, r: float) -> list[Point]:
    """A rectangle with round corners, as points."""
    corners = ((x1 - r, y0 + r, -90), (x1 - r, y1 - r, 0), (x0 + r, y1 - r, 90), (x0 + r, y0 + r, 180))
    return [
        (cx + r * math.cos(math.radians(a + k * 9)), cy + r * math.sin(math.radians(a + k * 9)))
        for cx, cy, a in corners
        for k in range(11)
    ]


class Canvas:
    """The picture as it is painted."""

    def __init__(self, seed: str, ground: Rgb) -> None:
        self.rng = random.Random(seed)
        self.image = Image.new("RGB", SIZE, ground)

    # masks -----------------------------------------------------------------------------------------------

    def mask(self, *shapes: Sequence[Point], holes: Sequence[Sequence[Point]] = ()) -> Image.Image:
        m = Image.new("L", SIZE, 0)
        draw = ImageDraw.Draw(m)
        for shape in shapes:
            draw.polygon([(x * SCALE, y * SCALE) for x, y in shape], fill=255)
        for hole in holes:
            draw.polygon([(x * SCALE, y * SCALE) for x, y in hole], fill=0)
        return m

    def wobble(self, points: Sequence[Point], by: float, pitch: float = 26) -> list[Point]:
        """The outline with a hand's tremble, redrawn through points ``pitch`` px apart."""
        return smooth([(x + self.rng.gauss(0, by), y + self.rng.gauss(0, by)) for x, y in even(points, pitch)], 5)

    def blob(
        self, x: float, y: float, rx: float, ry: float, rough: float = 0.12, n: int = 9, angle: float = 0.0
    ) -> list[Point]:
        start = self.rng.random()
        ring = []
        for i in range(n):
            a = 2 * math.pi * (i + start) / n
            k = 1 + self.rng.uniform(-rough, rough)
            ring.append((x + rx * k * math.cos(a), y + ry * k * math.sin(a)))
        return turn(smooth(ring), (x, y), angle)

    def cloud(self, cells: int, low: int = 0, high: int = 255, stretch: float = 1.0) -> Image.Image:
        """Soft noise: ``cells`` across, ``stretch`` times as many down."""
        size = (max(2, cells), max(2, round(cells * stretch * 0.75)))
        noise = Image.new("L", size)
        noise.putdata([self.rng.randint(low, high) for _ in range(size[0] * size[1])])
        return noise.resize(SIZE, Image.Resampling.BICUBIC)

    # paint -----------------------------------------------------------------------------------------------

    def tint(self, mask: Image.Image, colour: Rgb, strength: float = 1.0) -> None:
        box = mask.getbbox()
        if box is None:
            return
        part = mask.crop(box)
        if strength < 1:
            part = part.point([round(v * strength) for v in range(256)])
        self.image.paste(colour, box, part)

    def shade(self, mask: Image.Image, strength: float, colour: Rgb = (38, 26, 34)) -> None:
        """Darken as a shadow does, keeping the hue underneath."""
        box = mask.getbbox()
        if box is None:
            return
        under = self.image.crop(box)
        dark = ImageChops.multiply(under, Image.new("RGB", under.size, colour))
        self.image.paste(dark, box, mask.crop(box).point([round(v * strength) for v in range(256)]))

    def cast(self, mask: Image.Image, lift: float, strength: float = 0.5) -> None:
        """The shadow of a thing ``lift`` px high: a tight dark one where it touches, a wide soft one beyond."""
        for reach, blur, part in ((0.35, 0.22, 0.75), (1.0, 0.65, 0.6)):
            d = round(lift * reach * SCALE)
            soft = shifted(mask, d, round(d * 0.9)).filter(ImageFilter.GaussianBlur(max(1.0, lift * blur * SCALE)))
            self.shade(soft, strength * part, (58, 40, 44))

    def relief(
        self,
        mask: Image.Image,
        colour: Rgb,
        height: Image.Image | None = None,
        depth: float = 30,
        light: float = 0.55,
        dark: float = 0.55,
        glow: Rgb = (255, 244, 214),
        shadow: Rgb = (70, 34, 30),
    ) -> None:
        """Fill with a colour and light it by its height from the top left; ``depth`` px is how far it rounds."""
        self.tint(mask, colour)
        self.light(mask, height, depth, light, dark, glow, shadow)

    def light(
        self,
        mask: Image.Image,
        height: Image.Image | None = None,
        depth: float = 30,
        light: float = 0.55,
        dark: float = 0.55,
        glow: Rgb = (255, 244, 214),
        shadow: Rgb = (70, 34, 30),
    ) -> None:
        box = mask.getbbox()
        if box is None:
            return
        pad = round(depth * SCALE * 2)
        wide = (box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad)
        part = mask.crop(wide)
        h = (height if height is not None else mask).crop(wide)
        h = h.filter(ImageFilter.GaussianBlur(depth * SCALE / 2))
        d = max(1, round(depth * SCALE / 3))
        # What faces the light, top left, is where the height grows towards down right.
        slope = ImageChops.subtract(shifted(h, -d, -d), shifted(h, d, d), 1.0, 128)
        bright = slope.point([max(0, v - 128) * 2 for v in range(256)])
        deep = slope.point([max(0, 128 - v) * 2 for v in range(256)])
        bright = ImageChops.multiply(bright, part).point([min(255, round(v * light)) for v in range(256)])
        deep = ImageChops.multiply(deep, part).point([min(255, round(v * dark)) for v in range(256)])
        self.image.paste(glow, wide[:2], bright)
        under = self.image.crop(wide)
        self.image.paste(ImageChops.multiply(under, Image.new("RGB", under.size, shadow)), wide[:2], deep)

    def dabs(
        self,
        mask: Image.Image,
        colours: Sequence[Rgb],
        count: int,
        length: tuple[float, float],
        width: tuple[float, float],
        angle: tuple[float, float] | Callable[[float, float], float] = (0, 180),
        strength: float = 0.5,
        blur: float = 0.6,
    ) -> None:
        """Brush strokes inside the mask."""
        box = mask.getbbox()
        if box is None:
            return
        layer = Image.new("RGB", (box[2] - box[0], box[3] - box[1]))
        cover = Image.new("L", layer.size, 0)
        paint, draw = ImageDraw.Draw(layer), ImageDraw.Draw(cover)
        for _ in range(count):
            x, y = self.rng.uniform(box[0], box[2]) / SCALE, self.rng.uniform(box[1], box[3]) / SCALE
            a = angle(x, y) if callable(angle) else self.rng.uniform(*angle)
            stroke = turn(oval(x, y, self.rng.uniform(*length), self.rng.uniform(*width), 14), (x, y), a)
            points = [(px * SCALE - box[0], py * SCALE - box[1]) for px, py in stroke]
            paint.polygon(points, fill=self.rng.choice(list(colours)))
            draw.polygon(points, fill=self.rng.randint(90, 255))
        if blur:
            cover = cover.filter(ImageFilter.GaussianBlur(blur * SCALE))
        cover = ImageChops.multiply(cover, mask.crop(box)).point([round(v * strength) for v in range(256)])
        self.image.paste(layer, box, cover)

    def grain(self, mask: Image.Image, colour: Rgb, cells: int, strength: float, stretch: float = 1.0) -> None:
        """Uneven colour, as paint dries."""
        soft = self.cloud(cells, 0, 255, stretch).point([max(0, min(255, (v - 110) * 3)) for v in range(256)])
        self.tint(ImageChops.multiply(soft, mask), colour, strength)

    # end -------------------------------------------------------------------------------------------------

    def finish(self, path: Path, quality: int = 79) -> None:
        """A window's light over all of it, the weave of the canvas, then shrink and save."""
        glow = (
            Image.radial_gradient("L")
            .resize((SIZE[0] * 2, SIZE[1] * 2))
            .crop((SIZE[0] * 3 // 4, SIZE[1] * 3 // 4, SIZE[0] * 7 // 4, SIZE[1] * 7 // 4))
        )
        self.shade(glow.point([min(255, max(0, round((v - 60) * 1.1))) for v in range(256)]), 0.42, (92, 70, 84))
        self.tint(glow.point([max(0, 120 - v) for v in range(256)]), (255, 240, 205), 0.28)
        final = self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)
        weave = Image.new("L", (WIDTH, HEIGHT))
        weave.putdata([128 + round(self.rng.gauss(0, 5)) for _ in range(WIDTH * HEIGHT)])
        weave = weave.filter(ImageFilter.GaussianBlur(0.7))
        final = ImageChops.overlay(final, Image.merge("RGB", (weave, weave, weave)))
        path.parent.mkdir(parents=True, exist_ok=True)
        final.save(path, "JPEG", quality=quality, optimize=True, progressive=True)


def shifted(image: Image.Image, dx: int, dy: int) -> Image.Image:
    """The mask moved, with nothing coming in at the edge."""
    out = Image.new("L", image.size, 0)
    out.paste(image, (dx, dy))
    return out
