"""Pictures for the web from the cook's own: resized, upright, in sRGB, without a word about where they were taken.

Every picture is drawn anew from its pixels, so no metadata (place, camera, time) can come along. Results are kept
by content: the same bytes are never worked on twice.
"""

from __future__ import annotations

import json
import shutil
import warnings
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from functools import cache
from hashlib import blake2b
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pipeline.site.colour import in_srgb
from pipeline.site.errors import PhotoError
from pipeline.site.files import link_or_copy, write_bytes

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTHS = (480, 960, 1600)  # CSS px: a phone's column, the page's column, twice that for dense screens
MAX_PIXELS = 100_000_000
MAX_BYTES = 80_000_000
LONGEST = 20  # times the other side; a strip has nothing left at 480 px
CROPS: tuple[tuple[str, int, int], ...] = (("16x9", 16, 9), ("4x3", 4, 3), ("1x1", 1, 1))
CROP_WIDTH = 1200  # px: what search engines ask of a result's picture (search engine documentation, from memory)
TINTS = 4  # shades of each of red, green and blue among the placeholders' colours
_RECIPE = b"3"  # raise when the way of making pictures changes
_KINDS = ("JPEG", "PNG", "WEBP", "GIF")  # the JPEG reader takes MPO files, too
_AGAIN = "export it again as an ordinary JPEG (sRGB, 8 bits a colour) and use that"


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as the site has it: ``files`` are (width in px, name of the JPEG, of the WebP, of the AVIF or ""),
    narrow to wide; ``width`` and ``height`` those of the widest; ``crops`` the names of its cuts for data about the
    page (16 by 9, 4 by 3, square), for a recipe's first picture only; ``tint`` the number of the colour that stands in
    its place while it loads, -1 for none. Names are relative to the site's ``photos/``."""

    width: int
    height: int
    files: tuple[tuple[int, str, str, str], ...]
    crops: tuple[str, ...] = ()
    tint: int = -1

    def names(self) -> tuple[str, ...]:
        """Every file of it."""
        return (*(name for _, *names in self.files for name in names if name), *self.crops)


def key_of(content: bytes) -> str:
    """What a picture is kept under: a hash of its bytes and of the way pictures are made."""
    return blake2b(_RECIPE + content, digest_size=10).hexdigest()


def read_photo(path: Path) -> bytes:
    """The file's bytes. Raises PhotoError where it is missing, unreadable or far too large."""
    try:
        if path.stat().st_size > MAX_BYTES:
            raise PhotoError(path, f"the file is larger than {MAX_BYTES // 1_000_000} MB", _AGAIN)
        return path.read_bytes()
    except OSError as error:
        why = "there is no such picture" if isinstance(error, FileNotFoundError) else str(error.strerror)
        raise PhotoError(path, why, "put the file there or take its line out of the recipe") from None


def _opened(path: Path, content: bytes) -> Image:
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image: Image.Image = Image.open(BytesIO(content), formats=_KINDS)
    except UnidentifiedImageError:
        raise PhotoError(path, "this is not a JPEG, PNG, WebP or GIF picture", _AGAIN) from None
    except Image.DecompressionBombError:
        raise PhotoError(path, "the picture has far too many pixels", _AGAIN) from None
    except Exception as error:  # a broken header can raise anything
        raise PhotoError(path, f"the picture cannot be read ({error})", _AGAIN) from None
    if image.width * image.height > MAX_PIXELS:
        raise PhotoError(path, f"the picture has more than {MAX_PIXELS // 1_000_000} million pixels", _AGAIN)
    if min(image.size) < 16:
        raise PhotoError(path, "the picture is too small to show anything", "use a larger one")
    if max(image.size) > LONGEST * min(image.size):
        raise PhotoError(path, f"one side is more than {LONGEST} times as long as the other", "cut a part out of it")
    try:
        image.load()  # of several frames the first: a phone's second picture, a moving one's other ones are left
        upright = ImageOps.exif_transpose(image) or image
    except Exception as error:  # decoders raise OSError, SyntaxError, ValueError, struct.error...
        raise PhotoError(path, f"the picture is cut off or damaged ({error})", _AGAIN) from None
    return in_srgb(upright)


def _widths(width: int) -> list[int]:
    widths = [w for w in WIDTHS if w < width]
    if not widths or width > widths[-1] * 1.15:
        widths = [*widths, min(width, WIDTHS[-1])] if width < WIDTHS[-1] else list(WIDTHS)
    return sorted(set(widths))


