"""What stress timber may bear: from the characteristic strength by duration, moisture, safety and size."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within

DENSEST_GAINING = 700.0
"""Characteristic density up to which k_h holds [kg/m³]; EN 1995-1-1:2004, 3.2(3)."""


def design_strength(*, X_k: float, k_mod: float, gamma_M: float) -> float:
    """Return X_d = k_mod X_k / gamma_M [as X_k].

    Source: EN 1995-1-1:2004, 2.4.1, eq. (2.14).   Valid: X_k > 0; 0 < k_mod <= 1.1; gamma_M >= 1.
    Args: X_k, characteristic strength [N/mm²]; k_mod, duration and moisture [-]; gamma_M, partial factor [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("X_k", X_k, unit="N/mm2")
    above("k_mod", k_mod)
    within("k_mod", k_mod, high=1.1)
    within("gamma_M", gamma_M, low=1.0)
    return k_mod * X_k / gamma_M


def depth_factor(*, h: float, rho_k: float, h_full: float, most: float) -> float:
    """Return k_h = min((150/h)^0.2, 1.3) [-] of solid timber shallower than 150 mm and not too dense, else 1.

    Source: EN 1995-1-1:2004, 3.2(3), eq. (3.1).   Valid: h > 0; rho_k > 0; h_full > 0; most >= 1.
    Args: h, depth in bending [mm]; rho_k, characteristic density [kg/m³]; h_full, 150 [mm]; most, 1.3 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("h", h, unit="mm")
    above("rho_k", rho_k, unit="kg/m3")
    above("h_full", h_full, unit="mm")
    within("most", most, low=1.0)
    if h >= h_full or rho_k > DENSEST_GAINING:
        return 1.0
    return min(float((h_full / h) ** 0.2), most)
