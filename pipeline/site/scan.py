"""The code to scan on paper: a QR code (ISO/IEC 18004) that leads back to the page, by the library segno.

The standard lets an encoder weigh eight masks against each other; any of them is read. The choice takes four fifths of
the time, so one mask is taken for all: a thousand codes must not hold up a thousand pages.
"""

from __future__ import annotations

from functools import lru_cache

from markupsafe import Markup

_MASK = 2


@lru_cache(maxsize=16)
def _code(address: str) -> tuple[str, ...]:
    import segno

    # M: about 15 % of the code may be lost to a splash of oil (ISO/IEC 18004).
    code = segno.make_qr(address, error="m", boost_error=False, mask=_MASK)
    return tuple("".join("1" if dark else "0" for dark in row) for row in code.matrix)


def scan_modules(address: str) -> tuple[str, ...]:
    """The code's rows, "1" for a dark square and "0" for a light one, without the light rim. () for an address that
    is too long for any code."""
    import segno

    try:
        return _code(address)
    except segno.DataOverflowError:
        return ()


@lru_cache(maxsize=16)
def scan_svg(address: str, label: str) -> Markup:
    """The code as inline SVG with its rim of four light squares; "" where there is no address or it is too long."""
    rows = scan_modules(address) if address else ()
    if not rows:
        return Markup("")
    size = len(rows) + 8
    path: list[str] = []
    for y, row in enumerate(rows):
        x = 0
        for run in row.replace("01", "0 1").replace("10", "1 0").split():
            if run[0] == "1":
                path.append(f"M{x + 4} {y + 4}h{len(run)}v1h-{len(run)}z")
            x += len(run)
    drawing = f'<rect width="{size}" height="{size}" fill="#fff"/><path d="{"".join(path)}"/>'
    return Markup(
        f'<svg class="scan" viewBox="0 0 {size} {size}" role="img" aria-label="{{}}" '
        f'shape-rendering="crispEdges">{drawing}</svg>'
    ).format(label)
