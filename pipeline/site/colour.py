"""A picture of any make as plain sRGB: what a screen takes for granted (IEC 61966-2-1).

Conversions by an embedded profile (ICC.1) are littlecms's, through Pillow.
"""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

_WHITE = (255, 255, 255)


def in_srgb(image: Image) -> Image:
    """``image`` as RGB of 8 bits in sRGB, on white where it was transparent, with nothing attached.

    It may be RGB, grey, of a palette, of 16 bits, or for a printing press (CMYK). A profile that cannot be used is
    left out: the numbers then stand for sRGB; those for a press become what a browser makes of them, too.
    """
    from PIL import Image

    profile = image.info.get("icc_profile")
    plain, clear = _apart(_eight_bits(image))
    colours = _converted(plain, profile) if profile else None
    colours = colours or plain.convert("RGB")
    if clear is not None:
        under = Image.new("RGB", colours.size, _WHITE)
        under.paste(colours, mask=clear)
        colours = under
    return Image.frombytes("RGB", colours.size, colours.tobytes())


def _eight_bits(image: Image) -> Image:
    """16 bits of grey as 8, in proportion: 65535 becomes 255. (Pillow reads 16 bits a colour as 8 by itself.)"""
    if not image.mode.startswith(("I", "F")):
        return image
    deep = image.convert("I")
    return deep.point(lambda value: value * (1 / 257) + 0.5).convert("L")


def _apart(image: Image) -> tuple[Image, Image | None]:
    """Grey, RGB or CMYK without transparency, and what was transparent as a mask; None for nothing."""
    if image.mode == "1":
        return image.convert("L"), None
    if image.mode in ("P", "PA") or (image.mode in ("L", "RGB") and "transparency" in image.info):
        image = image.convert("LA" if image.mode == "L" else "RGBA")
    if image.mode in ("LA", "RGBA", "La", "RGBa"):
        whole = image.convert("LA" if image.mode in ("LA", "La") else "RGBA")
        return whole.convert("L" if whole.mode == "LA" else "RGB"), whole.getchannel("A")
    return (image if image.mode in ("L", "RGB", "CMYK") else image.convert("RGB")), None


def _converted(plain: Image, profile: bytes) -> Image | None:
    """By its profile, the black of the one space to the black of the other; None where that says nothing about it."""
    from PIL import ImageCms

    try:
        return ImageCms.profileToProfile(
            plain,
            ImageCms.ImageCmsProfile(BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return None
