"""How far apart and how near an edge nails and thin screws may sit by EN 1995-1-1:2004, and what they hold."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within

DENSEST_BARE = 500.0
"""Above this characteristic density holes are always bored [kg/m3]; Source: EN 1995-1-1:2004, 8.3.1.1(2), recalled."""


def _grain(alpha: float) -> tuple[float, float]:
    within("alpha", alpha, low=-math.pi, high=math.pi, unit="rad")
    return abs(math.cos(alpha)), abs(math.sin(alpha))


def _is_light(d: float, rho_k: float, *, is_predrilled: bool) -> bool:
    """Return whether the timber counts as light; guards the range of table 8.2."""
    within("d", d, low=1.0, high=8.0, unit="mm")
    within("rho_k", rho_k, low=100.0, high=math.inf if is_predrilled else DENSEST_BARE, unit="kg/m3")
    return rho_k <= 420.0


def spacing_along(*, d: float, rho_k: float, is_predrilled: bool, alpha: float = 0.0) -> float:
    """Return the least spacing a1 along the grain [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3]; alpha, angle of the force to the grain [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    cos, _ = _grain(alpha)
    if is_predrilled:
        return (4.0 + cos) * d
    if is_light:
        return (5.0 + (5.0 if d < 5.0 else 7.0) * cos) * d
    return (7.0 + 8.0 * cos) * d


def spacing_across(*, d: float, rho_k: float, is_predrilled: bool, alpha: float = 0.0) -> float:
    """Return the least spacing a2 of rows across the grain [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3]; alpha, angle of the force to the grain [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    _, sin = _grain(alpha)
    if is_predrilled:
        return (3.0 + sin) * d
    return (5.0 if is_light else 7.0) * d


def end_loaded(*, d: float, rho_k: float, is_predrilled: bool, alpha: float = 0.0) -> float:
    """Return the least distance a3t to an end that the force points to [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3]; alpha, angle of the force to the grain [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    cos, _ = _grain(alpha)
    if is_predrilled:
        return (7.0 + 5.0 * cos) * d
    return ((10.0 if is_light else 15.0) + 5.0 * cos) * d


def end_unloaded(*, d: float, rho_k: float, is_predrilled: bool) -> float:
    """Return the least distance a3c to an end that no force points to [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    if is_predrilled:
        return 7.0 * d
    return (10.0 if is_light else 15.0) * d


def edge_loaded(*, d: float, rho_k: float, is_predrilled: bool, alpha: float) -> float:
    """Return the least distance a4t to an edge that the force points to [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3]; alpha, angle of the force to the grain [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    _, sin = _grain(alpha)
    is_thin = d < 5.0
    if is_predrilled:
        return (3.0 + (2.0 if is_thin else 4.0) * sin) * d
    return ((5.0 if is_light else 7.0) + (2.0 if is_thin else 5.0) * sin) * d


def edge_unloaded(*, d: float, rho_k: float, is_predrilled: bool) -> float:
    """Return the least distance a4c to an edge that no force points to [mm].

    Source: EN 1995-1-1:2004, table 8.2 (ids ec5_lvl, ec5_sheets).   Valid: 1 <= d <= 8; rho_k <= 500 where not bored.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    is_light = _is_light(d, rho_k, is_predrilled=is_predrilled)
    if is_predrilled:
        return 3.0 * d
    return (5.0 if is_light else 7.0) * d


def thickness_bare(*, d: float, rho_k: float) -> float:
    """Return the least thickness of timber that may be nailed without a pilot hole [mm].

    Source: EN 1995-1-1:2004, 8.3.1.2(6), eq. (8.18) (id ec5_sheets).   Valid: 1 <= d <= 8; rho_k > 0.
    Args: d, diameter [mm]; rho_k, characteristic density [kg/m3].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("d", d, low=1.0, high=8.0, unit="mm")
    within("rho_k", rho_k, low=100.0, unit="kg/m3")
    return max(7.0 * d, (13.0 * d - 30.0) * rho_k / 400.0)


def nail_withdrawal(*, d: float, d_h: float, t_pen: float, t: float, rho_k: float) -> float:
    """Return the characteristic withdrawal of a smooth nail driven across the grain [N].

    Reduced between 8 d and 12 d of penetration, nothing below 8 d. Not for permanent or long axial load.
    Source: EN 1995-1-1:2004, 8.3.2, eq. (8.24) to (8.26) (id ec5_sheets).   Valid: rho_k 100 to 1200; sizes above 0.
    Args: d, shank [mm]; d_h, head [mm]; t_pen, penetration into the second timber [mm]; t, thickness under the head
    [mm]; rho_k, characteristic density [kg/m3].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("rho_k", rho_k, low=100.0, high=1200.0, unit="kg/m3")
    for name, size in (("d", d), ("d_h", d_h), ("t_pen", t_pen), ("t", t)):
        within(name, size, low=0.0, unit="mm")
    f_ax, f_head = 20e-6 * rho_k**2, 70e-6 * rho_k**2
    f_ax *= min(1.0, max(0.0, t_pen / (4.0 * d) - 2.0))
    return min(f_ax * d * t_pen, f_ax * d * t + f_head * d_h**2)


def screw_withdrawal(*, d: float, l_ef: float, rho_k: float, alpha: float) -> float:
    """Return the characteristic withdrawal of one wood screw [N].

    Source: EN 1995-1-1:2004/A1:2008, 8.7.2, eq. (8.38) to (8.40) (id ec5_sheets).   Valid: 6 <= d <= 12; alpha from
    30 to 90 degrees.
    Args: d, outer thread [mm]; l_ef, thread in the timber [mm]; rho_k [kg/m3]; alpha, angle to the grain [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("d", d, low=6.0, high=12.0, unit="mm")
    within("alpha", alpha, low=math.radians(30.0) - 1e-12, high=math.pi / 2, unit="rad")
    within("l_ef", l_ef, low=1.0, unit="mm")
    within("rho_k", rho_k, low=100.0, high=1200.0, unit="kg/m3")
    f_ax = 0.52 * math.pow(d, -0.5) * math.pow(l_ef, -0.1) * math.pow(rho_k, 0.8)
    k_d = min(d / 8.0, 1.0)
    return f_ax * d * l_ef * k_d / (1.2 * math.cos(alpha) ** 2 + math.sin(alpha) ** 2)
