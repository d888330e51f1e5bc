"""What one span between two bearings has to bear, and how far it sags; statics that belongs to no standard."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within


def middle_moment(*, w: float, P: float, L: float) -> float:
    """Return M = w L² / 8 + P L / 4 [N mm] at mid-span.

    Source: statics of the simple beam.   Valid: w >= 0; P >= 0; L >= 1.
    Args: w, even load [N/mm]; P, load at mid-span [N]; L, span [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(w=w, P=P, L=L)
    return w * L * L / 8.0 + P * L / 4.0


def end_shear(*, w: float, P: float, L: float) -> float:
    """Return Q = w L / 2 + P [N], the load P standing beside a bearing.

    Source: statics of the simple beam.   Valid: w >= 0; P >= 0; L >= 1.
    Args: w, even load [N/mm]; P, load beside the bearing [N]; L, span [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(w=w, P=P, L=L)
    return w * L / 2.0 + P


def overhang_moment(*, w: float, P: float, a: float) -> float:
    """Return M = w a² / 2 + P a [N mm], its size, at the bearing of an overhang.

    Source: statics of the cantilever.   Valid: w >= 0; P >= 0; a >= 0.
    Args: w, even load [N/mm]; P, load at the tip [N]; a, overhang [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(w=w, P=P, L=math.inf)
    within("a", a, low=0.0, unit="mm")
    return w * a * a / 2.0 + P * a


def even_sag(*, w: float, L: float, EI: float, GA: float) -> float:
    """Return delta = 5 w L⁴ / (384 E I) + 1.2 w L² / (8 G A) [mm] at mid-span of a rectangle.

    Source: statics of the simple beam that bends and shears.   Valid: w >= 0; L >= 1; EI >= 1; GA >= 1.
    Args: w, even load [N/mm]; L, span [mm]; EI, bending stiffness [N mm²]; GA, shear modulus times area [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(w=w, P=0.0, L=L)
    within("EI", EI, low=1.0, unit="N mm2")
    within("GA", GA, low=1.0, unit="N")
    return 5.0 * w * L**4 / (384.0 * EI) + 1.2 * w * L * L / (8.0 * GA)


def middle_sag(*, P: float, L: float, EI: float, GA: float) -> float:
    """Return delta = P L³ / (48 E I) + 1.2 P L / (4 G A) [mm] at mid-span of a rectangle under a load there.

    Source: statics of the simple beam that bends and shears.   Valid: P >= 0; L >= 1; EI >= 1; GA >= 1.
    Args: P, load [N]; L, span [mm]; EI, bending stiffness [N mm²]; GA, shear modulus times area [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(w=0.0, P=P, L=L)
    within("EI", EI, low=1.0, unit="N mm2")
    within("GA", GA, low=1.0, unit="N")
    return P * L**3 / (48.0 * EI) + 1.2 * P * L / (4.0 * GA)


def _check(*, w: float, P: float, L: float) -> None:
    within("w", w, low=0.0, unit="N/mm")
    within("P", P, low=0.0, unit="N")
    within("L", L, low=1.0, unit="mm")
