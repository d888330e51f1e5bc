"""How the frame lies: its tilt, its twist and its sag, each told apart from the others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.setting.level.survey import Survey
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A mark on the frame: its place [mm], None where not said; how high it should lie [mm]; whether it has a foot."""

    mark: str
    at: tuple[float, float] | None
    planned: float
    is_foot: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    """How far a mark lies above where it should over the mean of the feet [mm], and +- 19 times in 20."""

    mark: str
    off: float
    sure: float
    is_foot: bool
    sag: float | None
    """Between feet: how far it hangs below the feet around it [mm]; None for a foot, or where no place is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tilt:
    """The tilt of the feet as a whole: how it rises to the right and away from the house [mm per mm], +- 19 in 20."""

    right: float
    away: float
    right_sure: float
    away_sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How the frame lies. ``tilt`` is None where fewer than three feet have a place, or all are in one line.

    ``twist`` is how far the feet stand off the plane that runs best through them [mm], the greatest.
    """

    marks: tuple[Off, ...]
    tilt: Tilt | None
    twist: float
    within: float

    @property
    def feet(self) -> tuple[Off, ...]:
        """The marks that have a foot."""
        return tuple(off for off in self.marks if off.is_foot)

    @property
    def spread(self) -> float:
        """From the lowest foot to the highest, each over where it should be [mm]."""
        offs = [off.off for off in self.feet]
        return max(offs) - min(offs)

    @property
    def sure(self) -> float:
        """+- of the least sure foot, 19 times in 20 [mm]."""
        return max(off.sure for off in self.feet)

    @property
    def is_level(self) -> bool:
        """Whether every foot is within the tolerance of one height."""
        return self.spread <= 2 * self.within + 1e-9

    @property
    def is_too_rough(self) -> bool:
        """Whether the instrument is less sure than the tolerance, so that it cannot prove the frame level."""
        return self.sure > self.within

    @property
    def sags(self) -> tuple[Off, ...]:
        """The marks between feet whose sag is known, the deepest first."""
        known = [off for off in self.marks if off.sag is not None]
        return tuple(sorted(known, key=lambda off: -(off.sag or 0.0)))


def lie_of(found: Survey, spots: Mapping[str, Spot], *, within: float) -> Lie:
    """Return how the frame lies by a survey of its marks.

    Feet alone tell tilt and twist; what hangs between them is sag, which no foot cures.
    Source: plane of least squares through the feet; sag against the flat facets between the feet around a mark.
    Args: spots, for each mark of the survey; within, how far a foot may be off [mm].
    """
    feet = [i for i, mark in enumerate(found.marks) if spots[mark].is_foot]
    assert feet, "a survey of a frame reads at least one foot"
    shift = np.eye(len(found.marks))
    shift[:, feet] -= 1.0 / len(feet)
    raised = found.heights - np.array([spots[mark].planned for mark in found.marks])
    off = shift @ raised
    covariance = shift @ found.covariance @ shift.T
    tilt, twist = _tilt([spots[found.marks[i]] for i in feet], off[feet], covariance[np.ix_(feet, feet)])
    sags = _sags(found.marks, spots, off)
    marks = tuple(
        Off(
            mark=mark,
            off=float(off[i]),
            sure=NINETEEN_IN_TWENTY * math.sqrt(max(0.0, float(covariance[i, i]))),
            is_foot=spots[mark].is_foot,
            sag=sags.get(mark),
        )
        for i, mark in enumerate(found.marks)
    )
    return Lie(marks=marks, tilt=tilt, twist=twist, within=within)


def _tilt(feet: Sequence[Spot], off: Array, covariance: Array) -> tuple[Tilt | None, float]:
    places = [spot.at for spot in feet if spot.at is not None]
    if len(places) < len(feet) or len(feet) < 3:
        return None, 0.0
    at = np.array(places)
    middle = at - at.mean(axis=0)
    if np.linalg.svd(middle, compute_uv=False)[1] < 1e-6 * max(1.0, float(np.abs(middle).max())):
        return None, 0.0
    solve = np.linalg.pinv(middle)
    slope = solve @ off
    sigma = np.sqrt(np.clip(np.diag(solve @ covariance @ solve.T), 0.0, None)) * NINETEEN_IN_TWENTY
    left = off - middle @ slope
    tilt = Tilt(right=float(slope[0]), away=float(slope[1]), right_sure=float(sigma[0]), away_sure=float(sigma[1]))
    return tilt, float(np.abs(left - left.mean()).max())


def _sags(marks: Sequence[str], spots: Mapping[str, Spot], off: Array) -> dict[str, float]:
    """Return how far each mark between feet hangs below the facet of feet around it, for marks inside them."""
    placed = [(i, spots[m].at) for i, m in enumerate(marks) if spots[m].at is not None]
    feet = [(i, at) for i, at in placed if spots[marks[i]].is_foot]
    free = [(i, at) for i, at in placed if not spots[marks[i]].is_foot]
    if not free or len(feet) < 2:
        return {}
    from scipy.interpolate import LinearNDInterpolator
    from scipy.spatial import QhullError

    out = {}
    at_feet = np.array([at for _, at in feet], dtype=np.float64)
    heights = off[[i for i, _ in feet]]
    try:
        facets = LinearNDInterpolator(at_feet, heights) if len(feet) > 2 else None
    except QhullError:
        facets = None
    for i, at in free:
        level = float(facets(np.array(at))[0]) if facets is not None else math.nan
        if math.isnan(level):
            level = _between(at_feet, heights, np.array(at))
        if not math.isnan(level):
            out[marks[i]] = level - float(off[i])
    return out


def _between(feet: Array, heights: Array, at: Array) -> float:
    """Return the level on the straight line between the two feet that a mark lies between, nan when on none."""
    for a in range(len(feet)):
        for b in range(a + 1, len(feet)):
            along = feet[b] - feet[a]
            reach = float(along @ along)
            share = float((at - feet[a]) @ along) / reach if reach > 0 else -1.0
            aside = at - feet[a] - share * along
            if 0 < share < 1 and float(np.hypot(*aside)) < 0.02 * math.sqrt(reach):
                return float(heights[a] + share * (heights[b] - heights[a]))
    return math.nan
