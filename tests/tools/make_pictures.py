"""Draws the demo channel's pictures, the same every time: ``python tests/tools/make_pictures.py [NAME…]``.

Still-lifes seen from above, one function a picture. They are written beside the recipes in ``content/recipes``.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from brush import Canvas
from scenes_bread import bread_and_dip, dimpling, folding
from scenes_stove import chicken, peppers, sauce
from scenes_tins import cake, squares

CONTENT = Path(__file__).parents[2] / "content" / "recipes"

PICTURES: dict[str, Callable[[], Canvas]] = {
    "overnight-dimpled-bread/bread": bread_and_dip,
    "overnight-dimpled-bread/folding": folding,
    "overnight-dimpled-bread/dimpling": dimpling,
    "charred-pepper-sauce/sauce": sauce,
    "charred-pepper-sauce/peppers": peppers,
    "blueberry-corn-cake/cake": cake,
    "lemon-chicken-rice/chicken": chicken,
    "cocoa-oat-squares/squares": squares,
}


def main(names: list[str]) -> None:
    for name, draw in PICTURES.items():
        if not names or any(n in name for n in names):
            path = CONTENT / f"{name}.jpg"
            draw().finish(path)
            print(f"{path.relative_to(CONTENT)}: {path.stat().st_size // 1000} kB")


if __name__ == "__main__":
    main(sys.argv[1:])
