"""How far a beam is sheared, whole, cracked by the weather, and notched at a support."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within


def shear_stress(*, V: float, b: float, h: float, k_cr: float) -> float:
    """Return tau = 1.5 V / (k_cr b h) [N/mm²] of a rectangle.

    Source: EN 1995-1-1:2004/A1:2008, 6.1.7, eq. (6.13a).   Valid: V >= 0; b > 0; h > 0; 0 < k_cr <= 1.
    Args: V, shear force, its size [N]; b, width [mm]; h, depth, or what a notch leaves of it [mm]; k_cr, share of the
    width that cracks leave [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("V", V, low=0.0, unit="N")
    above("k_cr", k_cr)
    within("k_cr", k_cr, high=1.0)
    return 1.5 * V / (k_cr * above("b", b, unit="mm") * above("h", h, unit="mm"))


def notch_factor(*, h: float, h_ef: float, x: float, k_n: float, i: float = 0.0) -> float:
    """Return k_v [-], what a notch on the side of the support leaves of the shear strength of the rest; 1 at most.

    Source: EN 1995-1-1:2004, 6.5.2(2), eq. (6.62).   Valid: 0 < h_ef <= h; x >= 0; k_n > 0; i >= 0.
    Args: h, depth [mm]; h_ef, depth left at the notch [mm]; x, from the line of the support's force to the notch's
    corner [mm]; k_n, 5 for solid timber [-]; i, run of the notch's slope over its rise, 0 when square [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("h", h, unit="mm")
    above("h_ef", h_ef, unit="mm")
    within("h_ef", h_ef, high=h, unit="mm")
    within("x", x, low=0.0, unit="mm")
    above("k_n", k_n)
    within("i", i, low=0.0)
    alpha = h_ef / h
    opening = math.sqrt(alpha * (1.0 - alpha)) + 0.8 * (x / h) * math.sqrt(1.0 / alpha - alpha * alpha)
    if opening == 0.0:
        return 1.0
    slope = 1.0 + 1.1 * math.pow(i, 1.5) / math.sqrt(h)
    return min(1.0, k_n * slope / (math.sqrt(h) * opening))
