"""Drawing words on pictures with the packaged faces: measured, wrapped, and made smaller until they fit.

Faces (pipeline/site/faces, licences beside them): Besley (SIL Open Font License 1.1) for titles; a cut of DejaVu Sans,
Latin, Greek, Cyrillic and fractions, for figures and for what Besley has no letter for.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

FACES = Path(__file__).parent / "faces"
Face = Literal["display", "plain", "bold"]
_FILES: dict[Face, str] = {"display": "besley.ttf", "plain": "dejavu-sans.ttf", "bold": "dejavu-sans-bold.ttf"}
_DISPLAY_WEIGHT = 800


@cache
def _font(face: Face, size: int) -> FreeTypeFont:
    from PIL import ImageFont

    # The basic layout is always there; the complex one depends on how the library was built.
    font = ImageFont.truetype(FACES / _FILES[face], size, layout_engine=ImageFont.Layout.BASIC)
    if face == "display":
        font.set_variation_by_axes([_DISPLAY_WEIGHT])
    return font


@cache
def _blank(face: Face) -> bytes:
    """How the face draws a letter that it has not got."""
    return bytes(_font(face, 40).getmask("\U0010fffd"))


@cache
def _has(face: Face, letter: str) -> bool:
    return letter.isspace() or bytes(_font(face, 40).getmask(letter)) != _blank(face)


def drawable(text: str) -> bool:
    """Whether the packaged faces have a letter for everything in ``text``, read from left to right."""
    return all(_has("display", c) or _has("bold", c) for c in text)


@dataclass(frozen=True, slots=True)
class Style:
    """A face, its size in px, and the room from one line to the next in sizes."""

    face: Face
    size: int
    leading: float = 1.25

    @property
    def step(self) -> int:
        return round(self.size * self.leading)

    def runs(self, text: str) -> list[tuple[FreeTypeFont, str]]:
        """The text in stretches of one face each: what the face lacks is drawn in the bold plain one."""
        out: list[tuple[FreeTypeFont, str]] = []
        other: Face = "bold" if self.face == "display" else self.face
        for letter in text:
            font = _font(self.face if _has(self.face, letter) else other, self.size)
            if out and out[-1][0] is font:
                out[-1] = (font, out[-1][1] + letter)
            else:
                out.append((font, letter))
        return out

    def width(self, text: str) -> int:
        return round(sum(font.getlength(run) for font, run in self.runs(text)))

    def wrap(self, text: str, room: int) -> list[str]:
        """Lines no wider than ``room`` px, where words allow; a longer word is cut."""
        lines: list[str] = []
        for word in text.split():
            while self.width(word) > room and len(word) > 1:
                cut = next((n for n in range(len(word) - 1, 1, -1) if self.width(word[:n]) <= room), 1)
                lines.append(word[:cut])
                word = word[cut:]
            if lines and self.width(f"{lines[-1]} {word}") <= room:
                lines[-1] += f" {word}"
            else:
                lines.append(word)
        return lines

    def write(self, draw: ImageDraw, x: int, y: int, text: str, ink: str, align: str = "left") -> None:
        """One line whose first baseline stands ``size`` below ``y``; ``x`` is its left end, right end or middle."""
        width = self.width(text)
        at = float(x - (width if align == "right" else width // 2 if align == "middle" else 0))
        for font, run in self.runs(text):
            draw.text((at, y + self.size), run, font=font, fill=ink, anchor="ls")
            at += font.getlength(run)


def fitted(
    text: str, face: Face, sizes: range, room: int, lines: int, leading: float = 1.12
) -> tuple[Style, list[str]]:
    """The largest size of ``sizes`` (large to small) at which ``text`` takes at most ``lines`` lines; at the smallest,
    what does not fit ends in "…"."""
    for size in sizes:
        style = Style(face, size, leading)
        wrapped = style.wrap(text, room)
        if len(wrapped) <= lines:
            return style, wrapped
    cut = wrapped[:lines]
    cut[-1] = cut[-1].rstrip(" ,;:.") + "…"
    while len(cut[-1]) > 2 and style.width(cut[-1]) > room:
        cut[-1] = cut[-1][:-2].rstrip() + "…"
    return style, cut
