"""The code to scan on paper: a QR code (ISO/IEC 18004) that leads back to the page, by the library zxing-cpp.

The standard lets an encoder weigh eight masks against each other; any of them is read. The choice takes most of the
time, so one mask is taken for all: a thousand codes must not hold up a thousand pages.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import isqrt
from typing import Any, cast

from markupsafe import Markup

_MASK = 2
_INKED = bytes.maketrans(b"\x00\xff", b"10")
_RUN = re.compile(r"1+|0+")


class _Strokes(dict[str, str]):
    """A run of squares → how a pen draws it: across the dark ones, over the light ones."""

    def __missing__(self, run: str) -> str:
        self[run] = f"h{len(run)}" if run[0] == "1" else f"m{len(run)} 0"
        return self[run]


_strokes = _Strokes()


@lru_cache(maxsize=16)
def scan_modules(address: str) -> tuple[str, ...]:
    """The code's rows, "1" for a dark square and "0" for a light one, without the light rim. () for an address that
    is too long for any code."""
    import zxingcpp

    try:
        # M: about 15 % of the code may be lost to a splash of oil (ISO/IEC 18004); more where it takes no more squares.
        code = zxingcpp.create_barcode(address, zxingcpp.BarcodeFormat.QRCode, ec_level="M", dataMask=_MASK)
    except ValueError:
        return ()
    drawing = memoryview(cast(Any, code.to_image(scale=1, add_quiet_zones=False)))  # one byte a square
    squares = drawing.tobytes().translate(_INKED).decode()
    size = isqrt(len(squares))
    return tuple(squares[start : start + size] for start in range(0, size * size, size))


@lru_cache(maxsize=16)
def scan_svg(address: str, label: str) -> Markup:
    """The code as inline SVG with its rim of four light squares; "" where there is no address or it is too long."""
    rows = scan_modules(address) if address else ()
    if not rows:
        return Markup("")
    size = len(rows) + 8
    path = "".join(f"M4 {y}.5" + "".join(map(_strokes.__getitem__, _RUN.findall(row))) for y, row in enumerate(rows, 4))
    drawing = f'<rect width="{size}" height="{size}" fill="#fff"/><path stroke="#000" d="{path}"/>'
    return Markup(
        f'<svg class="scan" viewBox="0 0 {size} {size}" role="img" aria-label="{{}}" '
        f'shape-rendering="crispEdges">{drawing}</svg>'
    ).format(label)