def planned(width: int, height: int, stem: str, lead: bool = False) -> Picture:
    """What :func:`make` will make of an upright picture of that size, but for its tint."""
    widths = _widths(width)
    avif = _has_avif()
    files = tuple((w, f"{stem}-{w}.jpg", f"{stem}-{w}.webp", f"{stem}-{w}.avif" if avif else "") for w in widths)
    crops = tuple(f"{stem}-{name}.jpg" for name, _, _ in CROPS) if lead else ()
    return Picture(widths[-1], max(1, round(height * widths[-1] / width)), files, crops)


@cache
def _has_avif() -> bool:
    from PIL import features

    return bool(features.check("avif"))


def size_of(path: Path, content: bytes) -> tuple[int, int]:
    """Width and height as seen upright, from the file's head alone. Raises PhotoError."""
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image = Image.open(BytesIO(content), formats=_KINDS)
        turned = image.getexif().get(0x0112, 1) >= 5  # CIPA DC-008, Orientation: 5 to 8 lie on their side
    except Exception as error:
        raise PhotoError(path, f"the picture cannot be read ({error})", _AGAIN) from None
    return (image.height, image.width) if turned else image.size


def tint_of(image: Image) -> int:
    """The nearest of the placeholders' colours to the picture's mean: a number in base TINTS, red first."""
    from PIL import Image

    mean = image.resize((1, 1), Image.Resampling.BOX).getpixel((0, 0))
    assert isinstance(mean, tuple)
    red, green, blue = (round(c * (TINTS - 1) / 255) for c in mean)
    return (red * TINTS + green) * TINTS + blue


def _packed(image: Image, kind: str, **how: Any) -> bytes:
    buffer = BytesIO()
    image.save(buffer, kind, **how)
    return buffer.getvalue()


def make(path: Path, content: bytes, stem: str, into: Path, lead: bool = False) -> Picture:
    """Write all sizes of one picture, and the cuts of a first picture, into the folder ``into``. Raises PhotoError."""
    from PIL import Image, ImageOps

    image = _opened(path, content)
    picture = planned(image.width, image.height, stem, lead)
    for width, jpeg, webp, avif in picture.files:
        height = max(1, round(image.height * width / image.width))
        small = image if width == image.width else image.resize((width, height), Image.Resampling.LANCZOS)
        write_bytes(into / jpeg, _packed(small, "JPEG", quality=82, optimize=True, progressive=True))
        write_bytes(into / webp, _packed(small, "WEBP", quality=78, method=4))
        if avif:
            # A slower setting saves a tenth of the bytes at three times the time (measured on the demo's pictures);
            # on the widest it saves next to nothing.
            speed = 9 if width > 1000 else 8
            write_bytes(into / avif, _packed(small, "AVIF", quality=55, speed=speed, max_threads=1))
    for name, (_, across, down) in zip(picture.crops, CROPS, strict=False):
        unit = min(image.width / across, image.height / down, CROP_WIDTH / across)
        size = (max(1, round(across * unit)), max(1, round(down * unit)))
        cut = ImageOps.fit(image, size, Image.Resampling.LANCZOS)
        write_bytes(into / name, _packed(cut, "JPEG", quality=82, optimize=True, progressive=True))
    return replace(picture, tint=tint_of(image))


def kept(cache: Path, path: Path, content: bytes, stem: str, lead: bool = False) -> tuple[Picture, Path, bool]:
    """The picture out of ``cache``, made now where it is not there: (picture, its folder, whether made now).

    A picture is made in a folder aside and moved in whole, so that a broken run leaves nothing half-made.
    """
    folder = cache / folder_of(content, lead)
    note = folder / "picture.json"
    try:
        told = json.loads(note.read_text("utf-8"))
        files = tuple((int(w), str(j), str(p), str(a)) for w, j, p, a in told["files"])
        crops = tuple(str(name) for name in told["crops"])
        picture = Picture(int(told["width"]), int(told["height"]), files, crops, int(told["tint"]))
        if all((folder / name).is_file() for name in picture.names()):
            return picture, folder, False
    except (OSError, ValueError, KeyError, TypeError):
        pass
    aside = cache / f"{folder.name}.part"
    shutil.rmtree(aside, ignore_errors=True)
    aside.mkdir(parents=True)
    picture = make(path, content, stem, aside, lead)
    write_bytes(aside / "picture.json", json.dumps(asdict(picture)).encode())
    shutil.rmtree(folder, ignore_errors=True)
    aside.rename(folder)
    return picture, folder, True


def folder_of(content: bytes, lead: bool) -> str:
    """The name of a picture's folder in the cache."""
    return key_of(content) + ("-lead" if lead else "")


def place(names: Sequence[str], folder: Path, into: Path) -> None:
    """Put files of the cache's ``folder`` into the site's folder ``into``."""
    into.mkdir(parents=True, exist_ok=True)
    for name in names:
        if not (into / name).exists():
            link_or_copy(folder / name, into / name)
