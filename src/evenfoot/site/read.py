"""What the ground does, from the readings of the job and its log."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenfoot.checks import Check, Verdict, compare
from evenfoot.errors import at
from evenfoot.job import Log, SiteSpec, kinds
from evenfoot.site.doubt import Doubts, find_doubts
from evenfoot.site.ground import Ground
from evenfoot.site.model import GroundPoint, Triangle
from evenfoot.site.plane import PRIOR_WEIGHT, FittedPlane, Prior, fall_of, fit_plane, places_of, prior_of, wall_line
from evenfoot.site.readings import Reading, take_readings
from evenfoot.site.suspects import Web
from evenfoot.site.triangulate import triangulate
from evenfoot.solvers import chi_squared_limit

POOR_FIT = 0.01
"""Share of sound surveys of a true plane in which chance alone makes the plane look wrong [-]."""


def read_ground(site: SiteSpec, log: Log) -> Ground:
    """Return the ground under the floor: surface, fall, closing errors, doubtful readings, wall line and findings.

    A doubtful reading is named, not left out: only a new reading at its place takes it away.
    Raises: JobFileError (``accuracy-not-positive``, ``no-level-readings``, ``level-without-place``).
    """
    with at(site.where):
        prior = prior_of(site.ground)
    survey = take_readings(site, log)
    readings = survey.readings
    fitted = fit_plane(readings, prior)
    doubts = find_doubts(readings, site.surface, prior)
    spread_in = places_of(readings).spread_in
    corners = triangulate([(r.x, r.y) for r in readings]) if spread_in == 2 else ()
    checks = [*survey.checks, _enough(len(readings), spread_in), *doubts.checks]
    is_plane = site.surface is kinds.Surface.PLANE
    if is_plane:
        checks += _plane_fit(readings, fitted, doubts, prior)
    return Ground(
        points=tuple(GroundPoint(name=r.name, x=r.x, y=r.y, z=r.z, sigma=r.sigma, where=r.where) for r in readings),
        surface=site.surface,
        plane=fitted.plane,
        triangles=tuple(Triangle(a=a, b=b, c=c) for a, b, c in corners),
        fall=fall_of(fitted.plane),
        closings=survey.closings,
        doubtful=doubts.readings,
        wall=wall_line([(o.x, o.out) for o in site.wall]),
        checks=tuple(checks),
        trust=fitted.trust if is_plane else replace(fitted.trust, roughness=roughness_of(readings, prior)),
    )


def roughness_of(readings: Sequence[Reading], prior: Prior) -> float:
    """Return how fast the variance grows with the distance from the nearest reading [mm2 per mm].

    Each reading is compared with the plane through its neighbours; what it is off by beyond the sigmas of the readings,
    over its distance from them, is the ground's own. The median is taken, so that a bad reading does not count, and
    pooled with the kind of ground as ``PRIOR_WEIGHT`` spare readings.
    """
    web = Web(readings, prior)
    squares = []
    for k in web.links:
        predicted = web.predict(k)
        if predicted is None:
            continue
        weights, distances, around = predicted
        misfit = readings[k].z - sum(w * readings[j].z for w, j in zip(weights, around, strict=True))
        own = readings[k].sigma ** 2
        own += sum((w * readings[j].sigma) ** 2 for w, j in zip(weights, around, strict=True))
        reach = float(np.sum(np.abs(weights) * distances))
        # 0.4549: median of chi-squared with one degree of freedom.
        squares.append((float(misfit) ** 2 / 0.4549 - own) / reach)
    spare = max(0, len(squares) - 3)
    shown = max(0.0, float(np.median(squares))) if spare else 0.0
    return (PRIOR_WEIGHT * prior.roughness + spare * shown) / (PRIOR_WEIGHT + spare)


def _enough(count: int, spread_in: int) -> Check:
    """Return whether the readings prove a slope both ways: three span it, a fourth proves it."""
    reason = "" if count >= 4 else "none-spare"
    if spread_in < 2:
        reason = "one-reading" if spread_in == 0 else "in-a-line"
    return Check(
        subject="site",
        rule="enough-readings",
        verdict=Verdict.NOT_CHECKED if reason else Verdict.OK,
        demand=4.0,
        capacity=float(count),
        ratio=4.0 / count,
        unit="-",
        reason=reason,
        remedy="read-more" if reason else "",
        facts=(("count", count),),
    )


def _plane_fit(readings: Sequence[Reading], fitted: FittedPlane, doubts: Doubts, prior: Prior) -> list[Check]:
    """Return whether the readings that are not doubted lie on a plane as well as such a ground should."""
    doubted = {d.where for d in doubts.readings}
    sound = [r for r in readings if r.where not in doubted]
    fit = (fit_plane(sound, prior) if doubted else fitted).fit
    if fit.freedom == 0:
        return []
    squares = float(np.mean([r.sigma**2 for r in sound])) + prior.hollow**2
    return [
        compare(
            subject="site",
            rule="plane-fit",
            demand=math.sqrt(float(np.sum(fit.residuals**2)) / fit.freedom),
            capacity=math.sqrt(squares * chi_squared_limit(share=POOR_FIT, freedom=fit.freedom) / fit.freedom),
            unit="mm",
            source="",
            remedy="use-triangles",
            confirmed=prior.is_confirmed,
        )
    ]
