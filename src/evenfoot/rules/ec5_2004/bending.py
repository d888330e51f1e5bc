"""How far a beam is bent, and what its strength loses where it may turn over sideways."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within


def section_modulus(*, b: float, h: float) -> float:
    """Return W = b h² / 6 [mm³].

    Source: geometry.   Valid: b > 0; h > 0.
    Args: b, width [mm]; h, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("b", b, unit="mm") * above("h", h, unit="mm") ** 2 / 6.0


def bending_stress(*, M: float, W: float) -> float:
    """Return sigma_m = M / W [N/mm²].

    Source: EN 1995-1-1:2004, 6.1.6.   Valid: M >= 0; W > 0.
    Args: M, bending moment, its size [N mm]; W, section modulus [mm³].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return within("M", M, low=0.0, unit="N mm") / above("W", W, unit="mm3")


def effective_length(*, l: float, h: float) -> float:  # noqa: E741 - the standard's symbol
    """Return l_ef = 0.9 l + 2 h [mm] of a beam loaded evenly on the edge that is pressed.

    Source: EN 1995-1-1:2004, table 6.1, simply supported, evenly loaded; the safe side for a load at mid-span (0.8 l)
    and for overhangs (0.5 l and 0.8 l).   Valid: l > 0; h > 0.
    Args: l, length between the places that hold the beam upright [mm]; h, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 0.9 * above("l", l, unit="mm") + 2.0 * above("h", h, unit="mm")


def critical_stress(*, b: float, h: float, l_ef: float, E_0_05: float) -> float:
    """Return sigma_m,crit = 0.78 b² E_0,05 / (h l_ef) [N/mm²] of a rectangle.

    Source: EN 1995-1-1:2004, 6.3.3(2), eq. (6.32); written for softwood.   Valid: all > 0.
    Args: b, width; h, depth; l_ef, effective length, all [mm]; E_0_05, fifth percentile modulus [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("b", b, unit="mm")
    above("E_0_05", E_0_05, unit="N/mm2")
    return 0.78 * b * b * E_0_05 / (above("h", h, unit="mm") * above("l_ef", l_ef, unit="mm"))


def relative_slenderness(*, f_m_k: float, sigma_m_crit: float) -> float:
    """Return lambda_rel,m = sqrt(f_m,k / sigma_m,crit) [-].

    Source: EN 1995-1-1:2004, 6.3.3(2), eq. (6.30).   Valid: both > 0.
    Args: f_m_k, bending strength; sigma_m_crit, critical stress, both [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return math.sqrt(above("f_m_k", f_m_k, unit="N/mm2") / above("sigma_m_crit", sigma_m_crit, unit="N/mm2"))


def lateral_factor(*, lambda_rel_m: float) -> float:
    """Return k_crit [-]: 1 up to 0.75, 1.56 - 0.75 lambda up to 1.4, then 1 / lambda².

    Source: EN 1995-1-1:2004, 6.3.3(4), eq. (6.34).   Valid: lambda_rel_m > 0.
    Args: lambda_rel_m, relative slenderness for bending [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("lambda_rel_m", lambda_rel_m)
    if lambda_rel_m <= 0.75:
        return 1.0
    if lambda_rel_m <= 1.4:
        return 1.56 - 0.75 * lambda_rel_m
    return 1.0 / (lambda_rel_m * lambda_rel_m)
