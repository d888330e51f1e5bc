"""What a post bears before it buckles, and how slender it may be, in Japanese practice."""

from __future__ import annotations

import math

from evenfoot.rules.japan_2000.ranges import require_above, require_between


def radius_of_gyration(*, b: float, h: float) -> float:
    """Return i = least(b, h) / sqrt(12) [mm].

    Source: geometry.   Valid: b > 0; h > 0.
    Args: b, h, the sides of the section [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("b", b)
    require_above("h", h)
    return min(b, h) / math.sqrt(12.0)


def slenderness(*, l_k: float, i: float) -> float:
    """Return lambda = l_k / i [-].

    Source: Notice 1024 of 2001, 1 (平成13年国土交通省告示第1024号).   Valid: l_k > 0; i > 0.
    Args: l_k, effective length [mm]; i, least radius of gyration [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("l_k", l_k)
    require_above("i", i)
    return l_k / i


def buckling_factor(*, lambda_: float) -> float:
    """Return eta [-]: 1 up to 30, 1.3 - 0.01 lambda up to 100, then 3000 / lambda².

    Source: Notice 1024 of 2001, 1 (平成13年国土交通省告示第1024号); the middle row is proved by a printed example,
    the last one is recalled and not confirmed.
    Valid: lambda_ > 0.
    Args: lambda_, slenderness [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("lambda_", lambda_)
    if lambda_ <= 30.0:
        return 1.0
    if lambda_ <= 100.0:
        return 1.3 - 0.01 * lambda_
    return 3000.0 / (lambda_ * lambda_)


def column_stress(*, N: float, A: float) -> float:
    """Return sigma_c = N / A [N/mm²].

    Source: AIJ timber design standard (木質構造設計規準).
    Valid: N >= 0; A > 0.
    Args: N, axial force, pressing [N]; A, section [mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("N", N, 0.0)
    require_above("A", A)
    return N / A


def allowable_column_stress(*, eta: float, f_c: float) -> float:
    """Return eta f_c [N/mm²].

    Source: Notice 1024 of 2001, 1 (平成13年国土交通省告示第1024号).   Valid: 0 < eta <= 1; f_c > 0.
    Args: eta, buckling factor [-]; f_c, allowable stress along the grain [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("eta", eta)
    require_between("eta", eta, 0.0, 1.0)
    require_above("f_c", f_c)
    return eta * f_c


def pressed_and_bent(*, sigma_c: float, f_k: float, sigma_b: float, f_b: float) -> float:
    """Return sigma_c / f_k + sigma_b / f_b [-], at most 1, of a post that is pressed and bent.

    Source: AIJ timber design standard, compression with bending (木質構造設計規準), recalled.
    Valid: sigma_c >= 0; sigma_b >= 0; f_k > 0; f_b > 0.
    Args: sigma_c, N / A; f_k, allowable column stress eta f_c; sigma_b, M / Z; f_b, allowable stress [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("sigma_c", sigma_c, 0.0)
    require_above("f_k", f_k)
    require_between("sigma_b", sigma_b, 0.0)
    require_above("f_b", f_b)
    return sigma_c / f_k + sigma_b / f_b
