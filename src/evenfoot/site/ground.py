"""How high the ground stands at any place, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from evenfoot.checks import Check
from evenfoot.job import kinds
from evenfoot.site.mesh import Mesh
from evenfoot.site.model import (
    ClosingError,
    DoubtfulReading,
    Fall,
    GroundPoint,
    Level,
    Plane,
    Triangle,
    Trust,
    WallLine,
)

_AT_ONCE = 512
"""So many places are looked at together; keeps memory small where there are many readings."""
SAME_PLACE = 50.0
"""Two readings this near to each other stand at one place, and a place this near to readings is among them [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The ground under the floor and how well it is known.

    ``triangles`` is empty when the readings lie in one line; then the surface follows the line and is level across it,
    as the plane is, with a sigma that says how little is known there.
    """

    points: tuple[GroundPoint, ...]
    surface: kinds.Surface
    plane: Plane
    triangles: tuple[Triangle, ...]
    fall: Fall
    closings: tuple[ClosingError, ...]
    doubtful: tuple[DoubtfulReading, ...]
    wall: WallLine | None
    checks: tuple[Check, ...]
    trust: Trust = field(default_factory=Trust)
    _mesh: Mesh = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Make the arrays once; there is no ground without a reading."""
        assert self.points, "a ground needs at least one reading"
        object.__setattr__(self, "_mesh", Mesh(self.points, self.triangles))

    def level(self, x: float, y: float) -> Level:
        """Return the ground level at plan point (x, y) [mm] with its standard deviation.

        Plane: the fitted plane; sigma from its covariance and the scatter of one more reading about it.
        Triangles: linear between three readings; variance from their own sigmas and ``roughness`` times the distance
        to the nearest reading. Beyond the readings: the surface at the nearest point that they enclose, carried on with
        the slope of the fitted plane, each step out counting as three. Why: docs/decisions/020-ground-surface.md.
        """
        spot = self._mesh.spot(x, y)
        is_beyond = spot.off > SAME_PLACE
        if self.surface is kinds.Surface.PLANE:
            variance = self.trust.plane_variance(x, y) + self.trust.scatter**2
            basis = "beyond" if is_beyond else "plane"
            return Level(z=self.plane.at(x, y), sigma=math.sqrt(variance), basis=basis)
        dx, dy = x - spot.x, y - spot.y
        z, variance = self.plane.gx * dx + self.plane.gy * dy, self.trust.slope_variance(dx, dy)
        for index, weight in zip(spot.indices, spot.weights, strict=True):
            z += weight * self.points[index].z
            variance += (weight * self.points[index].sigma) ** 2
        variance += self.trust.roughness * (spot.nearest + 3 * spot.off)
        inside = "triangle" if self.triangles else "line"
        return Level(z=z, sigma=math.sqrt(variance), basis="beyond" if is_beyond else inside)

    def heights(self, places: Sequence[tuple[float, float]]) -> tuple[float, ...]:
        """Return the ground level at many plan points (x, y) [mm] at once: the very numbers that ``level`` gives."""
        if self.surface is kinds.Surface.PLANE:
            return tuple(self.plane.at(x, y) for x, y in places)
        out: list[float] = []
        levels = np.array([p.z for p in self.points])
        for first in range(0, len(places), _AT_ONCE):
            here = np.array(places[first : first + _AT_ONCE], dtype=np.float64)
            spots = self._mesh.spots(here)
            dx, dy = (here - spots.foot).T
            z = self.plane.gx * dx + self.plane.gy * dy
            for k in range(3):
                z = z + spots.weights[:, k] * levels[spots.indices[:, k]]
            out += z.tolist()
        return tuple(out)

    def beyond(self, x: float, y: float) -> float:
        """Return how far plan point (x, y) lies outside the outermost readings [mm]; 0 among them."""
        off = self._mesh.spot(x, y).off
        return off if off > SAME_PLACE else 0.0
