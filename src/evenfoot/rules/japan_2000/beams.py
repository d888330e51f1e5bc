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


def pulled_and_bent(*, sigma_t: float, f_t: float, sigma_b: float, f_b: float) -> float:
    """Return sigma_t / f_t + sigma_b / f_b [-], at most 1, of a timber that is pulled along and bent.

    Source: AIJ timber design standard, tension with bending (木質構造設計規準), recalled.
    Valid: sigma_t >= 0; sigma_b >= 0; f_t > 0; f_b > 0.
    Args: sigma_t, N / A; f_t, allowable stress in tension; sigma_b, M / Z; f_b, allowable stress [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    require_between("sigma_t", sigma_t, 0.0)
    require_above("f_t", f_t)
    require_between("sigma_b", sigma_b, 0.0)
    require_above("f_b", f_b)
    return sigma_t / f_t + sigma_b / f_b
