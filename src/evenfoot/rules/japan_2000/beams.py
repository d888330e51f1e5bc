"""What stress and sag a beam has, and how far it may sag, in Japanese practice."""

from __future__ import annotations

from evenfoot.rules.japan_2000.ranges import require_above, require_between


def bending_stress(*, M: float, Z_e: float) -> float:
    """Return sigma_b = M / Z_e [N/mm²].

    Source: AIJ timber design standard, bending (木質構造設計規準).
    Valid: M >= 0; Z_e > 0.
    Args: M, bending moment, its size [N mm]; Z_e, effective section modulus [mm³].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("M", M, 0.0)
    require_above("Z_e", Z_e)
    return M / Z_e


def shear_stress(*, Q: float, A_e: float) -> float:
    """Return tau = 1.5 Q / A_e [N/mm²].

    Source: AIJ timber design standard, shear (木質構造設計規準).
    Valid: Q >= 0; A_e > 0.
    Args: Q, shear force, its size [N]; A_e, effective area [mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("Q", Q, 0.0)
    require_above("A_e", A_e)
    return 1.5 * Q / A_e


def simple_moment(*, w: float, P: float, L: float) -> float:
    """Return M = w L² / 8 + P L / 4 [N mm] at the middle of one span.

    Source: statics of the simple beam.   Valid: w >= 0; P >= 0; L > 0.
    Args: w, line load [N/mm]; P, load at mid-span [N]; L, span [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("w", w, 0.0)
    require_between("P", P, 0.0)
    require_above("L", L)
    return w * L * L / 8.0 + P * L / 4.0


def simple_shear(*, w: float, P: float, L: float) -> float:
    """Return Q = w L / 2 + P [N], the load P standing beside a support.

    Source: statics of the simple beam.   Valid: w >= 0; P >= 0; L > 0.
    Args: w, line load [N/mm]; P, load beside the support [N]; L, span [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("w", w, 0.0)
    require_between("P", P, 0.0)
    require_above("L", L)
    return w * L / 2.0 + P


def simple_sag(*, w: float, L: float, EI: float) -> float:
    """Return delta = 5 w L⁴ / (384 E I) [mm], bending only, at the middle of one span.

    Source: statics of the simple beam.   Valid: w >= 0; L > 0; EI > 0.
    Args: w, line load [N/mm]; L, span [mm]; EI, bending stiffness [N mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("w", w, 0.0)
    require_above("L", L)
    require_above("EI", EI)
    return 5.0 * w * L**4 / (384.0 * EI)


def shear_sag(*, M: float, GA: float) -> float:
    """Return delta_s = 1.2 M / (G A) [mm], the part of the mid-span sag of one span that shear adds.

    Source: statics of the simple beam, rectangular section.   Valid: M >= 0; GA > 0.
    Args: M, mid-span moment of the same load [N mm]; GA, shear modulus times area [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("M", M, 0.0)
    require_above("GA", GA)
    return 1.2 * M / GA


def sag_limit(*, L: float, share: float, creep: float) -> float:
    """Return the most that a beam may sag at once, L / (share creep) [mm], so that creep keeps it within L / share.

    Source: Enforcement Order art. 82-4; Notice 1459 of 2000 (平成12年建設省告示第1459号): L/250, creep 2.
    Valid: L > 0; share >= 1; creep >= 1.
    Args: L, span [mm]; share, 250 [-]; creep, 2 for timber [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("L", L)
    require_between("share", share, 1.0)
    require_between("creep", creep, 1.0)
    return L / (share * creep)


def is_sag_exempt(*, h: float, L: float, ratio: float) -> bool:
    """Return whether a floor beam is deep enough for its span that its sag needs no check: h / L > 1 / ratio.

    Source: Notice 1459 of 2000, 1 (平成12年建設省告示第1459号): timber floor beams, 1/12.
    Valid: h > 0; L > 0; ratio >= 1.
    Args: h, depth [mm]; L, span [mm]; ratio, 12 [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_above("h", h)
    require_above("L", L)
    require_between("ratio", ratio, 1.0)
    return h / L > 1.0 / ratio
