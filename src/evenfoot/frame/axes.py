"""The frame's own two directions: along the beams and along the joists, and the tilted plane that it lies in."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.frame.model import Point3
from evenfoot.layout import Axis


def stretch_of(fall: float) -> float:
    """Return true length over plan length along a ``fall`` [-]."""
    return math.sqrt(1.0 + fall * fall)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """The plane of the frame's tops: z = top_at_wall - fall y [mm]."""

    top_at_wall: float
    fall: float

    @property
    def stretch(self) -> float:
        """True length over plan length of a timber along y; plumb over square thickness [-]."""
        return stretch_of(self.fall)

    def top(self, y: float, below: float = 0.0) -> float:
        """Return the level z at distance y from the wall, ``below`` mm under the tops, square to the plane [mm]."""
        return self.top_at_wall - self.fall * y - below * self.stretch


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """Frame rectangle in its own coordinates: ``b`` along the beams, ``j`` along the joists [mm]."""

    joist_axis: Axis
    b: tuple[float, float]
    j: tuple[float, float]
    plane: Plane

    @property
    def beam_axis(self) -> Axis:
        """The direction that beams run in."""
        return Axis.Y if self.joist_axis is Axis.X else Axis.X

    def xy(self, b: float, j: float) -> tuple[float, float]:
        """Return plan coordinates of a place given along beams and along joists."""
        return (b, j) if self.joist_axis is Axis.Y else (j, b)

    def point(self, b: float, j: float, below: float = 0.0) -> Point3:
        """Return the point of the plane ``below`` mm under the tops at (b, j)."""
        x, y = self.xy(b, j)
        return (x, y, self.plane.top(y, below))

    def along(self, axis: Axis, distance: float) -> float:
        """Return the true length of a plan ``distance`` along ``axis`` [mm]."""
        return distance * self.plane.stretch if axis is Axis.Y else distance
