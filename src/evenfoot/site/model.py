"""What the site is: ground points, the surface through them, its fall, and what is doubtful about it."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check
from evenfoot.job import kinds


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundPoint:
    """One ground level [mm]; ``sigma`` is its standard deviation."""

    name: str
    x: float
    y: float
    z: float
    sigma: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Ground level z at a place with its standard deviation [mm]; ``basis`` is plane, triangle or beyond (extrapolated)."""

    z: float
    sigma: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """z = z0 + gx x + gy y, fitted by least squares; ``spread`` is the standard deviation of the misfit [mm]."""

    z0: float
    gx: float
    gy: float
    spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """Steepest descent of the fitted plane: ratio [-] and direction, degrees counter-clockwise from +x."""

    ratio: float
    direction_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingError:
    """What one standing of the instrument missed by when the first point was read again [mm]."""

    where: str
    error: float
    allowed: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulReading:
    """A reading that does not agree with all the others [mm]."""

    name: str
    where: str
    found: float
    expected: float
    sigma: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallLine:
    """The house wall: y = y0 + slope x through its offsets, and how far it swings from that line [mm]."""

    y0: float
    slope: float
    swing: float
    furthest_out: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangle:
    """Three ground points by index, counter-clockwise in plan."""

    a: int
    b: int
    c: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The ground under the floor and how well it is known."""

    points: tuple[GroundPoint, ...]
    surface: kinds.Surface
    plane: Plane
    triangles: tuple[Triangle, ...]
    fall: Fall
    closings: tuple[ClosingError, ...]
    doubtful: tuple[DoubtfulReading, ...]
    wall: WallLine | None
    checks: tuple[Check, ...]

    def level(self, x: float, y: float) -> Level:
        """Return the ground level at plan point (x, y) [mm] with its standard deviation."""
        raise NotImplementedError  # the site room fills this in
