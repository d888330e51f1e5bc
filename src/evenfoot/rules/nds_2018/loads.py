"""How snow weighs and loads add up on a floor by North American practice."""

from __future__ import annotations

from evenfoot.rules.ranges import within

_M_PER_FT = 0.3048
_KPA_PER_PSF = 0.04788025898033584


def snow_load(*, depth_m: float) -> float:
    """Return the weight of snow so deep on the ground [kN/m²], the density rising with the load up to 30 lb/ft³.

    Source: ASCE 7-16, eq. 7.7-1: density 0.13 p_g + 14 lb/ft³, at most 30, solved for p_g = density times depth.
    Valid: 0 <= depth_m <= 10.
    Args: depth_m, depth of the snow [m].
    Raises: OutOfRangeError when depth_m leaves the valid range.
    """
    h = within("depth_m", depth_m, low=0.0, high=10.0, unit="m") / _M_PER_FT
    rest = 1.0 - 0.13 * h
    psf = 30.0 * h if rest <= 0.0 else min(14.0 * h / rest, 30.0 * h)
    return psf * _KPA_PER_PSF


def live_and_snow(*, L: float, S: float) -> float:
    """Return 0.75 L + 0.75 S, beside the dead load, in the unit of L and S.

    Source: ASCE 7-16, 2.4.1, combination 4.   Valid: L >= 0; S >= 0.
    Args: L, live load; S, snow load.
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return 0.75 * within("L", L, low=0.0) + 0.75 * within("S", S, low=0.0)


def overhang_reaction(*, q: float, L: float, a: float) -> float:
    """Return q (L + a)² / (2 L) [N]: what a joist with an overhang brings to the beam under it.

    Source: statics of the overhanging beam, evenly loaded.   Valid: q >= 0; L >= 1; a >= 0.
    Args: q, load on the joist [N/mm]; L, span behind the beam; a, overhang past it [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("q", q, low=0.0, unit="N/mm")
    reach = within("L", L, low=1.0, unit="mm") + within("a", a, low=0.0, unit="mm")
    return q * reach * reach / (2.0 * L)
