"""How posts that are fixed at their feet share a push on the floor; statics that belongs to no standard."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.rules.ranges import within


def shared_pushes(*, H: float, stiffness: Sequence[float], heights: Sequence[float]) -> tuple[float, ...]:
    """Return what each of some upright cantilevers takes of a push on their common top [N], in step with EI / h³.

    Source: statics, tip of a cantilever F h³ / 3 EI, all tops moving alike.   Valid: H >= 0; stiffness, heights > 0.
    Args: H, push [N]; stiffness, EI of each [N mm²]; heights, of each [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("H", H, low=0.0, unit="N")
    firm = [
        within("stiffness", ei, low=1e-9, unit="N mm2") / within("heights", h, low=1e-9, unit="mm") ** 3
        for ei, h in zip(stiffness, heights, strict=True)
    ]
    return tuple(H * k / sum(firm) for k in firm)


def used_together(*, sigma_m: float, f_m: float, sigma_c: float, f_c: float) -> float:
    """Return sigma_m / f_m + sigma_c / f_c [-]: bending and pressure along the grain together, at most 1.

    Source: the straight sum of Notice 1024 practice in Japan and of EN 1995-1-1:2004, eq. (6.23); it is on the safe
    side of NDS 3.9.2 while pressure is small against buckling.   Valid: stresses >= 0; strengths > 0.
    Args: sigma_m, bending stress; f_m, bending strength; sigma_c, pressure; f_c, strength with buckling [N/mm²].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("sigma_m", sigma_m, low=0.0, unit="N/mm2")
    within("sigma_c", sigma_c, low=0.0, unit="N/mm2")
    bent = sigma_m / within("f_m", f_m, low=1e-9, unit="N/mm2")
    return bent + sigma_c / within("f_c", f_c, low=1e-9, unit="N/mm2")
