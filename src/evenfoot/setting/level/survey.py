"""How high points of the frame lie against each other, by rod readings of an instrument that is not perfect."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY
from evenfoot.solvers import fit_linear

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """How sure a level is, 19 times in 20: ``reading`` [+- mm] each time anew, ``tilt`` of its line [+- mm per mm].

    The tilt is the same all round: it raises every reading by the distance times it.
    """

    reading: float
    tilt: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """One reading [mm] at a mark: ``is_down`` from the line of sight down to it (a rod), else up to it (a level).

    Readings of one ``stand`` share the height of the line of sight. ``away`` is the distance from the instrument.
    """

    stand: str
    mark: str
    value: float
    is_down: bool
    away: float | None = None
    accuracy: float | None = None
    """+- mm, 19 times in 20; None = the instrument's."""
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """The first mark of a stand read again at its end: how far it is off [mm], and how far it may be."""

    stand: str
    mark: str
    error: float
    allowed: float

    @property
    def is_closed(self) -> bool:
        """Whether chance explains the difference; if not, the instrument was moved."""
        return abs(self.error) <= self.allowed


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Survey:
    """Heights of the marks over their mean [mm], up positive, with their covariance, shape (n, n)."""

    marks: tuple[str, ...]
    heights: Array
    covariance: Array
    tilt: float
    """How far the line of sight rises [mm per mm], as the readings tell."""
    tilt_sure: float
    """+- 19 times in 20; what was known of the instrument before when the readings tell nothing."""
    closures: tuple[Closure, ...]

    def sure(self, index: int) -> float:
        """Return +- of one height over the mean, 19 times in 20 [mm]."""
        return NINETEEN_IN_TWENTY * math.sqrt(max(0.0, float(self.covariance[index, index])))

    @property
    def is_closed(self) -> bool:
        """Whether every stand that was closed came back to where it began."""
        return all(closure.is_closed for closure in self.closures)


def survey(sights: Sequence[Sight], instrument: Instrument) -> Survey:
    """Return how high the marks lie, by all readings together.

    One height for each mark, one for each stand's line of sight, one tilt for the instrument that is nothing give or
    take what it is known for: marks read from two places tell it, and marks as far away as each other are free of it.
    A closing difference that chance explains is taken to have crept in evenly.
    Source: least squares; ISO 17123-2:2001 for the level's two-distance test, of which the tilt here is the unknown.
    Raises: OutOfRangeError (``sights-too-few``) for fewer than two marks, or marks that no stand ties together.
    """
    sights, closures = _closed(sights, instrument)
    marks = tuple(dict.fromkeys(s.mark for s in sights))
    stands = tuple(dict.fromkeys(s.stand for s in sights))
    if len(marks) < 2 or not _are_tied(sights):
        raise OutOfRangeError(Fault(where="level", code="sights-too-few", found=", ".join(marks), allowed="≥ 2"))
    n, m = len(marks), len(stands) - 1  # the first stand's line of sight is where heights are counted from
    design, values, sigmas = [], [], []
    for s in sights:
        row = np.zeros(n + m + 1)
        row[marks.index(s.mark)] = 1.0
        if s.stand != stands[0]:
            row[n + stands.index(s.stand) - 1] = -1.0
        row[n + m] = -(s.away or 0.0) if s.is_down else 0.0
        design.append(row)
        values.append(-s.value if s.is_down else s.value)
        sigmas.append((instrument.reading if s.accuracy is None else s.accuracy) / NINETEEN_IN_TWENTY)
    tilt = np.zeros(n + m + 1)
    tilt[n + m] = 1.0
    sigmas.append(max(instrument.tilt, 1e-9) / NINETEEN_IN_TWENTY)
    fit = fit_linear(np.array([*design, tilt]), np.array([*values, 0.0]), sigmas=np.array(sigmas))
    over_mean = np.eye(n) - 1.0 / n
    return Survey(
        marks=marks,
        heights=_frozen(over_mean @ fit.coefficients[:n]),
        covariance=_frozen(over_mean @ fit.covariance[:n, :n] @ over_mean),
        tilt=float(fit.coefficients[n + m]),
        tilt_sure=NINETEEN_IN_TWENTY * math.sqrt(float(fit.covariance[n + m, n + m])),
        closures=closures,
    )


def _closed(sights: Sequence[Sight], instrument: Instrument) -> tuple[list[Sight], tuple[Closure, ...]]:
    """Return the readings with each allowed closing difference shared out, and what closed how."""
    out: list[Sight] = []
    closures = []
    for stand in dict.fromkeys(s.stand for s in sights):
        own = [s for s in sights if s.stand == stand]
        if len(own) > 2 and own[-1].mark == own[0].mark:
            error = own[-1].value - own[0].value
            allowed = math.sqrt(2) * instrument.reading
            closure = Closure(stand=stand, mark=own[0].mark, error=error, allowed=allowed)
            closures.append(closure)
            if closure.is_closed:
                share = error / (len(own) - 1)
                own = [replace(s, value=s.value - share * k) for k, s in enumerate(own)]
        out += own
    return out, tuple(closures)


def _are_tied(sights: Sequence[Sight]) -> bool:
    """Return whether the stands hang together through marks that they share."""
    linked = {sights[0].stand}
    while True:
        marks = {s.mark for s in sights if s.stand in linked}
        more = {s.stand for s in sights if s.mark in marks}
        if more <= linked:
            return linked == {s.stand for s in sights}
        linked |= more


def _frozen(array: Array) -> Array:
    array.setflags(write=False)
    return array
