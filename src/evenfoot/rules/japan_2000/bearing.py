"""What presses across the grain where timbers lie on each other, and how much wood must be left under a seat."""

from __future__ import annotations

from evenfoot.rules.japan_2000.ranges import require_above, require_between


def bearing_stress(*, N: float, A_b: float) -> float:
    """Return sigma_cv = N / A_b [N/mm²].

    Source: AIJ timber design standard, bearing (木質構造設計規準).
    Valid: N >= 0; A_b > 0.
    Args: N, force across the grain [N]; A_b, net contact [mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("N", N, 0.0)
    require_above("A_b", A_b)
    return N / A_b


def is_end_bearing(*, beyond: float, h: float, reach: float) -> bool:
    """Return whether a bearing counts as at the end: less wood beyond it than ``reach`` depths.

    Source: rule of thumb to the institute's end and middle values (木質構造設計規準), not confirmed.
    Valid: beyond >= 0; h > 0; reach > 0.
    Args: beyond, free length past the contact [mm]; h, depth of the member [mm]; reach, 1 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("beyond", beyond, 0.0)
    require_above("h", h)
    require_above("reach", reach)
    return beyond < reach * h


def wood_under_seat(*, N: float, least: float, heavy: float, N_heavy: float) -> float:
    """Return the least depth of wood under a seat cut into a beam's side [mm].

    Source: published column on seats of beams: 30 mm, and 60 mm for 4 kN.
    Valid: N >= 0; least > 0; heavy >= least; N_heavy > 0.
    Args: N, load on the seat [N]; least, 30 [mm]; heavy, 60 [mm]; N_heavy, 4000 [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("N", N, 0.0)
    require_above("least", least)
    require_between("heavy", heavy, least)
    require_above("N_heavy", N_heavy)
    return heavy if N_heavy <= N else least


def slanting_strength(*, f_c: float, f_cv: float, angle_deg: float) -> float:
    """Return the allowable stress at an angle to the grain [N/mm²]: f_c to 10 degrees, f_cv from 70, straight between.

    Source: Notice 1024 of 2001, 1 (平成13年国土交通省告示第1024号), recalled.
    Valid: f_c >= f_cv > 0; 0 <= angle_deg <= 90.
    Args: f_c, allowable stress along the grain; f_cv, across it [N/mm²]; angle_deg, of the force to the grain [°].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("f_cv", f_cv)
    require_between("f_c", f_c, f_cv)
    require_between("angle_deg", angle_deg, 0.0, 90.0)
    share = min(max((angle_deg - 10.0) / 60.0, 0.0), 1.0)
    return f_c + share * (f_cv - f_c)
