"""How a floor swings under a step: lowest frequency, sag under a person, and speed of the kick.

Written for floors of dwellings above 8 Hz; the standard does not ask it of outdoor floors.
"""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within

DAMPING = 0.01
"""Modal damping of a timber floor [-]; EN 1995-1-1:2004, 7.3.1(3)."""
LOWEST = 8.0
"""Lowest frequency for which the rules hold [Hz]; EN 1995-1-1:2004, 7.3.3(1)."""


def lowest_frequency(*, l_m: float, EI_l: float, m: float) -> float:
    """Return f_1 = pi / (2 l²) sqrt((EI)_l / m) [Hz] of a floor on two supports.

    Source: EN 1995-1-1:2004, 7.3.3(4), eq. (7.5).   Valid: all > 0.
    Args: l_m, span [m]; EI_l, stiffness along the span for each metre of width [N m²/m]; m, mass [kg/m²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("l_m", l_m, unit="m")
    return math.pi / (2.0 * l_m * l_m) * math.sqrt(above("EI_l", EI_l, unit="N m2/m") / above("m", m, unit="kg/m2"))


def modes_below_40(*, f_1: float, b_m: float, l_m: float, EI_l: float, EI_b: float) -> float:
    """Return n_40 = (((40 / f_1)² - 1) (b / l)⁴ (EI)_l / (EI)_b)^0.25 [-], the number of modes below 40 Hz.

    Source: EN 1995-1-1:2004, 7.3.3(5), eq. (7.7).   Valid: 0 < f_1 <= 40; others > 0; (EI)_b < (EI)_l.
    Args: f_1 [Hz]; b_m, l_m, width and span of the floor [m]; EI_l, EI_b, stiffness along and across the span for each
    metre [N m²/m].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("f_1", f_1, unit="Hz")
    within("f_1", f_1, high=40.0, unit="Hz")
    shape = above("b_m", b_m, unit="m") / above("l_m", l_m, unit="m")
    above("EI_b", EI_b, unit="N m2/m")
    within("EI_b", EI_b, high=above("EI_l", EI_l, unit="N m2/m"), unit="N m2/m")
    return math.pow(((40.0 / f_1) ** 2 - 1.0) * shape**4 * EI_l / EI_b, 0.25)


def kick_speed(*, n_40: float, m: float, b_m: float, l_m: float) -> float:
    """Return v = 4 (0.4 + 0.6 n_40) / (m b l + 200) [m/s for each N s].

    Source: EN 1995-1-1:2004, 7.3.3(5), eq. (7.6).   Valid: n_40 >= 0; others > 0.
    Args: n_40 [-]; m, mass [kg/m²]; b_m, l_m, width and span of the floor [m].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("n_40", n_40, low=0.0)
    mass = above("m", m, unit="kg/m2") * above("b_m", b_m, unit="m") * above("l_m", l_m, unit="m")
    return 4.0 * (0.4 + 0.6 * n_40) / (mass + 200.0)


def kick_limit(*, b: float, f_1: float) -> float:
    """Return b^(f_1 zeta - 1) [m/s for each N s], the most that the kick may be.

    Source: EN 1995-1-1:2004, 7.3.3(2), eq. (7.4).   Valid: 50 <= b <= 150; f_1 > 8.
    Args: b, 120 for a floor of middling comfort [-]; f_1 [Hz].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("b", b, low=50.0, high=150.0)
    above("f_1", f_1, low=LOWEST, unit="Hz")
    return math.pow(b, f_1 * DAMPING - 1.0)
