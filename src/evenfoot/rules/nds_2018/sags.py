"""How far a floor timber sags over time and may sag, by North American practice."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within


def total_sag(*, lasting: float, passing: float, K_cr: float) -> float:
    """Return K_cr lasting + passing [mm].

    Source: NDS 2018, 3.5.2, eq. 3.5-1: K_cr 1.5 for dry seasoned timber, 2.0 for wet.
    Valid: lasting >= 0; passing >= 0; 1.5 <= K_cr <= 2.
    Args: lasting, sag at once under what lasts; passing, under the rest [mm]; K_cr [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    slow = within("K_cr", K_cr, low=1.5, high=2.0) * within("lasting", lasting, low=0.0, unit="mm")
    return slow + within("passing", passing, low=0.0, unit="mm")


def limit(*, L: float, share: float) -> float:
    """Return L / share [mm].

    Source: IRC 2018, table R301.7 and R507.6 notes: L/360 of a span under live load, a/180 of an overhang.
    Valid: L > 0; share >= 1.
    Args: L, span, or length of the overhang [mm]; share [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("L", L, unit="mm") / within("share", share, low=1.0)


def tip_sag(*, P: float, a: float, L: float, EI: float) -> float:
    """Return P a² (L + a) / (3 EI) [mm] at the tip of an overhang with a span behind it.

    Source: statics of the overhanging beam.   Valid: P >= 0; a >= 0; L > 0; EI > 0.
    Args: P, load at the tip [N]; a, overhang; L, span behind it [mm]; EI, bending stiffness [N mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    reach = within("a", a, low=0.0, unit="mm") ** 2 * (above("L", L, unit="mm") + a)
    return within("P", P, low=0.0, unit="N") * reach / (3.0 * above("EI", EI, unit="N mm2"))
