"""How a plane is read along a chosen direction, tilted or not: turning points there and back."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from evenfoot.geom.polygon import Point

_RIGHT_ANGLES = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), -90.0: (0.0, -1.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Turns plan points (x, y) into (u along, v across) and back.

    The plane may tilt about the x axis: a true length along y is ``stretch`` times its plan. u and v are true lengths.
    """

    cos: float
    sin: float
    stretch: float

    def local(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return plan points as (u, v)."""
        c, s, k = self.cos, self.sin, self.stretch
        return tuple((x * c + k * y * s, k * y * c - x * s) for x, y in points)

    def plan(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return (u, v) points in plan."""
        c, s, k = self.cos, self.sin, self.stretch
        return tuple((u * c - v * s, (u * s + v * c) / k) for u, v in points)


def heading(direction_deg: float, *, slope: float = 0.0) -> Heading:
    """Return the heading of ``direction_deg`` (degrees counter-clockwise from +x, in the tilted plane).

    Right angles are exact. ``slope`` is rise over run along y [-]; true lengths along y are sqrt(1 + slope^2) plan.
    """
    angle = math.radians(direction_deg)
    cos, sin = _RIGHT_ANGLES.get(direction_deg, (math.cos(angle), math.sin(angle)))
    return Heading(cos=cos, sin=sin, stretch=math.hypot(1.0, slope))
