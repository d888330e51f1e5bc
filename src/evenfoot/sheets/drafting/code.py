"""A text as a square code that a phone reads (QR code, ISO/IEC 18004)."""

from __future__ import annotations

from itertools import groupby

from evenfoot.ink import Fill, Page, Polygon

QUIET = 4
"""Clear modules around a code (ISO/IEC 18004:2015, 5.3.8)."""


def square_code(text: str, corner: tuple[float, float], size: float, *, member: str = "") -> tuple[Polygon, ...]:
    """Return the code of a text in a square of ``size`` mm at ``corner`` (upper left), its quiet zone inside."""
    import segno

    rows = [tuple(row) for row in segno.make(text, micro=False, error="m", boost_error=False).matrix]
    module = size / (len(rows) + 2 * QUIET)
    out: list[Polygon] = []
    for j, row in enumerate(rows):
        place = 0
        for is_dark, run in groupby(row):
            count = len(list(run))
            if is_dark:
                x0, y0 = corner[0] + (QUIET + place) * module, corner[1] + (QUIET + j) * module
                x1, y1 = x0 + count * module, y0 + module
                points = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
                out.append(Polygon(points=points, pen=None, fill=Fill.INK, layer="code", member=member))
            place += count
    return tuple(out)


def code_page(text: str, *, size: float = 60.0) -> Page:
    """Return a square of paper of ``size`` mm that holds nothing but the code of a text, for a screen."""
    shapes = square_code(text, (0.0, 0.0), size)
    return Page(code="code", title="", width=size, height=size, shapes=shapes)
