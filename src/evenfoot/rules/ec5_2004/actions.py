"""How loads add up on a floor: the sums of EN 1990, and snow from its depth."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.rules.ranges import within


def design_sum(*, Q_1: float, others: Sequence[tuple[float, float]], gamma_Q: float) -> float:
    """Return gamma_Q Q_1 + sum of gamma_Q psi_0 Q_i, the variable part of a design load [as Q_1].

    Source: EN 1990:2002, 6.4.3.2, eq. (6.10).   Valid: loads >= 0; 0 <= psi_0 <= 1; gamma_Q >= 1.
    Args: Q_1, leading load; others, (psi_0 [-], load) of each accompanying one, in the unit of Q_1; gamma_Q, 1.5 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("gamma_Q", gamma_Q, low=1.0)
    return gamma_Q * characteristic_sum(Q_1=Q_1, others=others)


def characteristic_sum(*, Q_1: float, others: Sequence[tuple[float, float]]) -> float:
    """Return Q_1 + sum of psi_0 Q_i, the variable part of the characteristic combination [as Q_1].

    Source: EN 1990:2002, 6.5.3, eq. (6.14b).   Valid: loads >= 0; 0 <= psi_0 <= 1.
    Args: Q_1, leading load; others, (psi_0 [-], load) of each accompanying one, in the unit of Q_1.
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("Q_1", Q_1, low=0.0)
    for psi_0, Q_i in others:
        within("psi_0", psi_0, low=0.0, high=1.0)
        within("Q_i", Q_i, low=0.0)
    return Q_1 + sum(psi_0 * Q_i for psi_0, Q_i in others)


def snow_load(*, d: float, gamma: float) -> float:
    """Return s = gamma d [N/mm²] on a level floor near the ground, without shape or exposure coefficients.

    Source: EN 1991-1-3:2003, annex E.   Valid: d >= 0; 1e-6 <= gamma <= 9e-6.
    Args: d, depth of the snow [mm]; gamma, its weight [N/mm³].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("d", d, low=0.0, unit="mm")
    within("gamma", gamma, low=1e-6, high=9e-6, unit="N/mm3")
    return gamma * d
