"""What a notch leaves of a beam's shear strength, and how deep and long it may be, by North American practice."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

END_SHARE = 1.0 / 4.0
"""Deepest notch at an end, as a share of the depth (NDS 2018, 4.4.3)."""
INNER_SHARE = 1.0 / 6.0
"""Deepest notch elsewhere, outside the middle third of the span (NDS 2018, 4.4.3)."""
LENGTH_SHARE = 1.0 / 3.0
"""Longest notch that leaves the stiffness as it is (NDS 2018, 3.2.3)."""
THICK = 3.5 * 25.4
"""From this width on the pulled side is not notched away from the ends [mm]: 4 in nominal (NDS 2018, 4.4.3)."""


def pulled_area(*, b: float, d: float, d_n: float) -> float:
    """Return b d_n (d_n/d)² [mm²]: two thirds of it times F_v' is V_r', at a support notched on its pulled side.

    Source: NDS 2018, 3.4.3.2(a), eq. 3.4-3.   Valid: b > 0; 0 < d_n <= d.
    Args: b, width; d, depth; d_n, depth left at the notch [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("b", b, unit="mm")
    above("d_n", d_n, unit="mm")
    within("d_n", d_n, high=d, unit="mm")
    return b * d_n * (d_n / d) ** 2


def pressed_area(*, b: float, d: float, d_n: float, e: float) -> float:
    """Return b (d - (d - d_n) e/d_n) [mm²]: two thirds of it times F_v' is V_r', its pressed side notched at a support.

    Source: NDS 2018, 3.4.3.2(d), eq. 3.4-5; beyond e = d_n the area is b d_n.   Valid: b > 0; 0 < d_n <= d; e >= 0.
    Args: b, width; d, depth; d_n, depth left at the notch; e, reach of the notch past the support's edge [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("b", b, unit="mm")
    above("d_n", d_n, unit="mm")
    within("d_n", d_n, high=d, unit="mm")
    return b * (d - (d - d_n) * min(within("e", e, low=0.0, unit="mm"), d_n) / d_n)


def notched_shear(*, F_v: float, area: float) -> float:
    """Return V_r' = 2/3 F_v' A [N].

    Source: NDS 2018, 3.4.3.2.   Valid: F_v > 0; area > 0.
    Args: F_v, adjusted strength in shear [N/mm²]; area, of ``pulled_area`` or ``pressed_area`` [mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 2.0 / 3.0 * above("F_v", F_v, unit="N/mm2") * above("area", area, unit="mm2")


def deepest(*, d: float, b: float, is_end: bool) -> float:
    """Return the deepest notch where the wood is pulled [mm]: d/4 at an end, d/6 elsewhere, none in thick timber there.

    Source: NDS 2018, 4.4.3.   Valid: d > 0; b > 0; elsewhere: outside the middle third of the span.
    Args: d, depth; b, width [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("d", d, unit="mm")
    if is_end:
        return d * END_SHARE
    return 0.0 if above("b", b, unit="mm") >= THICK - 1.0 else d * INNER_SHARE


def longest(*, d: float, is_end: bool) -> float:
    """Return the longest notch [mm]: d/3 away from the ends, without limit at an end.

    Source: NDS 2018, 3.2.3 and 4.4.3.   Valid: d > 0.
    Args: d, depth [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return math.inf if is_end else above("d", d, unit="mm") * LENGTH_SHARE
