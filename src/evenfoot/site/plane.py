"""Which plane runs best through the ground and which line along the wall, how sure, and how far they are left."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.site.ground import SAME_PLACE
from evenfoot.site.mesh import main_direction
from evenfoot.site.model import Fall, Plane, Row, Trust, WallLine
from evenfoot.site.readings import NINETEEN_IN_TWENTY, Reading
from evenfoot.solvers import LinearFit, excess_sigma, fit_linear
from evenfoot.tables import levels

Array = NDArray[np.float64]

PRIOR_WEIGHT = 4
"""What is known of a kind of ground counts as much as this many spare readings [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """What one kind of ground is like before it is measured.

    ``hollow`` is the standard deviation of what a 2 m straightedge would show [mm]; ``slope`` that of a slope that
    nobody measured [-]; ``is_confirmed`` is False when one of the two was not read in a source.
    """

    hollow: float
    slope: float
    is_confirmed: bool

    @property
    def roughness(self) -> float:
        """Growth of variance with the distance from a reading [mm2 per mm], as of a random walk.

        The middle of a hollow is 1 m from the ends of the straightedge.
        """
        return self.hollow**2 / 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where the readings stand: their middle, main directions, and in how many of them they spread (0, 1 or 2)."""

    middle: Array
    main: Array
    across: Array
    spread_in: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedPlane:
    """The plane with its trust; ``fit`` is the fit in the main directions, ``excess`` the unevenness [mm]."""

    plane: Plane
    trust: Trust
    fit: LinearFit
    excess: float


def prior_of(ground: str) -> Prior:
    """Return what is on record for a kind of ground, as standard deviations.

    Raises: OutOfRangeError (``ground-unknown``).
    """
    kind = levels.ground_kind(ground)
    return Prior(
        hollow=kind.hollow.value / NINETEEN_IN_TWENTY,
        slope=kind.slope.value,
        is_confirmed=kind.hollow.is_confirmed and kind.slope.is_confirmed,
    )


def places_of(readings: Sequence[Reading]) -> Places:
    """Return how the readings lie in plan; within 50 mm of one line they are one line."""
    xy = np.array([(r.x, r.y) for r in readings], dtype=np.float64)
    middle = xy.mean(axis=0)
    main = main_direction(xy)
    across = np.array((-main[1], main[0]))
    reach = [float(np.ptp((xy - middle) @ direction)) for direction in (main, across)]
    return Places(middle=middle, main=main, across=across, spread_in=sum(r > SAME_PLACE for r in reach))


def design_of(readings: Sequence[Reading], places: Places) -> Array:
    """Return a row per reading: 1 and its distances from the middle in the directions they spread in [mm]."""
    apart = np.array([(r.x, r.y) for r in readings], dtype=np.float64) - places.middle
    columns = [np.ones(len(apart)), apart @ places.main, apart @ places.across]
    return np.column_stack(columns[: 1 + places.spread_in])


def fit_plane(readings: Sequence[Reading], prior: Prior) -> FittedPlane:
    """Return the weighted least squares plane; level in any direction in which the readings do not spread.

    The unevenness of the ground adds to every reading's sigma. It is what the misfit shows beyond those sigmas (Paule
    and Mandel) pooled with the kind of ground as ``PRIOR_WEIGHT`` spare readings.
    """
    places = places_of(readings)
    design = design_of(readings, places)
    z = np.array([r.z for r in readings])
    sigmas = np.array([r.sigma for r in readings])
    freedom = len(readings) - design.shape[1]
    shown = excess_sigma(design, z, sigmas=sigmas)
    pooled = (PRIOR_WEIGHT * prior.hollow**2 + freedom * shown**2) / (PRIOR_WEIGHT + freedom)
    fit = fit_linear(design, z, sigmas=np.hypot(sigmas, math.sqrt(pooled)))
    known = np.zeros((2, places.spread_in))
    for k, direction in enumerate((places.main, places.across)[: places.spread_in]):
        known[:, k] = direction
    gx, gy = (float(v) for v in known @ fit.coefficients[1:])
    spread = math.sqrt(float(np.sum(fit.residuals**2)) / freedom) if freedom else 0.0
    z0 = float(fit.coefficients[0]) - gx * float(places.middle[0]) - gy * float(places.middle[1])
    return FittedPlane(
        plane=Plane(z0=z0, gx=gx, gy=gy, spread=spread),
        trust=Trust(
            centre=(float(places.middle[0]), float(places.middle[1])),
            covariance=_in_plan(fit, places, known, prior),
            scatter=math.sqrt(float(np.mean(sigmas**2)) + pooled),
        ),
        fit=fit,
        excess=math.sqrt(pooled),
    )


def _in_plan(fit: LinearFit, places: Places, known: Array, prior: Prior) -> tuple[Row, Row, Row]:
    """Return the covariance of level and slopes along x and y; a slope nobody measured has the prior's variance."""
    turn = np.zeros((3, 1 + places.spread_in))
    turn[0, 0] = 1.0
    turn[1:, 1:] = known
    full = turn @ fit.covariance @ turn.T
    full[1:, 1:] += prior.slope**2 * (np.eye(2) - known @ known.T)
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in full)
    return first, second, third


def fall_of(plane: Plane) -> Fall:
    """Return the steepest descent of the plane; direction 0 when it is level."""
    ratio = math.hypot(plane.gx, plane.gy)
    direction = math.degrees(math.atan2(-plane.gy, -plane.gx)) if ratio > 0 else 0.0
    return Fall(ratio=ratio, direction_deg=direction)


def wall_line(offsets: Sequence[tuple[float, float]]) -> WallLine | None:
    """Return the least squares line through the wall's offsets; None without any, parallel to y = 0 from one place.

    Args: offsets, shape (n, 2), each how far along the wall and how far its face stands out of y = 0 [mm].
    """
    if not offsets:
        return None
    x = np.array([along for along, _ in offsets], dtype=np.float64)
    away = np.array([out for _, out in offsets], dtype=np.float64)
    columns = [np.ones(len(x)), x - x.mean()][: 1 + int(np.ptp(x) > SAME_PLACE)]
    fit = fit_linear(np.column_stack(columns), away, sigmas=np.ones(len(x)))
    slope = float(fit.coefficients[1]) if len(columns) > 1 else 0.0
    return WallLine(
        y0=float(fit.coefficients[0]) - slope * float(x.mean()),
        slope=slope,
        swing=float(np.max(np.abs(fit.residuals))),
        furthest_out=float(np.max(away)),
    )
