"""How wood shows which way it lies: growth rings on a cut end, a few drawn lines along a face."""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin
from zlib import crc32

from evenfoot.ink import Line, Pen, Polygon
from evenfoot.sheets.drafting.view import EDGE, Point, View

RING = 1.3
"""Distance between drawn growth rings on paper [mm]."""
FINEST = 1.6
"""A face or end narrower than this on paper shows no grain [mm]."""
STEP = 0.8
"""Length of the straight pieces that a ring is drawn with [mm]."""


@lru_cache(maxsize=16_384)
def _share(seed: str, salt: int) -> float:
    """Return a number in [0, 1) that is always the same for the same timber."""
    return (crc32(f"{seed}/{salt}".encode()) % 1000) / 1000


@lru_cache(maxsize=2048)
def end_grain(corner: Point, width: float, height: float, *, seed: str, is_board: bool = False) -> tuple[Polygon, ...]:
    """Return growth rings clipped to a rectangle on paper; ``corner`` is its upper left.

    A square timber holds its heart near the middle; a board is cut beside it, and lies bark side up.
    """
    if min(width, height) < FINEST:
        return ()
    left, top = corner
    if is_board:
        centre = (left + width * (0.35 + 0.3 * _share(seed, 1)), top + height * (1.9 + 0.8 * _share(seed, 2)))
    else:
        centre = (left + width * (0.35 + 0.3 * _share(seed, 1)), top + height * (0.4 + 0.25 * _share(seed, 2)))
    far = max(hypot(x - centre[0], y - centre[1]) for x in (left, left + width) for y in (top, top + height))
    box = View(ratio=1.0, u=(left, left + width), v=(top, top + height), left=left, bottom=top)
    out: list[Polygon] = []
    radius = RING * (0.45 + 0.3 * _share(seed, 3))
    while radius < far:
        out += _ring(centre, radius, box)
        radius += RING * (0.8 + 0.35 * _share(seed, int(radius * 10)))
    return tuple(out)


def _ring(centre: Point, radius: float, box: View) -> list[Polygon]:
    """Return the pieces of one ring that lie inside the box."""
    count = max(10, ceil(2 * pi * radius / STEP))
    x, y = centre
    points = [(x + radius * c, y + radius * s) for c, s in _turns(count)]
    left, right, low, high = box.u[0] - EDGE, box.u[1] + EDGE, box.v[0] - EDGE, box.v[1] + EDGE
    runs: list[list[Point]] = []
    for a, b in pairwise(points):
        # Most of a ring lies beside a board, wholly on one side of it.
        (ax, ay), (bx, by) = a, b
        if (ax < left and bx < left) or (ax > right and bx > right):
            continue
        if (ay < low and by < low) or (ay > high and by > high):
            continue
        kept = box.clip_line(a, b)
        if kept is None:
            continue
        if runs and hypot(runs[-1][-1][0] - kept[0][0], runs[-1][-1][1] - kept[0][1]) < 1e-6:
            runs[-1].append(kept[1])
        else:
            runs.append(list(kept))
    return [Polygon(points=tuple(run), pen=Pen.PENCIL, is_closed=False, layer="grain") for run in runs if len(run) > 1]


@cache
def _turns(count: int) -> tuple[Point, ...]:
    """Return the points of a circle of radius 1 at the middle, ``count`` steps around it and the first again."""
    return tuple((cos(2 * pi * k / count), sin(2 * pi * k / count)) for k in range(count + 1))


def long_grain(corner: Point, width: float, height: float, *, seed: str) -> tuple[Line, ...]:
    """Return a few lines along the longer side of a rectangle on paper; ``corner`` is its upper left."""
    is_flat = width >= height
    length, across = (width, height) if is_flat else (height, width)
    if across < FINEST or length < 2 * across:
        return ()
    count = 1 if across < 3.0 else 2 if across < 6.0 else 3
    lines: list[Line] = []
    for index in range(count):
        lane = across * (index + 1) / (count + 1) + across * 0.12 * (_share(seed, index) - 0.5)
        first = length * (0.03 + 0.3 * _share(seed, 10 + index))
        last = length * (0.97 - 0.3 * _share(seed, 20 + index))
        pause = first + (last - first) * (0.35 + 0.3 * _share(seed, 30 + index))
        for begin, end in ((first, pause - 1.0), (pause + 1.0, last)):
            if end - begin > 2.0:
                a = (corner[0] + begin, corner[1] + lane) if is_flat else (corner[0] + lane, corner[1] + begin)
                b = (corner[0] + end, corner[1] + lane) if is_flat else (corner[0] + lane, corner[1] + end)
                lines.append(Line(a=a, b=b, pen=Pen.PENCIL, layer="grain"))
    return tuple(lines)
