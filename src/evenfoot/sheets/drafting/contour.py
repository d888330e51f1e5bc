"""Lines of equal level over a surface: marching squares on an even grid, pieces joined end to end."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import ceil, floor

from evenfoot.sheets.drafting.view import Point

CELLS = 40
"""Cells of the grid along the longer side."""
MOST = 9
"""At most so many lines are drawn."""
ROUND = (1.0, 2.0, 5.0)
"""Steps in the unit of a metric rule."""
HALVES = (1.0, 2.0, 4.0)
"""Steps in the unit of an inch rule."""

Span = tuple[float, float]


def step_between(low: float, high: float, *, unit: float, is_inch: bool) -> float:
    """Return a round step of level [mm] that gives at most nine lines; ``unit`` is the smallest step [mm]."""
    choice, power = HALVES if is_inch else ROUND, 1.0
    while True:
        for one in choice:
            if (high - low) / (one * power * unit) <= MOST:
                return one * power * unit
        power *= 8.0 if is_inch else 10.0


def level_lines(
    levels: Callable[[Sequence[Point]], Sequence[float]], u: Span, v: Span, step: float
) -> tuple[tuple[float, tuple[Point, ...]], ...]:
    """Return lines of equal level, each with its level [mm], over a rectangle; levels are multiples of ``step``.

    ``levels`` gives the levels of the surface [mm] at plan points. It is taken as straight along the sides of the
    cells; a level that just touches a corner is passed over.
    """
    size = max(u[1] - u[0], v[1] - v[0]) / CELLS
    xs, ys = _places(u, size), _places(v, size)
    flat = levels([(x, y) for y in ys for x in xs])
    heights = [flat[k : k + len(xs)] for k in range(0, len(flat), len(xs))]
    out: list[tuple[float, tuple[Point, ...]]] = []
    for k in range(ceil(min(flat) / step), floor(max(flat) / step) + 1):
        pieces = list(_pieces(heights, xs, ys, k * step + 1e-7))
        out += [(k * step, line) for line in _joined(pieces)]
    return tuple(out)


def _places(span: Span, size: float) -> list[float]:
    count = max(2, round((span[1] - span[0]) / size))
    return [span[0] + (span[1] - span[0]) * k / count for k in range(count + 1)]


def _pieces(
    heights: list[Sequence[float]], xs: list[float], ys: list[float], wanted: float
) -> Iterator[tuple[Point, Point]]:
    """Yield the straight piece (two where the surface is a saddle) of one level in every cell that it crosses."""
    is_above = [[z > wanted for z in row] for row in heights]
    for j, (y0, y1) in enumerate(pairwise(ys)):
        near, far = is_above[j], is_above[j + 1]
        for i, (x0, x1) in enumerate(pairwise(xs)):
            if near[i] is near[i + 1] is far[i] is far[i + 1]:
                continue
            corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
            zs = (heights[j][i], heights[j][i + 1], heights[j + 1][i + 1], heights[j + 1][i])
            found = [
                _between(corners[k], corners[(k + 1) % 4], (zs[k] - wanted) / (zs[k] - zs[(k + 1) % 4]))
                for k in range(4)
                if (zs[k] > wanted) != (zs[(k + 1) % 4] > wanted)
            ]
            yield from zip(found[::2], found[1::2], strict=True)


def _between(a: Point, b: Point, share: float) -> Point:
    # Both cells beside a side must find the very same point: always reckon from the lower corner.
    if b < a:
        a, b, share = b, a, 1.0 - share
    return (round(a[0] + share * (b[0] - a[0]), 6), round(a[1] + share * (b[1] - a[1]), 6))


def _joined(pieces: list[tuple[Point, Point]]) -> Iterator[tuple[Point, ...]]:
    """Yield the pieces strung together into lines."""
    at: defaultdict[Point, list[int]] = defaultdict(list)
    for number, ends in enumerate(pieces):
        for end in ends:
            at[end].append(number)
    is_used = [False] * len(pieces)
    starts = sorted(range(len(pieces)), key=lambda n: min(len(at[e]) for e in pieces[n]))
    for first in starts:
        if is_used[first]:
            continue
        a, b = pieces[first]
        line = [a, b] if len(at[a]) == 1 else [b, a]
        is_used[first] = True
        while (after := next((n for n in at[line[-1]] if not is_used[n]), None)) is not None:
            is_used[after] = True
            a, b = pieces[after]
            line.append(b if a == line[-1] else a)
        yield tuple(line)
