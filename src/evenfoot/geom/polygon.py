"""What a polygon is: its box, area and turn, whether it is a rectangle, and whether its edges cross."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright box in the plane."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.y1 - self.y0


def box_of(points: Sequence[Point]) -> Box:
    """Return the smallest upright box around ``points`` (at least one)."""
    xs = [x for x, _ in points]
    ys = [y for _, y in points]
    return Box(x0=min(xs), y0=min(ys), x1=max(xs), y1=max(ys))


def signed_area(points: Sequence[Point]) -> float:
    """Return the area of a polygon (last corner joins the first), positive when counter-clockwise.

    Source: the shoelace formula, taken about the first corner so that a far-off polygon loses no digits.
    """
    x0, y0 = points[0]
    total = 0.0
    for (ax, ay), (bx, by) in itertools.pairwise(points):
        total += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
    return total / 2.0


def as_upright_box(points: Sequence[Point]) -> Box | None:
    """Return the box when ``points`` are the corners of a rectangle with sides along x and y, else None.

    Exact: no tolerance. Corners in either turn, starting anywhere; corners in the middle of a side are allowed.
    """
    corners = without_flat_corners(points)
    if len(corners) != 4:
        return None
    box = box_of(corners)
    wanted = {(box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)}
    is_box = set(corners) == wanted and all(
        a[0] == b[0] or a[1] == b[1] for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
    return box if is_box else None


def without_flat_corners(points: Sequence[Point], *, within: float = 0.0) -> tuple[Point, ...]:
    """Return the corners at which the outline really turns.

    A corner at most ``within`` from the line through its neighbours is left out, and so are doubled corners.
    """
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > within:
            kept.append(point)
    if len(kept) > 1 and math.dist(kept[0], kept[-1]) <= within:
        kept.pop()
    n = len(kept)
    return tuple(p for i, p in enumerate(kept) if not _is_flat(kept[i - 1], p, kept[(i + 1) % n], within))


def _is_flat(a: Point, b: Point, c: Point, within: float) -> bool:
    return abs(_turn(a, b, c)) <= within * math.dist(a, c)


def is_simple(points: Sequence[Point]) -> bool:
    """Return whether the outline neither crosses nor touches itself and encloses an area.

    Edges that share a corner may not fold back on one another; all other pairs may not meet at all.
    """
    n = len(points)
    if n < 3 or signed_area(points) == 0.0:
        return False
    edges = [(points[i], points[(i + 1) % n]) for i in range(n)]
    if any(a == b for a, b in edges):
        return False
    if any(_folds_back(a, b, edges[(i + 1) % n][1]) for i, (a, b) in enumerate(edges)):
        return False
    return not any(_meet(*edges[i], *edges[k]) for i, k in _side_by_side(edges) if (i - k) % n not in {1, n - 1})


def _side_by_side(edges: Sequence[tuple[Point, Point]]) -> Iterator[tuple[int, int]]:
    """Yield the pairs of edges whose extents along x overlap, found by a sweep from left to right."""
    ahead = sorted(range(len(edges)), key=lambda i: min(edges[i][0][0], edges[i][1][0]))
    under: list[int] = []
    for i in ahead:
        left = min(edges[i][0][0], edges[i][1][0])
        under = [k for k in under if max(edges[k][0][0], edges[k][1][0]) >= left]
        yield from ((i, k) for k in under)
        under.append(i)


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return twice the signed area of the triangle a b c."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])


def _folds_back(a: Point, b: Point, c: Point) -> bool:
    dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _turn(a, b, c) == 0.0 and dot < 0.0


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether the closed segments a b and c d have a point in common."""
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0.0 and _turn(c, d, a) * _turn(c, d, b) <= 0.0
