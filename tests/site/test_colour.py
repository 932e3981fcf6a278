"""Pictures of every make come out as sRGB: by their profile where one is embedded, at full depth, the first of several.

Expected colours are worked out from CIE L*a*b* by its own formulas (CIE 15; IEC 61966-2-1 for sRGB), the profiles in
the test are written byte by byte after ICC.1:2022.
"""

from __future__ import annotations

import struct
from itertools import product
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from pipeline.site.photos import make, read_photo

Colour = tuple[int, int, int]
Lab = tuple[float, float, float]


def shown(path: Path, into: Path) -> list[Image.Image]:
    picture = make(path, read_photo(path), "x", into)
    return [Image.open(into / name).convert("RGB") for _, *names in picture.files for name in names]


def srgb_of(lab: Lab) -> Colour:
    """CIE L*a*b* (D50, as profiles have it) to sRGB; Bradford's matrix to D65 is folded in (IEC 61966-2-1, CIE 15)."""
    fy = (lab[0] + 16) / 116
    f = (fy + lab[1] / 500, fy, fy - lab[2] / 200)
    xyz = [
        w * (t**3 if t > 6 / 29 else 3 * (6 / 29) ** 2 * (t - 4 / 29))
        for w, t in zip((0.9642, 1, 0.8249), f, strict=True)
    ]
    matrix = ((3.1339, -1.6169, -0.4906), (-0.9788, 1.9161, 0.0335), (0.0719, -0.2290, 1.4052))
    linear = [min(max(sum(m * v for m, v in zip(row, xyz, strict=True)), 0), 1) for row in matrix]
    red, green, blue = (round(255 * (12.92 * c if c <= 0.0031308 else 1.055 * c ** (1 / 2.4) - 0.055)) for c in linear)
    return red, green, blue


def profile(kind: bytes, space: bytes, between: bytes, tags: dict[bytes, bytes]) -> bytes:
    """An ICC profile, version 2: head of 128 bytes, table of tags, tags (ICC.1, 7.2 and 7.3)."""
    text = b"desc" + bytes(4) + struct.pack(">I", 5) + b"test\0" + bytes(79)
    white = b"XYZ " + bytes(4) + struct.pack(">3i", *(round(v * 65536) for v in (0.9642, 1, 0.8249)))
    every = {b"desc": text, b"wtpt": white, b"cprt": b"text" + bytes(4) + b"none\0\0\0\0", **tags}
    at, table, body = 128 + 4 + 12 * len(every), b"", b""
    for name, data in every.items():
        data += bytes(-len(data) % 4)
        table += struct.pack(">4sII", name, at + len(body), len(data))
        body += data
    head = struct.pack(">I4sI4s4s4s", at + len(body), bytes(4), 0x02400000, kind, space, between)
    head += struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(28)
    head += struct.pack(">3i", 63190, 65536, 54061)  # D50 in s15Fixed16
    return head.ljust(128, b"\0") + struct.pack(">I", len(every)) + table + body


# A mild press: what each ink alone is on the paper; every mixture of them the mean of its inks, darker by each more.
PAPER: Lab = (100, 0, 0)  # colours are relative to the paper (ICC.1, 6.3.2)
INKS: dict[str, Lab] = {"C": (60, -20, -30), "M": (55, 45, 0), "Y": (85, 0, 60), "K": (0, 0, 0)}


def printed(dots: tuple[int, ...]) -> Lab:
    inks = [INKS[name] for name, on in zip("CMYK", dots, strict=True) if on]
    if not inks:
        return PAPER
    if dots[3]:
        return INKS["K"]
    light, a, b = (sum(ink[i] for ink in inks) / len(inks) for i in range(3))
    return light - 12 * (len(inks) - 1), a, b


