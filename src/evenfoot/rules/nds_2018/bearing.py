"""What presses across the grain where timbers lie on each other, by North American practice."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within

_INCH = 25.4


def bearing_stress(*, R: float, b: float, l_b: float) -> float:
    """Return f_c⊥ = R / (b l_b) [N/mm²].

    Source: NDS 2018, 3.10.2.   Valid: R >= 0; b > 0; l_b > 0.
    Args: R, force across the grain [N]; b, width; l_b, length of the bearing along the grain [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return within("R", R, low=0.0, unit="N") / (above("b", b, unit="mm") * above("l_b", l_b, unit="mm"))


def bearing_factor(*, l_b: float, beyond: float) -> float:
    """Return C_b = (l_b + 3/8 in) / l_b [-] of a bearing shorter than 6 in with 3 in or more of wood beyond it, else 1.

    Source: NDS 2018, 3.10.4, eq. 3.10-2.   Valid: l_b > 0; beyond >= 0.
    Args: l_b, length of the bearing along the grain; beyond, wood between it and the end [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("l_b", l_b, unit="mm")
    within("beyond", beyond, low=0.0, unit="mm")
    if l_b >= 6.0 * _INCH or beyond < 3.0 * _INCH:
        return 1.0
    return (l_b + 0.375 * _INCH) / l_b
