"""What stress sawn timber may bear in Japan, by how long the load lasts and how wet the timber is."""

from __future__ import annotations

import math

from evenfoot.rules.japan_2000.ranges import require_above, require_between


def allowable_stress(*, F: float, n: float, K_m: float) -> float:
    """Return the allowable stress f = (n / 3) K_m F [N/mm²].

    Source: Enforcement Order of the Building Standard Law, art. 89-1 and 89-3 (施行令第89条).
    Valid: F > 0; 1.1 <= n <= 2; 0 < K_m <= 1.
    Args: F, reference strength [N/mm²]; n, 1.1 long, 1.43 long snow, 1.6 short snow, 2.0 short [-];
    K_m, 0.7 in constantly wet places [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("F", F)
    require_between("n", n, 1.1, 2.0)
    require_above("K_m", K_m)
    require_between("K_m", K_m, 0.0, 1.0)
    return n / 3.0 * K_m * F


def allowable_bearing(*, F_cv: float, n: float, K_m: float, alpha_end: float) -> float:
    """Return the allowable stress across the grain f_cv = alpha_end (n / 3) K_m F_cv [N/mm²].

    Source: Notice 1024 of 2001, 1 (平成13年国土交通省告示第1024号); alpha_end is the institute's 1.20 at the end of a
    member over 1.50 away from it (木質構造設計規準).
    Valid: F_cv > 0; 1.1 <= n <= 2; 0 < K_m <= 1; 0.8 <= alpha_end <= 1.
    Args: F_cv, reference strength across the grain [N/mm²]; n, K_m [-]; alpha_end, 0.8 at an end, else 1 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("alpha_end", alpha_end, 0.8, 1.0)
    return alpha_end * allowable_stress(F=F_cv, n=n, K_m=K_m)


def shared_bending(*, F_b: float, share: float) -> float:
    """Return share F_b [N/mm²], the reference strength of joists that stand close and share load.

    Source: Notice 1452 of 2000, 1 (平成12年建設省告示第1452号): 1.25 under a structural panel, 1.15 under other boards.
    Deck boards with gaps share little, so no check here counts on it.
    Valid: F_b > 0; 1 <= share <= 1.25.
    Args: F_b, reference strength in bending [N/mm²]; share [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("F_b", F_b)
    require_between("share", share, 1.0, 1.25)
    return share * F_b


def size_factor(*, h: float) -> float:
    """Return (300/h)^(1/9) [-] of a beam deeper than 300 mm, else 1.

    Source: AIJ timber design standard, depth (木質構造設計規準), recalled.   Valid: h > 0.
    Args: h, depth [mm].
    Raises: OutOfRangeError when h leaves the valid range.
    """
    require_above("h", h)
    return min(1.0, math.pow(300.0 / h, 1.0 / 9.0))