def press() -> bytes:
    """lut8Type (ICC.1, 10.11): four inks in, L*a*b* out, a grid of two points a side; the first ink varies least."""
    lut = b"mft1" + bytes(4) + bytes([4, 3, 2, 0]) + struct.pack(">9i", *(65536 * (i % 4 == 0) for i in range(9)))
    lut += bytes(range(256)) * 4
    for dots in product((0, 1), repeat=4):
        light, a, b = printed(dots)
        lut += bytes([round(light * 255 / 100), round(a + 128), round(b + 128)])
    return profile(b"prtr", b"CMYK", b"Lab ", {b"A2B0": lut + bytes(range(256)) * 3})


def curve(gamma: float) -> bytes:
    return b"curv" + bytes(4) + struct.pack(">IH", 1, round(gamma * 256))  # ICC.1, 10.6: u8Fixed8Number


@pytest.mark.parametrize("dots", [d for d in product((0, 1), repeat=4) if sum(d[:3]) < 3])
def test_inks_go_by_the_profile(dots: tuple[int, ...], tmp_path: Path) -> None:
    ink = tuple(255 * on for on in dots)
    Image.new("CMYK", (64, 64), ink).save(tmp_path / "p.jpg", icc_profile=press(), quality=98)
    for image in shown(tmp_path / "p.jpg", tmp_path / "o"):
        assert image.getpixel((30, 30)) == pytest.approx(srgb_of(printed(dots)), abs=6), dots


def test_inks_without_a_profile_are_as_a_browser_shows_them(tmp_path: Path) -> None:
    """The plain rule of device colours: what ink leaves of the light, times what black leaves (PostScript Language
    Reference, 7.2.4, has a near sum; from memory)."""
    for ink, wanted in (((0, 0, 0, 0), (255, 255, 255)), ((0, 255, 255, 0), (255, 0, 0)), ((0, 0, 0, 128), (127,) * 3)):
        Image.new("CMYK", (64, 64), ink).save(tmp_path / "p.jpg", quality=98)
        for image in shown(tmp_path / "p.jpg", tmp_path / "o"):
            assert image.getpixel((30, 30)) == pytest.approx(wanted, abs=6)


def linear_rgb() -> bytes:
    """sRGB's own primaries with a gamma of 1.0 in place of each tone curve."""
    raw = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for i in range(struct.unpack(">I", raw[128:132])[0]):
        tag, offset, _ = struct.unpack(">4sII", raw[132 + 12 * i : 144 + 12 * i])
        if tag in (b"rTRC", b"gTRC", b"bTRC"):
            raw[offset : offset + 14] = curve(1)
    return bytes(raw)


def linear_grey() -> bytes:
    return profile(b"mntr", b"GRAY", b"XYZ ", {b"kTRC": curve(1)})


@pytest.mark.parametrize(
    ("mode", "colour", "icc", "suffix"),
    [
        ("RGB", (55, 55, 55), linear_rgb(), "jpg"),
        ("RGBA", (55, 55, 55, 255), linear_rgb(), "png"),
        ("RGB", (55, 55, 55), linear_rgb(), "webp"),
        ("L", 55, linear_grey(), "jpg"),
        ("LA", (55, 255), linear_grey(), "png"),
        ("I;16", 55 * 257, linear_grey(), "png"),
    ],
)
def test_another_colour_space_is_converted(
    mode: str, colour: int | tuple[int, ...], icc: bytes, suffix: str, tmp_path: Path
) -> None:
    """Linear light: its mid grey is much lighter in sRGB. 55/255 = 0.2157; IEC 61966-2-1: 1.055 * 0.2157**(1/2.4) -
    0.055 = 0.5017, which is 128."""
    image = Image.new(mode, (64, 64), colour)  # type: ignore[arg-type]
    image.save(tmp_path / f"p.{suffix}", icc_profile=icc, **({"lossless": True} if suffix == "webp" else {}))
    for made in shown(tmp_path / f"p.{suffix}", tmp_path / "o"):
        assert made.getpixel((30, 30)) == pytest.approx((128, 128, 128), abs=3)


