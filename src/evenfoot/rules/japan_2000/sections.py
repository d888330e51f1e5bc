"""What a rectangular section has, whole and where it is notched: area, section modulus, second moment."""

from __future__ import annotations

from evenfoot.rules.japan_2000.ranges import require_above, require_between

NOTCH_SHARE = 1.0 / 3.0
"""Deepest notch on the tension side of sawn timber, as a share of the depth (木質構造設計規準)."""


def area(*, b: float, h: float) -> float:
    """Return A = b h [mm²].

    Source: geometry.   Valid: b > 0; h > 0.
    Args: b, width [mm]; h, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("b", b)
    require_above("h", h)
    return b * h


def section_modulus(*, b: float, h: float) -> float:
    """Return Z = b h² / 6 [mm³].

    Source: geometry.   Valid: b > 0; h > 0.
    Args: b, width [mm]; h, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return area(b=b, h=h) * h / 6.0


def second_moment(*, b: float, h: float) -> float:
    """Return I = b h³ / 12 [mm⁴].

    Source: geometry.   Valid: b > 0; h > 0.
    Args: b, width [mm]; h, depth [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return section_modulus(b=b, h=h) * h / 2.0


def notched_modulus_compression(*, b: float, h: float, n: float) -> float:
    """Return Z_e = Z_0 = b (h - n)² / 6 [mm³] of a section notched on its compression side.

    Source: AIJ timber design standard, notches (木質構造設計規準).
    Valid: b > 0; h > 0; 0 <= n < h.
    Args: b, width [mm]; h, depth [mm]; n, depth of the notch [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("n", n, 0.0)
    return section_modulus(b=b, h=_rest(h=h, n=n))


def notched_modulus_tension(*, b: float, h: float, n: float) -> float:
    """Return Z_e = 0.45 Z_0 [mm³] of sawn timber notched on its tension side.

    Source: AIJ timber design standard, notches
    (木質構造設計規準). One reading allows 0.60 Z_0 up to h/4; 0.45 is taken throughout.
    Valid: b > 0; h > 0; 0 <= n <= h/3.
    Args: b, width [mm]; h, depth [mm]; n, depth of the notch [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("h", h)
    require_between("n", n, 0.0, h * NOTCH_SHARE)
    return 0.45 * section_modulus(b=b, h=h - n)


def notched_area_compression(*, b: float, h: float, n: float) -> float:
    """Return A_e = A_0 = b (h - n) [mm²], for shear where the notch is on the compression side.

    Source: AIJ timber design standard, notches (木質構造設計規準).
    Valid: b > 0; h > 0; 0 <= n < h.
    Args: b, width [mm]; h, depth [mm]; n, depth of the notch [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("n", n, 0.0)
    return area(b=b, h=_rest(h=h, n=n))


def notched_area_tension(*, b: float, h: float, n: float) -> float:
    """Return A_e = A_0² / A [mm²], for shear where the notch is on the tension side or under an end.

    Source: AIJ timber design standard, notches (木質構造設計規準).
    Valid: b > 0; h > 0; 0 <= n <= h/3.
    Args: b, width [mm]; h, depth [mm]; n, depth of the notch [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("h", h)
    require_between("n", n, 0.0, h * NOTCH_SHARE)
    A_0 = area(b=b, h=h - n)
    return A_0 * A_0 / area(b=b, h=h)


def _rest(*, h: float, n: float) -> float:
    require_above("h - n", h - n)
    return h - n
