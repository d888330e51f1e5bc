"""How well timber bears what presses across its grain, by the length of the contact and what lies beside it."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within


def effective_contact(*, l: float, a: float, l_1: float, reach: float) -> float:  # noqa: E741 - the standard's symbol
    """Return l_ef [mm]: the contact's length and up to 30 mm on each side, never more than lies there.

    On the side of the nearer end at most a, on both sides at most l and l_1 / 2.
    Source: EN 1995-1-1:2004/A1:2008, 6.1.5(1).   Valid: l > 0; a >= 0; l_1 >= 0; reach >= 0.
    Args: l, contact along the grain; a, wood past it to the nearer end; l_1, clear distance to the nearest contact on
    the other face; reach, 30, all [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("l", l, unit="mm")
    within("a", a, low=0.0, unit="mm")
    within("l_1", l_1, low=0.0, unit="mm")
    within("reach", reach, low=0.0, unit="mm")
    aside = min(reach, l, l_1 / 2.0)
    return l + min(aside, a) + aside


def bearing_factor(*, l_1: float, h: float, apart: float, most: float) -> float:
    """Return k_c,90 [-] of softwood on separate supports: 1.5 when nothing presses nearer than 2 h, else 1.

    Source: EN 1995-1-1:2004/A1:2008, 6.1.5(4).   Valid: l_1 >= 0; h > 0; apart > 0; most >= 1.
    Args: l_1, clear distance to the nearest contact on the other face [mm]; h, depth [mm]; apart, 2 [-]; most, 1.5 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("l_1", l_1, low=0.0, unit="mm")
    above("h", h, unit="mm")
    above("apart", apart)
    within("most", most, low=1.0)
    return most if l_1 >= apart * h else 1.0
