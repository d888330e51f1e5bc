"""How likely a floor is to rock before it is built, and how tight cutting must be that it hardly ever does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from evenfoot.setting.posts.floating import FloatArray, FloatingFrame
from evenfoot.setting.posts.standing import Footing
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY

WANTED = 0.95
"""How often the floor is to be steady [-]."""
_PLACES = 32
"""Places that a person is set on in a simulation; the outermost ones first."""
_HALVINGS = 7
_WIDEST = 8.0
"""Cutting more than this many times coarser than it is now is not looked for [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """Standard deviations of one post's errors [mm]: reading the gap, and cutting."""

    gap: float
    cut: float

    @property
    def both(self) -> float:
        """Standard deviation of the clearance that comes of them [mm]."""
        return float(np.hypot(self.gap, self.cut))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sample:
    """One floor to be simulated: its errors, the limit of its rock [mm], the person on it [N].

    ``normals`` are standard normal numbers, shape (samples, n): the same ones give the same odds.
    """

    footing: Footing
    errors: Errors
    limit: float
    person: float
    normals: FloatArray

    def rocks(self, clearance: FloatArray) -> FloatArray:
        """Return the rock of each of many floors with these clearances, shape (samples, n) [mm]."""
        return rocks(self.footing, clearance, person=self.person)


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """How often a floor rocks more than ``limit`` [mm], of ``samples`` simulated ones.

    ``chance`` lies between ``low`` and ``high``, 19 times in 20, for want of more samples [-]. ``rock_typical`` is
    what half of them stay under, ``rock_bad`` what 19 in 20 stay under [mm].
    """

    limit: float
    chance: float
    low: float
    high: float
    rock_typical: float
    rock_bad: float
    samples: int
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightness:
    """How tight cutting must be that the floor is steady 19 times in 20: +- mm, 19 times in 20.

    ``cut`` is None where not even perfect cutting is enough, because the gaps are not read well enough; ``both`` then
    says how well gaps must be read and posts cut alike; it is None where no error at all is allowed.
    """

    cut: float | None
    both: float | None


def odds_of_rocking(sample: Sample) -> Odds:
    """Return how often the floor rocks more than the limit when every post is cut from a gap over the jacks."""
    rock = sample.rocks(sample.errors.both * sample.normals)
    return odds_of(rock, limit=sample.limit, places=len(outermost(sample.footing.frame, _PLACES)))


def odds_of(rock: FloatArray, *, limit: float, places: int) -> Odds:
    """Return the odds that simulated rocks [mm] show; the interval is Wilson's.

    Source: E. B. Wilson, Probable inference, the law of succession, and statistical inference, JASA 22 (1927).
    """
    count = len(rock)
    share, z2 = float(np.mean(rock > limit)), NINETEEN_IN_TWENTY**2
    middle = (share + z2 / (2 * count)) / (1 + z2 / count)
    reach = NINETEEN_IN_TWENTY * np.sqrt(share * (1 - share) / count + z2 / (4 * count**2)) / (1 + z2 / count)
    return Odds(
        limit=limit,
        chance=share,
        low=max(0.0, float(middle - reach)),
        high=min(1.0, float(middle + reach)),
        rock_typical=float(np.quantile(rock, 0.5)),
        rock_bad=float(np.quantile(rock, WANTED)),
        samples=count,
        places=places,
    )


def how_tight(sample: Sample) -> Tightness:
    """Return how tight cutting must be for a floor that is steady 19 times in 20, by the same simulated errors."""
    errors = sample.errors

    def is_enough(sigma: float) -> bool:
        return bool(np.mean(sample.rocks(sigma * sample.normals) <= sample.limit) >= WANTED)

    allowed = _last_enough(is_enough, _WIDEST * errors.both)
    if allowed is None:
        return Tightness(cut=None, both=None)
    if allowed > errors.gap:
        return Tightness(cut=float(NINETEEN_IN_TWENTY * np.sqrt(allowed**2 - errors.gap**2)), both=None)
    return Tightness(cut=None, both=float(NINETEEN_IN_TWENTY * allowed / np.sqrt(2.0)))


def _last_enough(is_enough: Callable[[float], bool], most: float) -> float | None:
    """Return the greatest error up to ``most`` that is small enough, by halving; None where none is."""
    if is_enough(most):
        return most
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if is_enough(middle) else (low, middle)
    return low if low > 0.0 else None


def rocks(footing: Footing, clearance: FloatArray, *, person: float) -> FloatArray:
    """Return the rock of each of many floors [mm], walked at their outermost places.

    Args: clearance, shape (samples, n) [mm]; person [N].
    """
    frame = footing.frame
    places = outermost(frame, _PLACES)
    now = footing.stand(clearance, np.broadcast_to(frame.own, clearance.shape))
    low, high, guess = now.gap, now.gap, now.is_touching
    for k in places:
        load = frame.own + person * frame.walked_load[k]
        at = footing.stand(clearance, np.broadcast_to(load, clearance.shape), guess)
        low, high = np.fmin(low, at.gap), np.fmax(high, at.gap)
    return np.asarray((high - low).max(axis=1))


def outermost(frame: FloatingFrame, count: int) -> list[int]:
    """Return up to ``count`` places spread as far from each other as can be, the outermost first."""
    at = frame.walked_at
    if len(at) <= count:
        return list(range(len(at)))
    away = np.hypot(*(at - at.mean(axis=0)).T)
    chosen = [int(np.argmax(np.round(away, 6)))]
    nearest = np.hypot(*(at - at[chosen[0]]).T)
    while len(chosen) < count:
        chosen.append(int(np.argmax(np.round(nearest, 6))))
        nearest = np.minimum(nearest, np.hypot(*(at - at[chosen[-1]]).T))
    return chosen
