"""Which three readings span the ground at a place: Delaunay triangles, decided exactly, the same in every order."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction

Point = tuple[float, float]

# Error bounds of the two determinants in double precision: below them the sign is worked out in fractions.
# Source: J. Shewchuk, Adaptive precision floating-point arithmetic, Discrete Comput. Geom. 18 (1997), section 4.
_TURN_BOUND = 3.4e-16
_CIRCLE_BOUND = 1.2e-15


def turn(a: Point, b: Point, c: Point) -> int:
    """Return 1 when a, b, c turn to the left, -1 to the right, 0 when they lie exactly in one line."""
    left = (b[0] - a[0]) * (c[1] - a[1])
    right = (b[1] - a[1]) * (c[0] - a[0])
    value = left - right
    if abs(value) > _TURN_BOUND * (abs(left) + abs(right)):
        return 1 if value > 0 else -1
    ax, ay, bx, by, cx, cy = (Fraction(v) for point in (a, b, c) for v in point)
    exact = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    return (exact > 0) - (exact < 0)


def _is_inside_circle(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether d lies strictly inside the circle through a, b, c (counter-clockwise)."""
    legs = [(p[0] - d[0], p[1] - d[1]) for p in (a, b, c)]
    value, bound = 0.0, 0.0
    for k in range(3):
        (x, y), (px, py), (qx, qy) = legs[k], legs[(k + 1) % 3], legs[(k + 2) % 3]
        square = x * x + y * y
        value += square * (px * qy - py * qx)
        bound += square * (abs(px * qy) + abs(py * qx))
    if abs(value) > _CIRCLE_BOUND * bound:
        return value > 0
    return _is_inside_exactly(a, b, c, d)


def _is_inside_exactly(a: Point, b: Point, c: Point, d: Point) -> bool:
    dx, dy = Fraction(d[0]), Fraction(d[1])
    legs = [(Fraction(p[0]) - dx, Fraction(p[1]) - dy) for p in (a, b, c)]
    value = Fraction(0)
    for k in range(3):
        (x, y), (px, py), (qx, qy) = legs[k], legs[(k + 1) % 3], legs[(k + 2) % 3]
        value += (x * x + y * y) * (px * qy - py * qx)
    return value > 0


class _Net:
    """Triangles held by their directed edges: the edge (a, b) knows the corner to its left."""

    def __init__(self, points: Sequence[Point]) -> None:
        self.points = points
        self.opposite: dict[tuple[int, int], int] = {}

    def add(self, a: int, b: int, c: int) -> None:
        self.opposite[a, b] = c
        self.opposite[b, c] = a
        self.opposite[c, a] = b

    def settle(self, a: int, b: int) -> None:
        """Turn the shared edge of two triangles over as long as a corner lies inside its neighbour's circle."""
        waiting = [(a, b)]
        while waiting:
            a, b = waiting.pop()
            c, d = self.opposite.get((a, b)), self.opposite.get((b, a))
            if c is None or d is None:
                continue
            at = self.points
            if _is_inside_circle(at[a], at[b], at[c], at[d]):
                del self.opposite[a, b], self.opposite[b, a]
                self.add(c, a, d)
                self.add(d, b, c)
                waiting += [(a, d), (d, b), (b, c), (c, a)]

    def triangles(self) -> list[tuple[int, int, int]]:
        """Return each triangle once, its lowest corner first, counter-clockwise, sorted."""
        return sorted((a, b, c) for (a, b), c in self.opposite.items() if a < b and a < c)


def triangulate(points: Sequence[Point]) -> tuple[tuple[int, int, int], ...]:
    """Return the Delaunay triangles of ``points`` [mm] by index, counter-clockwise; none when all lie in one line.

    Which diagonal a square takes does not depend on the order of the points: they are taken from left to right.
    Source: C. Lawson, Software for C1 surface interpolation, 1977 (turn edges over until each circle is empty).
    Args: points, shape (n, 2), no two at the same place.
    """
    order = sorted(range(len(points)), key=lambda k: points[k])
    net = _Net(points)
    start = _first_out_of_line(points, order)
    if start is None:
        return ()
    after = _first_fan(net, order, start)
    for last, new in itertools.pairwise(order[start:]):
        _join(net, after, new, last=last)
    return tuple(net.triangles())


def _first_out_of_line(points: Sequence[Point], order: Sequence[int]) -> int | None:
    for k in range(2, len(order)):
        if turn(points[order[0]], points[order[1]], points[order[k]]) != 0:
            return k
    return None


def _first_fan(net: _Net, order: Sequence[int], start: int) -> dict[int, int]:
    """Join the first point out of line to all before it; return the hull, each corner to the next, to the left."""
    chain, tip = list(order[:start]), order[start]
    if turn(net.points[chain[0]], net.points[chain[1]], net.points[tip]) < 0:
        chain.reverse()
    ring = [*chain, tip]
    for a, b in itertools.pairwise(chain):
        net.add(a, b, tip)
    for k in chain[1:-1]:
        net.settle(k, tip)
    return dict(zip(ring, ring[1:] + ring[:1], strict=True))


def _join(net: _Net, after: dict[int, int], new: int, *, last: int) -> None:
    """Join a point to every hull edge that it sees; ``last``, the rightmost of the hull, is always among their ends."""
    before = {b: a for a, b in after.items()}
    at = net.points
    seen: list[tuple[int, int]] = []
    a = last
    while turn(at[a], at[after[a]], at[new]) < 0:
        seen.append((a, after[a]))
        a = after[a]
    b = last
    while turn(at[before[b]], at[b], at[new]) < 0:
        seen.append((before[b], b))
        b = before[b]
    for p, q in seen:
        net.add(q, p, new)
    for p, _ in seen:
        after.pop(p)
    after[b] = new
    after[new] = a
    for p, q in seen:
        net.settle(p, q)
