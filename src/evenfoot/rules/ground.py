"""What a footing does to the ground: pressure, and how large a base has to be; statics that belongs to no standard."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within


def pressure(*, N: float, W: float, A: float) -> float:
    """Return (N + W) / A [N/mm²], the even pressure under a footing that is loaded in its middle.

    Source: statics.   Valid: N >= 0; W >= 0; A >= 1.
    Args: N, load from the post [N]; W, weight of the footing [N]; A, area of its base [mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("N", N, low=0.0, unit="N")
    within("W", W, low=0.0, unit="N")
    within("A", A, low=1.0, unit="mm2")
    return (N + W) / A


def base_area(*, N: float, q: float, gamma: float = 0.0, t: float = 0.0) -> float:
    """Return N / (q - gamma t) [mm²], the base that a load wants, the weight of the footing itself counted.

    Source: statics; with gamma = 150 pcf it gives the sizes of DCA 6-12, table 4.   Valid: N >= 0; q > gamma t.
    Args: N, load from the post [N]; q, ground value [N/mm²]; gamma, weight of the footing [N/mm³]; t, its
    thickness [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("N", N, low=0.0, unit="N")
    within("gamma", gamma, low=0.0, unit="N/mm3")
    within("t", t, low=0.0, unit="mm")
    net = above("q", q - gamma * t, unit="N/mm2")
    return N / net


def square_side(*, A: float) -> float:
    """Return the side of a square of this area [mm].

    Source: geometry.   Valid: A >= 0.
    Args: A, area [mm²].
    Raises: OutOfRangeError when the area leaves the valid range.
    """
    return math.sqrt(within("A", A, low=0.0, unit="mm2"))


def round_diameter(*, A: float) -> float:
    """Return the diameter of a circle of this area [mm].

    Source: geometry.   Valid: A >= 0.
    Args: A, area [mm²].
    Raises: OutOfRangeError when the area leaves the valid range.
    """
    return math.sqrt(4.0 * within("A", A, low=0.0, unit="mm2") / math.pi)


def bed_modulus(*, q: float) -> float:
    """Return how hard the ground presses back per mm that a footing goes down [N/mm3].

    Source: Bowles, Foundation Analysis and Design, 5th ed. 1996, 9-6, eq. (9-9): 40 SF q_a, which lets a footing sink
    25 mm where the ground would break; recalled, with SF = 3.   Valid: q > 0.
    Args: q, allowable bearing value of the ground [N/mm2].
    Raises: OutOfRangeError when q leaves the valid range.
    """
    above("q", q, unit="N/mm2")
    return 40.0 * 3.0 * q / 1000.0
