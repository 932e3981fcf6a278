"""Pictures: upright, in sRGB, without a trace of where and when; and a clear word for those that cannot be used.

Expected values come from the pixels put in; EXIF tags after CIPA DC-008 (Exif 2.32): 0x0112 Orientation, 0x8825 GPS.
"""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from pipeline.site import photos
from pipeline.site.errors import PhotoError
from pipeline.site.photos import kept, make, read_photo


def made(path: Path, into: Path) -> list[Image.Image]:
    picture = make(path, read_photo(path), "x", into)
    return [Image.open(into / name) for _, *names in picture.files for name in names]


def test_sizes_are_narrow_to_wide_and_never_larger_than_the_original(
    picture: Callable[..., Path], tmp_path: Path
) -> None:
    wide = make(picture(tmp_path / "a.jpg", (2000, 1000)), (tmp_path / "a.jpg").read_bytes(), "a", tmp_path / "o")
    assert [w for w, *_ in wide.files] == [480, 960, 1600]
    assert (wide.width, wide.height) == (1600, 800)
    small = make(picture(tmp_path / "b.jpg", (300, 200)), (tmp_path / "b.jpg").read_bytes(), "b", tmp_path / "o")
    assert [w for w, *_ in small.files] == [300]


@pytest.mark.parametrize("turn", range(1, 9))
def test_every_orientation_comes_out_upright(turn: int, tmp_path: Path) -> None:
    upright = Image.new("RGB", (80, 40), "blue")
    upright.paste("red", (0, 0, 40, 20))  # the top left quarter
    stored = upright
    back = {2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
            5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
            8: Image.Transpose.ROTATE_270}  # fmt: skip
    if turn in back:
        stored = upright.transpose(back[turn])
    exif = Image.Exif()
    exif[0x0112] = turn
    stored.save(tmp_path / "p.jpg", exif=exif, quality=95)
    for image in made(tmp_path / "p.jpg", tmp_path / "o"):
        assert image.size == (80, 40)
        red, _, blue = image.convert("RGB").getpixel((10, 5))
        assert red > 200 > 60 > blue
        red, _, blue = image.convert("RGB").getpixel((70, 30))
        assert blue > 200 > 60 > red


def test_place_camera_comment_and_profile_are_gone(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x010F] = "Secret Camera"
    exif.get_ifd(0x8825)[2] = (52.0, 30.0, 0.0)
    exif.get_ifd(0x8825)[1] = "N"
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    Image.new("RGB", (64, 64), "green").save(
        tmp_path / "p.jpg", exif=exif, comment=b"at my home", icc_profile=profile, xmp=b"<x>at my home</x>"
    )
    assert b"Secret Camera" in (tmp_path / "p.jpg").read_bytes()
    for image in made(tmp_path / "p.jpg", tmp_path / "o"):
        assert not image.getexif()
        assert not {"exif", "icc_profile", "comment", "xmp", "gps", "photoshop"} & set(image.info)
    for path in (tmp_path / "o").iterdir():
        raw = path.read_bytes()
        assert b"Secret" not in raw and b"home" not in raw and b"Exif" not in raw


def test_a_png_loses_its_text_too(tmp_path: Path) -> None:
    from PIL.PngImagePlugin import PngInfo

    info = PngInfo()
    info.add_text("Location", "my home")
    Image.new("RGBA", (40, 40), (255, 0, 0, 0)).save(tmp_path / "p.png", pnginfo=info)
    for image in made(tmp_path / "p.png", tmp_path / "o"):
        assert "Location" not in image.info
        assert min(image.convert("RGB").getpixel((5, 5))) > 250  # transparent becomes white


def bomb(path: Path) -> None:
    Image.new("1", (30_000, 30_000)).save(path, format="PNG")


def cut(path: Path) -> None:
    buffer = BytesIO()
    Image.effect_noise((400, 400), 60).convert("RGB").save(buffer, "JPEG")
    path.write_bytes(buffer.getvalue()[: len(buffer.getvalue()) // 2])


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "bitmap": (lambda p: Image.new("RGB", (40, 40)).save(p, format="BMP"), "not a JPEG, PNG, WebP or GIF"),
    "strip": (lambda p: Image.new("1", (4_000_000, 20)).save(p, format="PNG"), "times as long"),
    "many pixels": (lambda p: Image.new("1", (12_000, 10_000)).save(p, format="PNG"), "100 million pixels"),
    "bomb in grey": (lambda p: Image.new("L", (20_000, 20_000)).save(p, format="PNG"), "far too many pixels"),
    "cut off": (cut, "cut off"),
    "bomb": (bomb, "pixels"),
    "text": (lambda p: p.write_text("not a picture"), "not a JPEG"),
    "empty": (lambda p: p.write_bytes(b""), "not a JPEG"),
    "svg": (lambda p: p.write_text("<svg xmlns='http://www.w3.org/2000/svg'/>"), "not a JPEG"),
    "broken png": (lambda p: p.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(40)), ""),
    "too small": (lambda p: Image.new("RGB", (4, 4)).save(p, format="PNG"), "too small"),
    "missing": (lambda p: None, "no such picture"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_used_gets_a_clear_word(name: str, tmp_path: Path) -> None:
    write, why = BAD[name]
    path = tmp_path / "photo.jpg"
    write(path)
    with pytest.raises(PhotoError) as caught:
        make(path, read_photo(path), "x", tmp_path / "o")
    assert why in caught.value.why
    assert str(path) in str(caught.value) and caught.value.help


def test_every_cut_of_a_picture_is_made_or_refused(picture: Callable[..., Path], tmp_path: Path) -> None:
    whole = picture(tmp_path / "p.png", (60, 60)).read_bytes()
    for end in range(0, len(whole), max(1, len(whole) // 60)):
        try:
            make(tmp_path / "p.png", whole[:end], "x", tmp_path / "o")
        except PhotoError:
            continue


def test_a_phones_double_picture_counts_as_its_first(tmp_path: Path) -> None:
    first, second = Image.new("RGB", (40, 40), "red"), Image.new("RGB", (40, 40), "blue")
    first.save(tmp_path / "p.jpg", format="MPO", save_all=True, append_images=[second])
    for image in made(tmp_path / "p.jpg", tmp_path / "o"):
        assert image.convert("RGB").getpixel((5, 5))[0] > 200


def test_the_same_bytes_are_worked_on_once(
    picture: Callable[..., Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = picture(tmp_path / "p.jpg")
    content = path.read_bytes()
    first = kept(tmp_path / "cache", path, content, "k")
    assert first[2] is True

    def never(*_: object) -> None:
        raise AssertionError("made a second time")

    monkeypatch.setattr(photos, "make", never)
    second = kept(tmp_path / "cache", path, content, "k")
    assert second == (first[0], first[1], False)
