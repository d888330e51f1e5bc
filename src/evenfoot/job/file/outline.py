"""Whether the corners of a floor make one simple shape."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from evenfoot.errors import Fault

Corner = tuple[Fraction, Fraction]

SMALLEST_FLOOR = 10_000
"""mm2; a floor as small as a hand is a slip of the pen."""


def outline_faults(corners: Sequence[Corner]) -> list[Fault]:
    """Return what keeps the corners [mm] from being one simple shape; paths are relative to the list."""
    if len(corners) < 3:
        return [Fault(where="", code="too-few", found=str(len(corners)), allowed="3")]
    doubled = _doubled(corners)
    if doubled:
        return doubled
    crossing = _crossing(corners)
    if crossing:
        return crossing
    area = abs(doubled_area(corners)) / 2
    if area < SMALLEST_FLOOR:
        return [
            Fault(where="", code="outline-no-area", found=f"{float(area):g} mm2", allowed=f"≥ {SMALLEST_FLOOR} mm2")
        ]
    return []


def doubled_area(corners: Sequence[Corner]) -> Fraction:
    """Return twice the area [mm2]; negative when the corners run clockwise."""
    turned = [*corners[1:], corners[0]]
    return sum((a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, turned, strict=True)), Fraction(0))


def _doubled(corners: Sequence[Corner]) -> list[Fault]:
    first: dict[Corner, int] = {}
    faults: list[Fault] = []
    for index, corner in enumerate(corners):
        if corner in first:
            faults.append(Fault(where=f"[{index}]", code="outline-corner-twice", allowed=f"[{first[corner]}]"))
        else:
            first[corner] = index
    return faults


def _crossing(corners: Sequence[Corner]) -> list[Fault]:
    """Return the first edge that meets another one, named by the corner that it starts from."""
    count = len(corners)
    edges = [(corners[i], corners[(i + 1) % count]) for i in range(count)]
    for j in range(1, count):
        for i in range(j):
            meets = _folds(edges[i], edges[j]) if j == i + 1 else False
            if j == count - 1 and i == 0:
                meets = _folds(edges[j], edges[i])
            elif j > i + 1:
                meets = _meet(edges[i], edges[j])
            if meets:
                return [Fault(where=f"[{j}]", code="outline-crosses", allowed=f"[{i}]")]
    return []


def _side(a: Corner, b: Corner, c: Corner) -> Fraction:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folds(first: tuple[Corner, Corner], second: tuple[Corner, Corner]) -> bool:
    """Return whether the second edge runs back along the first, whose end it starts from."""
    (a, b), (_, c) = first, second
    ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _side(a, b, c) == 0 and ahead < 0


def _meet(first: tuple[Corner, Corner], second: tuple[Corner, Corner]) -> bool:
    (a, b), (c, d) = first, second
    for axis in (0, 1):
        if max(a[axis], b[axis]) < min(c[axis], d[axis]) or max(c[axis], d[axis]) < min(a[axis], b[axis]):
            return False
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0
