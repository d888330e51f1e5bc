"""What a post bears before it buckles, pressed alone or bent as well."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

STOCKY = 0.3
"""Relative slenderness up to which a post does not buckle [-]; EN 1995-1-1:2004, 6.3.2(2)."""
K_M = 0.7
"""Share of the lesser bending in a rectangle bent both ways [-]; EN 1995-1-1:2004, 6.1.6(2)."""


def slenderness(*, l_ef: float, side: float) -> float:
    """Return lambda = l_ef / i [-] with i = side / sqrt(12).

    Source: EN 1995-1-1:2004, 6.3.2.   Valid: both > 0.
    Args: l_ef, buckling length; side, the section's size in the direction that it gives way, both [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("l_ef", l_ef, unit="mm") * math.sqrt(12.0) / above("side", side, unit="mm")


def relative_slenderness(*, lambda_: float, f_c_0_k: float, E_0_05: float) -> float:
    """Return lambda_rel = lambda / pi sqrt(f_c,0,k / E_0,05) [-].

    Source: EN 1995-1-1:2004, 6.3.2(1), eq. (6.21), (6.22).   Valid: all > 0.
    Args: lambda_, slenderness [-]; f_c_0_k, strength along the grain; E_0_05, fifth percentile modulus, both [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("lambda_", lambda_)
    share = above("f_c_0_k", f_c_0_k, unit="N/mm2") / above("E_0_05", E_0_05, unit="N/mm2")
    return lambda_ / math.pi * math.sqrt(share)


def instability(*, lambda_rel: float, beta_c: float) -> float:
    """Return k = 0.5 (1 + beta_c (lambda_rel - 0.3) + lambda_rel²) [-].

    Source: EN 1995-1-1:2004, 6.3.2(3), eq. (6.27), (6.28).   Valid: lambda_rel > 0; beta_c >= 0.
    Args: lambda_rel, relative slenderness [-]; beta_c, 0.2 for solid timber [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("lambda_rel", lambda_rel)
    within("beta_c", beta_c, low=0.0)
    return 0.5 * (1.0 + beta_c * (lambda_rel - STOCKY) + lambda_rel * lambda_rel)


def buckling_factor(*, lambda_rel: float, beta_c: float) -> float:
    """Return k_c = 1 / (k + sqrt(k² - lambda_rel²)) [-]; 1 up to lambda_rel = 0.3.

    Source: EN 1995-1-1:2004, 6.3.2(2) and (3), eq. (6.25), (6.26).   Valid: lambda_rel > 0; beta_c >= 0.
    Args: lambda_rel, relative slenderness [-]; beta_c, 0.2 for solid timber [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    k = instability(lambda_rel=lambda_rel, beta_c=beta_c)
    if lambda_rel <= STOCKY:
        return 1.0
    return 1.0 / (k + math.sqrt(k * k - lambda_rel * lambda_rel))


def bent_post(*, pressed: float, bent: float, bent_other: float) -> float:
    """Return how far a post is used that is pressed and bent [-]: the pressing, one bending, and 0.7 of the other.

    Both ways have to be asked, with ``pressed`` and the two bendings of that way.
    Source: EN 1995-1-1:2004, 6.3.2(3), eq. (6.23), (6.24).   Valid: all >= 0.
    Args: pressed, sigma_c,0,d / (k_c f_c,0,d); bent, sigma_m,d / f_m,d of the way with this k_c; bent_other, the same
    of the other way, all [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    for name, value in (("pressed", pressed), ("bent", bent), ("bent_other", bent_other)):
        within(name, value, low=0.0)
    return pressed + bent + K_M * bent_other
