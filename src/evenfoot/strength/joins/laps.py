"""What the European notch formula says of a half-lapped end, for information beside a rule that ends sooner."""

from __future__ import annotations

from evenfoot.rules.ec5_2004 import shear
from evenfoot.strength.cuts import Cut, Side

_SOLID_TIMBER = 5.0
"""k_n of solid timber [-]. Source: EN 1995-1-1:2004, 6.5.2(2), eq. (6.63)."""


def european_share(cut: Cut, *, depth: float, length: float) -> float:
    """Return k_v [-]: what a cut at a timber's end leaves of the shear strength of the depth that is left.

    A cut on the face away from the support takes nothing more than its depth.

    Source: EN 1995-1-1:2004, 6.5.2, eq. (6.62) and (6.63).   Valid: a cut shallower than the timber.
    Args: depth, of the whole timber [mm]; length, of the timber [mm].
    """
    if cut.side is not Side.UNDERSIDE:
        return 1.0
    reach = cut.at - cut.low if cut.at > length / 2.0 else cut.high - cut.at
    return shear.notch_factor(h=depth, h_ef=depth - cut.notch, x=max(0.0, reach), k_n=_SOLID_TIMBER)
