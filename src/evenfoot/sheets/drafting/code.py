"""A text as a square code that a phone reads (QR code, ISO/IEC 18004)."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby

from evenfoot.ink import Fill, Page, Polygon

QUIET = 4
"""Clear modules around a code (ISO/IEC 18004:2015, 5.3.8)."""


def square_code(text: str, corner: tuple[float, float], size: float, *, member: str = "") -> tuple[Polygon, ...]:
    """Return the code of a text in a square of ``size`` mm at ``corner`` (upper left), its quiet zone inside."""
    across, runs = _dark_runs(text)
    module = size / (across + 2 * QUIET)
    out: list[Polygon] = []
    for j, place, count in runs:
        x0, y0 = corner[0] + (QUIET + place) * module, corner[1] + (QUIET + j) * module
        x1, y1 = x0 + count * module, y0 + module
        points = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        out.append(Polygon(points=points, pen=None, fill=Fill.INK, layer="code", member=member))
    return tuple(out)


@lru_cache(maxsize=4096)
def _dark_runs(text: str) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    """Return how many modules a code is wide, and row, place and length of each run of dark ones.

    Marks come back with every set of labels, and to find the best mask of a code takes some milliseconds.
    """
    import segno

    rows = [tuple(row) for row in segno.make(text, micro=False, error="m", boost_error=False).matrix]
    out: list[tuple[int, int, int]] = []
    for j, row in enumerate(rows):
        place = 0
        for is_dark, run in groupby(row):
            count = len(list(run))
            if is_dark:
                out.append((j, place, count))
            place += count
    return len(rows), tuple(out)


def code_page(text: str, *, size: float = 60.0) -> Page:
    """Return a square of paper of ``size`` mm that holds nothing but the code of a text, for a screen."""
    shapes = square_code(text, (0.0, 0.0), size)
    return Page(code="code", title="", width=size, height=size, shapes=shapes)
