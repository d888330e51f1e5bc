"""What is known of the site: ground points, plane, fall, wall line, and what is doubtful about them."""

from __future__ import annotations

from dataclasses import dataclass

Row = tuple[float, float, float]


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
    """Ground level z at a place with its standard deviation [mm].

    ``basis`` is ``plane``, ``triangle``, ``line`` (between readings that all lie in one line) or ``beyond``
    (carried on past the outermost readings).
    """

    z: float
    sigma: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """z = z0 + gx x + gy y, fitted by least squares; ``spread`` is the standard deviation of the misfit [mm].

    ``spread`` is 0 when no reading is spare, and then it proves nothing.
    """

    z0: float
    gx: float
    gy: float
    spread: float

    def at(self, x: float, y: float) -> float:
        """Return the level of the plane at (x, y) [mm]."""
        return self.z0 + self.gx * x + self.gy * y


@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """How well the surface is known away from the readings.

    ``covariance`` is that of the fitted plane's level at ``centre`` [mm2] and of its slopes gx, gy.
    ``scatter`` is the standard deviation of one more reading about the plane [mm].
    ``roughness`` is how fast the variance grows with the distance from the nearest reading [mm2 per mm]; a plane does
    without.
    """

    centre: tuple[float, float] = (0.0, 0.0)
    covariance: tuple[Row, Row, Row] = ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    scatter: float = 0.0
    roughness: float = 0.0

    def plane_variance(self, x: float, y: float) -> float:
        """Return the variance of the fitted plane at (x, y) [mm2]."""
        lever = (1.0, x - self.centre[0], y - self.centre[1])
        return sum(
            p * q * c for p, row in zip(lever, self.covariance, strict=True) for q, c in zip(lever, row, strict=True)
        )

    def slope_variance(self, dx: float, dy: float) -> float:
        """Return the variance of the plane's rise over a step (dx, dy) [mm2]."""
        (_, _, _), (_, xx, xy), (_, _, yy) = self.covariance
        return dx * dx * xx + 2 * dx * dy * xy + dy * dy * yy


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """Steepest descent of the fitted plane: ratio [-] and direction, degrees counter-clockwise from +x."""

    ratio: float
    direction_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingError:
    """What one standing of the instrument missed by when the first point was read again [mm].

    ``is_shared_out`` says whether the readings were corrected for it, in the order in which they were taken.
    """

    where: str
    error: float
    allowed: float
    is_shared_out: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulReading:
    """A reading that does not agree with all the others: levels found and expected there [mm].

    ``sigma`` is the standard deviation of their difference. ``cause`` is a code (``slip-100``, ``slip-1000``, ``sign``,
    ``swapped-digits``) where one single classic slip explains it, else empty.
    """

    name: str
    where: str
    found: float
    expected: float
    sigma: float
    cause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallLine:
    """The house wall: y = y0 + slope x through its offsets.

    ``swing`` is how far the wall leaves that line at most, either way; ``furthest_out`` is the greatest offset from
    y = 0 [mm].
    """

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
