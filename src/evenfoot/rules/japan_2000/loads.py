"""How loads add up on a floor in Japan: snow from its depth, and the sums of dead, live and snow load."""

from __future__ import annotations

import math

from evenfoot.rules.japan_2000.ranges import require_above, require_between


def snow_load(*, d: float, rho: float) -> float:
    """Return S = rho d [N/m²] on a level floor (no reduction for slope).

    Source: Enforcement Order art. 86 (施行令第86条): 20 N/m² for each cm, 30 by local rule in heavy-snow areas.
    Valid: d >= 0; rho >= 20.
    Args: d, vertical depth of the place [cm]; rho, unit weight [N/m² for each cm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("d", d, 0.0)
    require_between("rho", rho, 20.0)
    return rho * d


def snow_sum(*, P: float, S: float, share: float) -> float:
    """Return P + share S [N/m²], the load beside the dead load: share 0.7 for long, 1 for short.

    Source: Enforcement Order art. 82 (施行令第82条), heavy-snow areas; elsewhere the short sum only.
    Valid: P >= 0; S >= 0; 0 < share <= 1.
    Args: P, live load [N/m²]; S, snow load [N/m²]; share [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("P", P, 0.0)
    require_between("S", S, 0.0)
    require_above("share", share)
    require_between("share", share, 0.0, 1.0)
    return P + share * S


def slope_factor(*, beta_deg: float) -> float:
    """Return mu_b = √cos(1.5 beta) [-] up to 60 degrees, 0 beyond: what of the snow a roof keeps; 1 on a level floor.

    Source: Enforcement Order art. 86-4 (施行令第86条第4項).   Valid: 0 <= beta_deg <= 90.
    Args: beta_deg, slope of the roof [°].
    Raises: OutOfRangeError when beta_deg leaves the valid range.
    """
    require_between("beta_deg", beta_deg, 0.0, 90.0)
    # Beyond 60 degrees the cosine is below nothing.
    return math.sqrt(max(0.0, math.cos(math.radians(1.5 * beta_deg))))
