"""What a post bears before it buckles, alone and bent, by North American practice."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

SLENDER_MOST = 50.0
"""Greatest l_e/d of a post in place [-] (NDS 2018, 3.7.1.4)."""
C_SAWN = 0.8
"""How crooked sawn timber is taken to be, c [-] (NDS 2018, 3.7.1.5)."""


def slenderness(*, l_e: float, d: float) -> float:
    """Return l_e / d [-].

    Source: NDS 2018, 3.7.1.3; at most 50 in place (3.7.1.4).   Valid: l_e > 0; d > 0.
    Args: l_e, effective length; d, side of the section across which it buckles [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("l_e", l_e, unit="mm") / above("d", d, unit="mm")


def critical_stress(*, E_min: float, slender: float) -> float:
    """Return F_cE = 0.822 E_min' / (l_e/d)² [N/mm²].

    Source: NDS 2018, 3.7.1.5.   Valid: E_min > 0; slender > 0.
    Args: E_min, adjusted modulus for buckling [N/mm²]; slender, l_e/d [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 0.822 * above("E_min", E_min, unit="N/mm2") / above("slender", slender) ** 2


def stability_factor(*, F_cE: float, F_c_star: float, c: float) -> float:
    """Return C_P = (1 + r)/2c - √(((1 + r)/2c)² - r/c) [-] with r = F_cE / F_c*.

    Source: NDS 2018, 3.7.1.5, eq. 3.7-1.   Valid: F_cE > 0; F_c_star > 0; 0.8 <= c <= 0.9.
    Args: F_cE, critical stress; F_c_star, F_c' without C_P [N/mm²]; c, 0.8 for sawn timber [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    r = above("F_cE", F_cE, unit="N/mm2") / above("F_c_star", F_c_star, unit="N/mm2")
    half = (1.0 + r) / (2.0 * within("c", c, low=0.8, high=0.9))
    return half - math.sqrt(half * half - r / c)


def built_up_factor(*, C_P: float, K_f: float) -> float:
    """Return K_f C_P [-] of a post built up of plies that buckles across them.

    Source: NDS 2018, 15.3.2: K_f 0.60 nailed, 0.75 bolted.   Valid: 0 < C_P <= 1; 0.6 <= K_f <= 1.
    Args: C_P, of a solid post [-]; K_f, for the fixings [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("C_P", C_P, high=1.0)
    return above("C_P", C_P) * within("K_f", K_f, low=0.6, high=1.0)


def pressed_and_bent(*, f_c: float, F_c: float, f_b: float, F_b: float, F_cE: float) -> float:
    """Return (f_c/F_c')² + f_b / (F_b' (1 - f_c/F_cE)) [-], at most 1, for bending about one axis.

    Source: NDS 2018, 3.9.2, eq. 3.9-3.   Valid: 0 <= f_c < F_cE; f_b >= 0; F_c, F_b > 0.
    Args: f_c, stress along the grain; F_c, F_c'; f_b, bending stress; F_b, F_b'; F_cE, critical stress about the axis
    of bending [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    pressed = within("f_c", f_c, low=0.0, unit="N/mm2") / above("F_c", F_c, unit="N/mm2")
    above("F_cE - f_c", F_cE - f_c, unit="N/mm2")
    bent = within("f_b", f_b, low=0.0, unit="N/mm2") / above("F_b", F_b, unit="N/mm2")
    return pressed * pressed + bent / (1.0 - f_c / F_cE)


def pressed_beside(*, f_c: float, F_c: float, e_over_d: float, F_b: float, F_cE: float) -> float:
    """Return (f_c/F_c')² + f_c (6 e/d)(1 + 0.234 f_c/F_cE) / (F_b' (1 - f_c/F_cE)) [-], at most 1: a load off centre.

    Source: NDS 2018, 15.4.1, one axis, no other load.   Valid: 0 <= f_c < F_cE; 0 <= e_over_d <= 2; F_c, F_b > 0.
    Args: f_c, F_c, F_b, F_cE, as in ``pressed_and_bent`` [N/mm²]; e_over_d, how far off centre over the depth [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    bend = f_c * 6.0 * within("e_over_d", e_over_d, low=0.0, high=2.0)
    above("F_cE", F_cE, unit="N/mm2")
    return pressed_and_bent(f_c=f_c, F_c=F_c, f_b=bend * (1.0 + 0.234 * f_c / F_cE), F_b=F_b, F_cE=F_cE)
