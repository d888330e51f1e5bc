"""How lines are set out square from the house: the triangle of the right size, and a line along a crooked wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.setting.square.model import Tape


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangle:
    """A right angle by three lengths [mm]: along the house, away from it, and across from end to end.

    ``sure`` is how far the line's far end may stand off, +- mm, 19 times in 20.
    """

    along: float
    away: float
    across: float
    sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOut:
    """How to set out a frame from the house: by a triangle, and by the whole rectangle's diagonal, the surer one."""

    width: float
    depth: float
    triangle: Triangle
    whole: Triangle


def set_out(*, width: float, depth: float, tape: Tape, step: float) -> SetOut:
    """Return the largest 3-4-5 triangle in whole steps that fits a frame, and the frame's own diagonal.

    Source: Euclid I.47; the far end's error follows from x = (a^2 + b^2 - c^2) / 2a, each reading by itself.
    Args: width, along the house, and depth, away from it [mm], > 0; step, such as 100 mm or a foot, that the three
    lengths are whole multiples of (a tenth of it where the frame has no room) [mm].
    Raises: OutOfRangeError (``size-unfit``).
    """
    if not (width > 0 and depth > 0 and math.isfinite(width) and math.isfinite(depth)):
        raise OutOfRangeError(
            Fault(where="size", code="size-unfit", found=f"{width:g} x {depth:g} mm", allowed="> 0 mm")
        )
    return SetOut(
        width=width,
        depth=depth,
        triangle=_triangle(width, depth, tape, step),
        whole=Triangle(
            along=width, away=depth, across=math.hypot(width, depth), sure=_far_end(width, depth, depth, tape)
        ),
    )


def _triangle(width: float, depth: float, tape: Tape, step: float) -> Triangle:
    """Return the 3-4-5 triangle whose far line is surest, legs either way round."""
    while 3 * step > min(width, depth) or 4 * step > max(width, depth):
        step /= 10
    fits = []
    for a, b in ((3, 4), (4, 3)):
        size = math.floor(min(width / a, depth / b) / step + 1e-9) * step
        if size > 0:
            sure = _far_end(a * size, b * size, depth, tape)
            fits.append(Triangle(along=a * size, away=b * size, across=5 * size, sure=sure))
    return min(fits, key=lambda one: (one.sure, one.along))


def _far_end(along: float, away: float, depth: float, tape: Tape) -> float:
    """Return how far the end of a line of ``depth`` may stand off when its right angle is set by a triangle."""
    across = math.hypot(along, away)
    at_leg = tape.reading * math.sqrt(across**2 + away**2 + along**2) / along
    return at_leg * max(1.0, depth / away)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPoint:
    """At x along the wall its face stands ``out`` from a straight line, outward positive [mm]."""

    x: float
    out: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallLine:
    """The straight line to set out from along a wall that is not straight [mm].

    It runs with the wall as a whole and just touches where the wall stands out most. ``at_first`` and ``at_last`` are
    how far it stands out from the line the readings were taken from, at the first and last of them; ``gaps`` the clear
    space behind it at each reading.
    """

    points: tuple[WallPoint, ...]
    at_first: float
    at_last: float
    gaps: tuple[float, ...]
    touches: int
    """Index of the reading where wall and line touch."""

    @property
    def widest(self) -> float:
        """The widest gap behind the line [mm]."""
        return max(self.gaps)


def wall_line(points: Sequence[WallPoint]) -> WallLine:
    """Return the line along a wall by readings of its face, in the order of x.

    Source: best straight line through the readings, moved out until the wall is nowhere before it.
    Raises: OutOfRangeError (``wall-too-few``) for fewer than two places along the wall.
    """
    ordered = tuple(sorted(points, key=lambda p: p.x))
    if len({p.x for p in ordered}) < 2:
        raise OutOfRangeError(Fault(where="wall", code="wall-too-few", found=str(len(ordered)), allowed=">= 2"))
    mean_x, mean_out = (math.fsum(v) / len(ordered) for v in ([p.x for p in ordered], [p.out for p in ordered]))
    slope = math.fsum((p.x - mean_x) * (p.out - mean_out) for p in ordered) / math.fsum(
        (p.x - mean_x) ** 2 for p in ordered
    )
    proud = [p.out - slope * (p.x - mean_x) for p in ordered]
    touches = max(range(len(ordered)), key=lambda i: (proud[i], -i))
    level = proud[touches]
    return WallLine(
        points=ordered,
        at_first=level + slope * (ordered[0].x - mean_x),
        at_last=level + slope * (ordered[-1].x - mean_x),
        gaps=tuple(level - p for p in proud),
        touches=touches,
    )
