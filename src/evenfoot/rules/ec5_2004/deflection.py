"""How far a beam sags in the end, and how far it may."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within


def final_share_dead(*, k_def: float) -> float:
    """Return 1 + k_def [-], the final sag under own weight over the sag at once.

    Source: EN 1995-1-1:2004, 2.2.3(5), eq. (2.3).   Valid: k_def >= 0.
    Args: k_def, creep [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 1.0 + within("k_def", k_def, low=0.0)


def final_share_leading(*, k_def: float, psi_2: float) -> float:
    """Return 1 + psi_2 k_def [-], the final sag under the leading variable load over the sag at once.

    Source: EN 1995-1-1:2004, 2.2.3(5), eq. (2.4).   Valid: k_def >= 0; 0 <= psi_2 <= 1.
    Args: k_def, creep [-]; psi_2, lasting share of the load [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 1.0 + within("psi_2", psi_2, low=0.0, high=1.0) * within("k_def", k_def, low=0.0)


def final_share_other(*, k_def: float, psi_0: float, psi_2: float) -> float:
    """Return psi_0 + psi_2 k_def [-], the same for an accompanying variable load.

    Source: EN 1995-1-1:2004, 2.2.3(5), eq. (2.5).   Valid: k_def >= 0; 0 <= psi_2 <= psi_0 <= 1.
    Args: k_def, creep [-]; psi_0, psi_2, shares of the load [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("psi_0", psi_0, low=0.0, high=1.0)
    return psi_0 + within("psi_2", psi_2, low=0.0, high=psi_0) * within("k_def", k_def, low=0.0)


def sag_limit(*, l: float, share: float, overhang: float = 1.0) -> float:  # noqa: E741 - the standard's symbol
    """Return overhang l / share [mm], how far a span may sag.

    Source: EN 1995-1-1:2004, 7.2(2), table 7.2: l/300 at once, l/150 in the end; twice as far for overhangs.
    Valid: l > 0; share >= 1; 1 <= overhang <= 2.
    Args: l, span or overhang [mm]; share, 300 or 150 [-]; overhang, 2 for an overhang [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    above("l", l, unit="mm")
    return within("overhang", overhang, low=1.0, high=2.0) * l / within("share", share, low=1.0)
