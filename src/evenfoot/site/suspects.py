"""How far each reading stands off what all the others say, in standard deviations, by plane or by neighbours."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.site.plane import PRIOR_WEIGHT, Prior, design_of, places_of
from evenfoot.site.readings import Reading
from evenfoot.site.triangulate import triangulate
from evenfoot.solvers import fit_linear, steadiest_part, students_t_limit

Array = NDArray[np.float64]

ALARM = 0.01
"""Share of sound surveys in which chance alone makes a reading look doubtful [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One of ``count`` readings against all others: its level minus theirs and the standard deviation of that [mm].

    ``freedom`` is how many spare readings, the kind of ground included, that standard deviation was learned from.
    """

    index: int
    misfit: float
    sigma: float
    count: int
    freedom: int

    @property
    def stand_off(self) -> float:
        """How many standard deviations it stands off [-]."""
        return abs(self.misfit) / self.sigma

    @property
    def allowed(self) -> float:
        """Furthest that it may stand off [mm]: the worst of ``count`` oversteps it in ``ALARM`` of all surveys.

        Source: Student's t with the Bonferroni bound, R. Cook and S. Weisberg, 1982, section 2.2.2.
        """
        return students_t_limit(share=ALARM / self.count, freedom=self.freedom) * self.sigma

    @property
    def is_doubtful(self) -> bool:
        """Whether it stands off further than chance allows."""
        return abs(self.misfit) > self.allowed


def against_plane(readings: Sequence[Reading], prior: Prior) -> tuple[Suspect, ...]:
    """Return every reading against the plane through the others that agree; none when no reading is spare.

    It starts with the half that agrees best and takes in the nearest of the rest as long as they are within chance (one
    at a time, of large surveys a fiftieth), so that two bad readings cannot hide each other. The scatter is that of the
    sound readings, pooled with the kind of ground.
    Source: A. Atkinson and M. Riani, Robust Diagnostic Regression Analysis, 2000, chapter 2 (forward search);
    D. Cook and S. Weisberg, Residuals and Influence in Regression, 1982, section 2.2 (deleted residuals).
    """
    design = design_of(readings, places_of(readings))
    z = np.array([r.z for r in readings])
    sigmas = np.array([math.hypot(r.sigma, prior.hollow) for r in readings])
    if len(readings) <= design.shape[1]:
        return ()
    sound = steadiest_part(design, z, sigmas=sigmas)
    while True:
        suspects = _against(design, z, sigmas, sound)
        outside = [s for s in suspects if not sound[s.index]]
        if not outside:
            return suspects
        nearest = sorted(outside, key=lambda s: s.stand_off)[: max(1, len(readings) // _STEPS)]
        limit = nearest[0].allowed / nearest[0].sigma
        if nearest[0].stand_off > limit:
            return suspects
        for one in nearest:
            sound[one.index] |= one.stand_off <= limit


def _against(design: Array, z: Array, sigmas: Array, sound: NDArray[np.bool_]) -> tuple[Suspect, ...]:
    fit = fit_linear(design[sound], z[sound], sigmas=sigmas[sound])
    freedom = PRIOR_WEIGHT + fit.freedom
    misfit = z - design @ fit.coefficients
    spread = np.sqrt(sigmas**2 + np.einsum("ij,jk,ik->i", design, fit.covariance, design))
    squares = np.full(len(z), fit.misfit_squares)
    misfit[sound], spread[sound] = fit.deleted_residuals, fit.deleted_sigmas
    squares[sound] = fit.deleted_misfit_squares
    freedoms = np.where(sound, freedom - 1, freedom)
    sigma = spread * np.sqrt((PRIOR_WEIGHT + squares) / freedoms)
    return tuple(
        Suspect(index=k, misfit=float(misfit[k]), sigma=float(sigma[k]), count=len(z), freedom=int(freedoms[k]))
        for k in range(len(z))
        if math.isfinite(misfit[k])
    )


def against_neighbours(readings: Sequence[Reading], prior: Prior) -> tuple[Suspect, ...]:
    """Return every reading against the plane through its neighbours; none for fewer than six or when all are in a line.

    How far neighbours agree is taken from the readings themselves, the greater of the median and the tenth worst of a
    hundred, without the one that is judged: ground that is rough everywhere makes no reading doubtful.
    """
    web = Web(readings, prior)
    if len(readings) < _FEWEST or not web.links:
        return ()
    own = {k: web.compare(k) for k in range(len(readings))}
    ratios = {k: found[0] / found[1] for k, found in own.items() if found is not None}
    suspects = []
    for k in sorted(ratios, key=lambda k: -abs(ratios[k]))[:_CLOSER_LOOKS]:
        found = own[k]
        assert found is not None, "only compared readings have a ratio"
        left = web.without(k)
        again = {j: left.compare(j) for j in web.links[k]}
        others = {j: r for j, r in ratios.items() if j != k} | {j: a[0] / a[1] for j, a in again.items() if a}
        scale, freedom = _agreement(list(others.values()))
        sigma = found[1] * scale
        suspects.append(Suspect(index=k, misfit=found[0], sigma=sigma, count=len(readings), freedom=freedom))
    return tuple(suspects)


_FEWEST = 6
_STEPS = 50
_CLOSER_LOOKS = 3
_TAIL_SHOWS = 20


def stands_alone(readings: Sequence[Reading], suspect: Suspect, prior: Prior) -> bool:
    """Return whether a reading that misses the plane misses its neighbours too, at least half as far, the same way.

    If not the ground itself leaves the plane there. True as well where the neighbours cannot tell.
    """
    found = Web(readings, prior).compare(suspect.index) if len(readings) >= _FEWEST else None
    return found is None or found[0] / suspect.misfit >= 0.5


def _agreement(ratios: Sequence[float]) -> tuple[float, int]:
    """Return by what the expected misfits must be multiplied, pooled with the kind of ground, and its freedom.

    Ground with hummocks has more far misfits than a normal scatter. With enough readings to show it, the limit is
    carried out along the tail that the median and the 90 % point of the misfits m span, P(|m| > u) = exp(-(u/c)^k).
    """
    squares = np.array(ratios) ** 2
    median, ninetieth = float(np.median(squares)), float(np.quantile(squares, 0.9))
    # 0.4549 and 2.706: median and 90 % point of chi-squared with one degree of freedom.
    shown = max(median / 0.4549, ninetieth / 2.706)
    if len(squares) >= _TAIL_SHOWS and ninetieth * 0.4549 > median * 2.706 > 0:
        reach = math.log(math.log(len(squares) / ALARM) / math.log(10)) / math.log(math.log(10) / math.log(2))
        shown *= (ninetieth * 0.4549 / (median * 2.706)) ** reach
    spare = max(0, len(squares) - 3)
    return math.sqrt((PRIOR_WEIGHT + spare * shown) / (PRIOR_WEIGHT + spare)), PRIOR_WEIGHT + spare


class Web:
    """Readings and who is whose neighbour in the triangles."""

    def __init__(
        self, readings: Sequence[Reading], prior: Prior, links: dict[int, frozenset[int]] | None = None
    ) -> None:
        """Link the corners of every triangle, unless the links are given."""
        self.readings = readings
        self.prior = prior
        self.links = _links(readings) if links is None else links

    def without(self, gone: int) -> Web:
        """Return the web with one reading left out and its neighbours joined to each other."""
        around = self.links[gone]
        kept = {k: (near | around) - {gone, k} if k in around else near for k, near in self.links.items() if k != gone}
        return Web(self.readings, self.prior, kept)

    def compare(self, k: int) -> tuple[float, float] | None:
        """Return reading k minus the plane through its neighbours and the standard deviation expected of that [mm].

        None when its neighbours, and theirs, lie in one line. The ground between adds roughness times distance to each.
        """
        predicted = self.predict(k) if k in self.links else None
        if predicted is None:
            return None
        weights, distances, around = predicted
        z = np.array([self.readings[j].z for j in around])
        own = self.readings[k]
        sigmas = np.array([self.readings[j].sigma for j in around])
        variance = own.sigma**2 + float(np.sum((weights * sigmas) ** 2))
        variance += self.prior.roughness * float(np.sum(np.abs(weights) * distances))
        return own.z - float(weights @ z), math.sqrt(variance)

    def predict(self, k: int) -> tuple[Array, Array, tuple[int, ...]] | None:
        """Return the weights of the neighbours' levels at reading k, their distances [mm], and who they are."""
        near = self.links[k]
        wider = frozenset().union(*(self.links[j] for j in near)) - {k} | near
        for around in (near, wider):
            at = [self.readings[j] for j in sorted(around)]
            if len(at) >= 3 and places_of(at).spread_in == 2:
                apart = np.array([(r.x - self.readings[k].x, r.y - self.readings[k].y) for r in at])
                distances = np.hypot(apart[:, 0], apart[:, 1])
                design = np.column_stack([np.ones(len(at)), apart])
                sigmas = np.sqrt(np.array([r.sigma for r in at]) ** 2 + self.prior.roughness * distances)
                fit = fit_linear(design, np.zeros(len(at)), sigmas=sigmas)
                weights = fit.covariance[0] @ (design / sigmas[:, None] ** 2).T
                return weights, distances, tuple(sorted(around))
        return None


def _links(readings: Sequence[Reading]) -> dict[int, frozenset[int]]:
    links: dict[int, set[int]] = {}
    if places_of(readings).spread_in < 2:
        return {}
    for corners in triangulate([(r.x, r.y) for r in readings]):
        for k in corners:
            links.setdefault(k, set()).update(set(corners) - {k})
    return {k: frozenset(near) for k, near in links.items()}
