"""Pictures for the web from the cook's own: resized, upright, in sRGB, without a word about where they were taken.

Every picture is drawn anew from its pixels, so no metadata (place, camera, time) can come along. Results are kept
by content: the same bytes are never worked on twice.
"""

from __future__ import annotations

import json
import shutil
import warnings
from dataclasses import dataclass
from hashlib import blake2b
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from pipeline.site.errors import PhotoError
from pipeline.site.files import link_or_copy, write_bytes

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTHS = (480, 960, 1600)  # CSS px: a phone's column, the page's column, twice that for dense screens
MAX_PIXELS = 100_000_000
MAX_BYTES = 80_000_000
_RECIPE = b"1"  # raise when the way of making pictures changes
_KINDS = ("JPEG", "PNG", "WEBP")  # the JPEG reader takes MPO files, too
_AGAIN = "export it again as an ordinary JPEG (sRGB, 8 bits a colour) and use that"


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as the site has it: ``files`` are (width in px, name of the JPEG, name of the WebP), narrow to wide;
    ``width`` and ``height`` those of the widest. Names are relative to the site's ``photos/``."""

    width: int
    height: int
    files: tuple[tuple[int, str, str], ...]


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
        raise PhotoError(path, "this is not a JPEG, PNG or WebP picture", _AGAIN) from None
    except Image.DecompressionBombError:
        raise PhotoError(path, "the picture has far too many pixels", _AGAIN) from None
    except Exception as error:  # a broken header can raise anything
        raise PhotoError(path, f"the picture cannot be read ({error})", _AGAIN) from None
    if image.width * image.height > MAX_PIXELS:
        raise PhotoError(path, f"the picture has more than {MAX_PIXELS // 1_000_000} million pixels", _AGAIN)
    if min(image.size) < 16:
        raise PhotoError(path, "the picture is too small to show anything", "use a larger one")
    # An MPO is what many phones call a JPEG with a second picture behind it; the first one is the photo.
    if image.format != "MPO" and getattr(image, "is_animated", False):
        raise PhotoError(path, "the picture moves", "save one frame of it as a JPEG")
    if image.mode in ("CMYK", "LAB", "YCCK") or image.info.get("adobe_transform") == 2:
        raise PhotoError(path, "its colours are made for a printing press (CMYK)", _AGAIN)
    if image.mode not in ("RGB", "RGBA", "L", "LA", "P", "PA", "1"):
        raise PhotoError(path, f"it has more than 8 bits a colour ({image.mode})", _AGAIN)
    try:
        image.load()
        upright = ImageOps.exif_transpose(image) or image
    except Exception as error:  # decoders raise OSError, SyntaxError, ValueError, struct.error...
        raise PhotoError(path, f"the picture is cut off or damaged ({error})", _AGAIN) from None
    return _in_srgb(upright)


def _in_srgb(image: Image) -> Image:
    """``image`` as plain RGB in sRGB, on white where it was transparent, with nothing attached."""
    from PIL import Image, ImageCms

    profile = image.info.get("icc_profile")
    if image.mode in ("P", "PA", "LA", "RGBA", "1") or "transparency" in image.info:
        layered = image.convert("RGBA")
        image = Image.new("RGB", layered.size, (255, 255, 255))
        image.paste(layered, mask=layered.getchannel("A"))
    elif image.mode == "L" and profile:
        profile = None  # a grey profile needs no conversion that an eye could see
    if profile and image.mode == "RGB":
        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            converted = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"))
            image = converted or image
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a broken profile says nothing; sRGB is what a screen takes for granted
    image = image.convert("RGB")
    bare = Image.frombytes("RGB", image.size, image.tobytes())
    return bare


def make(path: Path, content: bytes, stem: str, into: Path) -> Picture:
    """Write all sizes of one picture into the folder ``into``. Raises PhotoError."""
    from PIL import Image

    image = _opened(path, content)
    widths = [w for w in WIDTHS if w < image.width]
    if not widths or image.width > widths[-1] * 1.15:
        widths = [*widths, min(image.width, WIDTHS[-1])] if image.width < WIDTHS[-1] else list(WIDTHS)
    widths = sorted(set(widths))
    files: list[tuple[int, str, str]] = []
    height = image.height
    for width in widths:
        height = max(1, round(image.height * width / image.width))
        small = image if width == image.width else image.resize((width, height), Image.Resampling.LANCZOS)
        jpeg, webp = f"{stem}-{width}.jpg", f"{stem}-{width}.webp"
        buffer = BytesIO()
        small.save(buffer, "JPEG", quality=82, optimize=True, progressive=True)
        write_bytes(into / jpeg, buffer.getvalue())
        buffer = BytesIO()
        small.save(buffer, "WEBP", quality=78, method=4)
        write_bytes(into / webp, buffer.getvalue())
        files.append((width, jpeg, webp))
    return Picture(widths[-1], height, tuple(files))


def kept(cache: Path, path: Path, content: bytes, stem: str) -> tuple[Picture, Path, bool]:
    """The picture out of ``cache``, made now where it is not there: (picture, its folder, whether made now).

    A picture is made in a folder aside and moved in whole, so that a broken run leaves nothing half-made.
    """
    folder = cache / key_of(content)
    note = folder / "picture.json"
    try:
        told = json.loads(note.read_text("utf-8"))
        files = tuple((int(w), str(j), str(p)) for w, j, p in told["files"])
        if all((folder / name).is_file() for _, *names in files for name in names):
            return Picture(int(told["width"]), int(told["height"]), files), folder, False
    except (OSError, ValueError, KeyError, TypeError):
        pass
    aside = cache / f"{folder.name}.part"
    shutil.rmtree(aside, ignore_errors=True)
    aside.mkdir(parents=True)
    picture = make(path, content, stem, aside)
    told = {"width": picture.width, "height": picture.height, "files": [list(f) for f in picture.files]}
    write_bytes(aside / "picture.json", json.dumps(told).encode())
    shutil.rmtree(folder, ignore_errors=True)
    aside.rename(folder)
    return picture, folder, True


def place(picture: Picture, folder: Path, into: Path) -> None:
    """Put the picture's files into the site's folder ``into``."""
    into.mkdir(parents=True, exist_ok=True)
    for _, *names in picture.files:
        for name in names:
            if not (into / name).exists():
                link_or_copy(folder / name, into / name)
