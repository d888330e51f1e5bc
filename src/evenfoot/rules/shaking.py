"""How fast a floor swings by itself; physics that belongs to no standard."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

GRAVITY = 9806.65
"""Standard gravity [mm/s²]. Source: CGPM 1901, resolution 2."""


def rayleigh_frequency(*, work: float, motion: float) -> float:
    """Return f = sqrt(work / motion) / 2 pi [Hz], at or above the lowest frequency.

    Loads p that lower the floor by w do the work ``sum p w``; ``motion`` is the sum of m w² with the masses m. With p
    in step with the shape of the swing itself the answer is exact.

    Source: Lord Rayleigh, The Theory of Sound, vol. 1, 1877, par. 88.   Valid: work > 0; motion > 0.
    Args: work, [N mm]; motion [kg mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("work", work, unit="N mm")
    above("motion", motion, unit="kg mm2")
    # A newton is 1000 kg mm/s².
    return math.sqrt(1000.0 * work / motion) / (2.0 * math.pi)


def mass(*, weight: float) -> float:
    """Return the mass of a weight [kg].

    Source: standard gravity.   Valid: weight >= 0.
    Args: weight [N].
    Raises: OutOfRangeError when the weight leaves the valid range.
    """
    return within("weight", weight, low=0.0, unit="N") * 1000.0 / GRAVITY
