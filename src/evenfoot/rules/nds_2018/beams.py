"""How a beam is stressed, and what tipping over sideways leaves of its strength, by North American practice."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

RB_MOST = 50.0
"""Greatest slenderness of a beam [-] (NDS 2018, 3.3.3.7)."""


def section_modulus(*, b: float, d: float) -> float:
    """Return S = b d² / 6 [mm³].

    Source: NDS 2018, 3.3.2.   Valid: b > 0; d > 0.
    Args: b, width; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("b", b, unit="mm") * above("d", d, unit="mm") ** 2 / 6.0


def bending_stress(*, M: float, S: float) -> float:
    """Return f_b = M / S [N/mm²].

    Source: NDS 2018, 3.3.2, eq. 3.3-2.   Valid: M >= 0; S > 0.
    Args: M, bending moment, its size [N mm]; S, section modulus [mm³].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return within("M", M, low=0.0, unit="N mm") / above("S", S, unit="mm3")


def shear_stress(*, V: float, b: float, d: float) -> float:
    """Return f_v = 3 V / (2 b d) [N/mm²].

    Source: NDS 2018, 3.4.2, eq. 3.4-2.   Valid: V >= 0; b > 0; d > 0.
    Args: V, shear force, its size [N]; b, width; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 1.5 * within("V", V, low=0.0, unit="N") / (above("b", b, unit="mm") * above("d", d, unit="mm"))


def length_even(*, l_u: float, d: float) -> float:
    """Return l_e [mm] of a single span under an even load: 1.63 l_u + 3 d, or 2.06 l_u below l_u/d = 7.

    Source: NDS 2018, table 3.3.3.   Valid: l_u > 0; d > 0.
    Args: l_u, length without side support; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _length(l_u, d, long=1.63, short=2.06)


def length_middle(*, l_u: float, d: float) -> float:
    """Return l_e [mm] of a single span with a load at its middle: 1.37 l_u + 3 d, or 1.80 l_u below l_u/d = 7.

    Source: NDS 2018, table 3.3.3, no side support at the load.   Valid: l_u > 0; d > 0.
    Args: l_u, length without side support; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _length(l_u, d, long=1.37, short=1.80)


def length_overhang_even(*, l_u: float, d: float) -> float:
    """Return l_e [mm] of an overhang under an even load: 0.90 l_u + 3 d, or 1.33 l_u below l_u/d = 7.

    Source: NDS 2018, table 3.3.3.   Valid: l_u > 0; d > 0.
    Args: l_u, length without side support; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _length(l_u, d, long=0.90, short=1.33)


def length_overhang_tip(*, l_u: float, d: float) -> float:
    """Return l_e [mm] of an overhang with a load at its tip: 1.44 l_u + 3 d, or 1.87 l_u below l_u/d = 7.

    Source: NDS 2018, table 3.3.3.   Valid: l_u > 0; d > 0.
    Args: l_u, length without side support; d, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _length(l_u, d, long=1.44, short=1.87)


def slenderness(*, l_e: float, d: float, b: float) -> float:
    """Return R_B = √(l_e d / b²) [-].

    Source: NDS 2018, 3.3.3.6, eq. 3.3-5; at most 50 (3.3.3.7).   Valid: l_e > 0; d > 0; b > 0; R_B <= 50.
    Args: l_e, effective length; d, depth; b, width [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    ratio = math.sqrt(above("l_e", l_e, unit="mm") * above("d", d, unit="mm")) / above("b", b, unit="mm")
    return within("R_B", ratio, high=RB_MOST)


def critical_stress(*, E_min: float, R_B: float) -> float:
    """Return F_bE = 1.20 E_min' / R_B² [N/mm²].

    Source: NDS 2018, 3.3.3.8.   Valid: E_min > 0; 0 < R_B <= 50.
    Args: E_min, adjusted modulus for buckling [N/mm²]; R_B, slenderness [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("R_B", R_B, high=RB_MOST)
    return 1.20 * above("E_min", E_min, unit="N/mm2") / above("R_B", R_B) ** 2


def stability_factor(*, F_bE: float, F_b_star: float) -> float:
    """Return C_L = (1 + r)/1.9 - √(((1 + r)/1.9)² - r/0.95) [-] with r = F_bE / F_b*.

    Source: NDS 2018, 3.3.3.8, eq. 3.3-6.   Valid: F_bE > 0; F_b_star > 0.
    Args: F_bE, critical stress; F_b_star, F_b' without C_L and C_fu [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    r = above("F_bE", F_bE, unit="N/mm2") / above("F_b_star", F_b_star, unit="N/mm2")
    half = (1.0 + r) / 1.9
    return half - math.sqrt(half * half - r / 0.95)


def _length(l_u: float, d: float, *, long: float, short: float) -> float:
    above("l_u", l_u, unit="mm")
    above("d", d, unit="mm")
    return long * l_u + 3.0 * d if l_u / d >= 7.0 else short * l_u