def test_a_palette_goes_by_its_profile_too(tmp_path: Path) -> None:
    flat = Image.new("P", (64, 64), 1)
    flat.putpalette([0, 0, 0, 55, 55, 55])
    flat.save(tmp_path / "p.png", icc_profile=linear_rgb())
    for made in shown(tmp_path / "p.png", tmp_path / "o"):
        assert made.getpixel((30, 30)) == pytest.approx((128, 128, 128), abs=3)


def test_sixteen_bits_of_grey_keep_their_whole_range(tmp_path: Path) -> None:
    deep = Image.new("I;16", (96, 32))
    for x in range(96):
        for y in range(32):
            deep.putpixel((x, y), (0, 32896, 65535)[x // 32])  # 0, 128 and 255 times 257
    deep.save(tmp_path / "p.png")
    for made in shown(tmp_path / "p.png", tmp_path / "o"):
        assert [made.getpixel((x, 16))[0] for x in (10, 48, 86)] == pytest.approx([0, 128, 255], abs=3)


def png(width: int, height: int, depth: int, kind: int, rows: bytes) -> bytes:
    """A PNG from its parts (W3C PNG, third edition, 5 and 11.2)."""
    import zlib

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(("kind", "pixel", "wanted"), [
    (2, struct.pack(">3H", 65535, 32896, 0), (255, 128, 0)),  # 16 bits a colour
    (6, struct.pack(">4H", 65535, 0, 0, 32896), (255, 127, 127)),  # and half of it clear: red on white
    (4, struct.pack(">2H", 0, 32896), (127, 127, 127)),  # 16 bits of grey, half of it clear
])  # fmt: skip
def test_sixteen_bits_a_colour(kind: int, pixel: bytes, wanted: Colour, tmp_path: Path) -> None:
    (tmp_path / "p.png").write_bytes(png(40, 40, 16, kind, (b"\0" + pixel * 40) * 40))
    for made in shown(tmp_path / "p.png", tmp_path / "o"):
        assert made.getpixel((20, 20)) == pytest.approx(wanted, abs=5)


@pytest.mark.parametrize(("mode", "colour"), [
    ("1", 1), ("L", 200), ("LA", (200, 255)), ("P", 3), ("RGBA", (9, 9, 9, 0)), ("CMYK", (9,) * 4), ("I;16", 60_000),
])  # fmt: skip
@pytest.mark.parametrize("broken", [b"", b"not a profile", b"\0" * 200, linear_rgb()[:300], press(), linear_grey()])
def test_a_profile_that_says_nothing_is_left_out(
    mode: str, colour: int | tuple[int, ...], broken: bytes, tmp_path: Path
) -> None:
    """Also one that is for another kind of picture."""
    path = tmp_path / ("p.jpg" if mode == "CMYK" else "p.png")
    Image.new(mode, (40, 40), colour).save(path, icc_profile=broken)  # type: ignore[arg-type]
    assert all(made.size == (40, 40) for made in shown(path, tmp_path / "o"))


@pytest.mark.parametrize("kind", ["WEBP", "GIF", "PNG"])
def test_a_moving_picture_counts_as_its_first(kind: str, tmp_path: Path) -> None:
    first, *others = (Image.new("RGB", (40, 40), colour) for colour in ("red", "blue", "lime"))
    path = tmp_path / "p"
    first.save(path, format=kind, save_all=True, append_images=others, duration=50)
    for made in shown(path, tmp_path / "o"):
        red, green, blue = made.getpixel((20, 20))
        assert red > 230 > 30 > max(green, blue)


def test_what_is_clear_in_a_palette_becomes_white(tmp_path: Path) -> None:
    flat = Image.new("P", (40, 40), 0)
    flat.putpalette([200, 0, 0, 0, 0, 200])
    flat.paste(1, (20, 0, 40, 40))
    for name in ("p.gif", "p.png"):
        flat.save(tmp_path / name, transparency=0)
        for made in shown(tmp_path / name, tmp_path / "o"):
            assert min(made.getpixel((5, 20))) > 250
            assert made.getpixel((35, 20))[2] > 180 > made.getpixel((35, 20))[0]
