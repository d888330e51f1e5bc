"""How a window of the real world falls onto the paper at one scale, and what is cut off at its edge."""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]
EDGE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Real u to the right, v upwards [mm]; the window's lower left corner stands at (left, bottom) on paper."""

    ratio: float
    u: tuple[float, float]
    v: tuple[float, float]
    left: float
    bottom: float

    @property
    def right(self) -> float:
        """Right edge of the window on paper."""
        return self.left + (self.u[1] - self.u[0]) / self.ratio

    @property
    def top(self) -> float:
        """Upper edge of the window on paper."""
        return self.bottom - (self.v[1] - self.v[0]) / self.ratio

    def at(self, point: Point) -> Point:
        """Return the paper point of a real one."""
        return (
            self.left + (point[0] - self.u[0]) / self.ratio,
            self.bottom - (point[1] - self.v[0]) / self.ratio,
        )

    def paper(self, length: float) -> float:
        """Return a real length on paper."""
        return length / self.ratio

    def holds(self, point: Point) -> bool:
        """Return whether a real point lies in the window, its edges included."""
        return self.u[0] - EDGE <= point[0] <= self.u[1] + EDGE and self.v[0] - EDGE <= point[1] <= self.v[1] + EDGE

    def clip_line(self, a: Point, b: Point) -> tuple[Point, Point] | None:
        """Return the part of a real line inside the window, or None."""
        return clipped(a, b, self.u, self.v)

    def clip_area(self, points: tuple[Point, ...]) -> tuple[Point, ...]:
        """Return the part of a real outline inside the window (Sutherland and Hodgman's way), empty when none."""
        kept = list(points)
        for axis, limit, sign in ((0, self.u[0], 1.0), (0, self.u[1], -1.0), (1, self.v[0], 1.0), (1, self.v[1], -1.0)):
            kept = _cut(kept, axis, limit, sign)
            if not kept:
                return ()
        return tuple(kept)


def clipped(a: Point, b: Point, u: Point, v: Point) -> tuple[Point, Point] | None:
    """Return the part of a line inside a rectangle from u[0] to u[1] and v[0] to v[1], or None.

    Source: Y.-D. Liang and B. A. Barsky, "A new concept and method for line clipping", ACM Transactions on Graphics 3
    (1984).
    """
    (ax, ay), (bx, by) = a, b
    (left, right), (low, high) = u, v
    dx, dy = bx - ax, by - ay
    enter, leave = 0.0, 1.0
    for step, near, far in ((dx, ax - left, right - ax), (dy, ay - low, high - ay)):
        if step > 0:
            first, last = -near / step, far / step
        elif step < 0:
            first, last = far / step, -near / step
        elif near < -EDGE or far < -EDGE:
            return None
        else:
            continue
        enter, leave = max(enter, first), min(leave, last)
    if enter > leave:
        return None
    return ((ax + enter * dx, ay + enter * dy), (ax + leave * dx, ay + leave * dy))


def _cut(points: list[Point], axis: int, limit: float, sign: float) -> list[Point]:
    out: list[Point] = []
    for index, point in enumerate(points):
        before = points[index - 1]
        here, there = sign * (point[axis] - limit), sign * (before[axis] - limit)
        if (here >= 0) != (there >= 0):
            share = there / (there - here)
            out.append((before[0] + share * (point[0] - before[0]), before[1] + share * (point[1] - before[1])))
        if here >= 0:
            out.append(point)
    return out
