"""Whether the corners of a floor make one simple shape."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from evenfoot.errors import Fault

Corner = tuple[Fraction, Fraction]
Wrong = tuple[str, int, int]
"""A code, the corner that it is about, and the other corner that it concerns."""

SMALLEST_FLOOR = 10_000
"""mm2; a floor as small as a hand is a slip of the pen."""


def outline_faults(corners: Sequence[Corner], say: Callable[[Fraction], str]) -> list[Fault]:
    """Return what keeps the corners [mm] from being one simple shape; paths are relative to the list.

    ``say`` writes a length in the unit of the file.
    """
    if len(corners) < 3:
        return [Fault(where="", code="too-few", found=str(len(corners)), allowed="3")]
    wrong = _doubled(corners) or _crossing(corners)
    if wrong:
        return [_fault(code, corners, say, index=index, other=other) for code, index, other in wrong]
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


def _fault(code: str, corners: Sequence[Corner], say: Callable[[Fraction], str], *, index: int, other: int) -> Fault:
    found = ", ".join(say(figure) for figure in corners[index])
    return Fault(where=f"[{index}]", code=code, found=found, allowed=f"[{other}]")


def _doubled(corners: Sequence[Corner]) -> list[Wrong]:
    first: dict[Corner, int] = {}
    faults: list[Wrong] = []
    for index, corner in enumerate(corners):
        if corner in first:
            faults.append(("outline-corner-twice", index, first[corner]))
        else:
            first[corner] = index
    return faults


def _crossing(corners: Sequence[Corner]) -> list[Wrong]:
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
                return [("outline-crosses", j, i)]
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
