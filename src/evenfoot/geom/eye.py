"""An eye far away that looks at solids: where it sees a point, and which edges it sees."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.geom.polygon import Point
from evenfoot.geom.solid import Mesh, Point3, Stroke


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """Where the eye is, seen from the solids: azimuth counter-clockwise from x in plan, elevation above level.

    The picture is a parallel projection: equal lengths in one direction stay equal, whatever their distance.
    """

    azimuth_deg: float
    elevation_deg: float

    @property
    def turn(self) -> tuple[Point3, Point3, Point3]:
        """The unit vectors to the right and up in the picture, and from the solids toward the eye."""
        around, above = math.radians(self.azimuth_deg), math.radians(self.elevation_deg)
        c, s = math.cos(around), math.sin(around)
        low, high = math.cos(above), math.sin(above)
        return (-s, c, 0.0), (-high * c, -high * s, low), (low * c, low * s, high)

    def see(self, point: Point3) -> Point:
        """Return where a point stands in the picture [mm, x to the right, y up]."""
        right, up, _ = self.turn
        x, y, z = point
        return (right[0] * x + right[1] * y + right[2] * z, up[0] * x + up[1] * y + up[2] * z)

    def edges(self, meshes: Sequence[Mesh]) -> tuple[Stroke, ...]:
        """Return every piece of an edge of these bodies that no face of any of them hides."""
        import numpy as np

        from evenfoot.geom.hidden import seen_edges

        return seen_edges(meshes, np.array(self.turn))
