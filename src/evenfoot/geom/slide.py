"""Where an outline goes when its outermost edge is moved: neighbours keep their direction and grow or shrink."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.geom.polygon import Point, box_of, is_simple


def has_edge_at(points: Sequence[Point], *, y: float, within: float) -> bool:
    """Return whether an edge of the outline lies at height ``y`` (both ends at most ``within`` from it)."""
    ends = zip(points, (*points[1:], points[0]), strict=True)
    return any(abs(a[1] - y) <= within and abs(b[1] - y) <= within for a, b in ends)


def slide_edges(points: Sequence[Point], *, y: float, to: float, within: float) -> tuple[Point, ...] | None:
    """Return the outline with every edge at height ``y`` moved to height ``to``; None when that cannot be done.

    Corners move along the edges that lead away, so that no other edge turns. It cannot be done when there is no such
    edge, when the outline would cross itself, or when some other corner still reaches past ``to``.
    """
    if not has_edge_at(points, y=y, within=within):
        return None
    at = [abs(point[1] - y) <= within for point in points]
    n = len(points)
    moved: list[Point] = []
    for i, point in enumerate(points):
        before, after = (i - 1) % n, (i + 1) % n
        if not at[i] or not (at[before] or at[after]):
            moved.append(point)
        elif at[before] and at[after]:
            moved.append((point[0], to))
        else:
            moved.append(_along(points[after if at[before] else before], point, to))
    below, above = box_of(points), box_of(moved)
    is_top = y - below.y0 > below.y1 - y
    reached = above.y1 if is_top else above.y0
    return tuple(moved) if abs(reached - to) <= within and is_simple(moved) else None


def _along(start: Point, end: Point, y: float) -> Point:
    """Return the point at height ``y`` on the line from ``start`` through ``end``; upright lines keep x exactly."""
    if start[0] == end[0]:
        return end[0], y
    return end[0] + (end[0] - start[0]) * (y - end[1]) / (end[1] - start[1]), y
