"""How hard a bowed board must be pushed to lie straight, and whether another should lie there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.errors import Fault, OutOfRangeError

LEFT_AFTER_PUSH = 2 / 27
"""Greatest part of an even bow that a push in the middle leaves [-]."""


class BowAdvice(StrEnum):
    """What to do with a bowed board."""

    LAY = "lay"
    """Straight enough as it is."""
    PUSH = "push"
    SWAP = "swap"
    """More push than hands have: lay another, and use this one where it is cut shorter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bowed:
    """A board on its joists [mm, N/mm2]: ``bow`` is how far its middle stands off the string line, outward positive."""

    bow: float
    length: float
    width: float
    thickness: float
    stiffness: float
    spacing: float
    """From joist to joist along the board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Straightening:
    """What makes a board straight: a push in the middle [N], and what the screws at its ends then hold [N].

    ``left`` is what still stands off the line between middle and ends [mm]. A positive bow is pushed towards the boards
    already laid, a negative one is wedged away from them. ``straight_length`` is the longest piece [mm] that can be cut
    out of this board and looks straight as it is.
    """

    bowed: Bowed
    push: float
    held: float
    left: float
    straight_length: float
    advice: BowAdvice


def straighten(bowed: Bowed, *, push_most: float, seen: float) -> Straightening:
    """Return how a bowed board is made straight, by a push of at most ``push_most`` [N].

    The bow is taken as an even curve. ``seen`` [mm] is what the eye sees beside its neighbour.
    Source: simple beam, P = 48 E I e / L^3 with I = t b^3 / 12 (it bends in its own plane); an even curve 8 e / L^2
    held straight asks the couple E I 8 e / L^2 at each end, taken by the last two joists. Of the even curve, with
    u = x / L from either end, the push leaves e u (1 - 2 u)^2, at most 2/27 of the bow, at a sixth of the length. A
    piece of length l cut out of it has the bow e (l / L)^2.
    Raises: OutOfRangeError (``bow-unfit``) for a size that is not positive, or a bow over a tenth of the length.
    """
    b = bowed
    sizes = (b.length, b.width, b.thickness, b.stiffness, b.spacing)
    if not min(sizes) > 0 or abs(b.bow) > b.length / 10:
        found = f"{b.bow:g} / {b.length:g} mm"
        raise OutOfRangeError(Fault(where="bow", code="bow-unfit", found=found, allowed="≤ 1/10"))
    second = b.thickness * b.width**3 / 12
    curve = 8 * abs(b.bow) / b.length**2
    push = 48 * b.stiffness * second * abs(b.bow) / b.length**3
    held = b.stiffness * second * curve / min(b.spacing, b.length / 2)
    advice = BowAdvice.PUSH
    if abs(b.bow) <= seen / 2:
        advice = BowAdvice.LAY
    elif push > push_most:
        advice = BowAdvice.SWAP
    straight = b.length * min(1.0, math.sqrt(seen / 2 / abs(b.bow))) if b.bow else b.length
    return Straightening(
        bowed=b,
        push=push,
        held=held,
        left=LEFT_AFTER_PUSH * abs(b.bow),
        straight_length=straight,
        advice=advice,
    )
