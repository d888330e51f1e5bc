"""Whether layers fit into a height, what is left, what would make them fit, and how many supports a low floor takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.errors import Fault, OutOfRangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class StackFit:
    """Layers in a height [mm]: their sum, and what is left over (less than nothing where they do not fit)."""

    available: float
    stack: float
    spare: float

    @property
    def shortfall(self) -> float:
        """By how much the layers are too high [mm]; 0 where they fit."""
        return max(0.0, -self.spare)

    @property
    def is_fitting(self) -> bool:
        """Whether the layers fit, if only just."""
        return self.spare >= 0


def height_stack(*, available: float, layers: Sequence[float]) -> StackFit:
    """Return how layers, thicknesses on the plumb line [mm], fit between a finished surface and the ground.

    What is left is the post, or the air, under the lowest layer.
    Source: sum of the layers.   Valid: every layer >= 0; ``available`` may be anything.
    Raises: OutOfRangeError (``layer-negative``).
    """
    for k, layer in enumerate(layers):
        if not layer >= 0:
            raise OutOfRangeError(
                Fault(where=f"layers[{k}]", code="layer-negative", found=f"{layer:g} mm", allowed=">= 0 mm")
            )
    stack = math.fsum(layers)
    return StackFit(available=available, stack=stack, spare=available - stack)


class Cure(StrEnum):
    """What makes a stack fit; each is a remedy code."""

    RAISE_FLOOR = "raise-floor"
    FLUSH_FRAME = "flush-frame"
    NO_POST = "no-post"
    DIG = "dig-under-footing"
    THINNER = "thinner-stack"


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What there is to give [mm]: how far the floor may rise, what a flush frame saves, what a post takes at least."""

    drop: float
    saved_by_flush: float
    least_post: float
    can_dig: bool


def cures(shortfall: float, room: Room) -> tuple[Cure, ...]:
    """Return what makes a stack fit that is ``shortfall`` [mm] too high, the shortest post included; best first.

    A thinner stack (or a lower ground by other means) always would, and is named last.
    """
    if shortfall <= 0:
        return ()
    chosen = (
        (Cure.RAISE_FLOOR, room.drop >= shortfall),
        (Cure.FLUSH_FRAME, room.saved_by_flush >= shortfall),
        (Cure.NO_POST, room.least_post >= shortfall),
        (Cure.DIG, room.can_dig),
        (Cure.THINNER, True),
    )
    return tuple(cure for cure, is_enough in chosen if is_enough)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportCount:
    """Bearer lines and the supports under them; bays and lines are counted apart."""

    bays: int
    lines: int
    per_line: int
    supports: int


def count_supports(*, bays: Sequence[float], run: float, spacing_max: float, lines_carried: int = 0) -> SupportCount:
    """Return how many bearer lines bound the ``bays`` and how many supports they need, [mm] and counts.

    Each line has the fewest even bays of at most ``spacing_max`` over its ``run``, a support at both ends.
    ``lines_carried`` lines lie on something else (a wall, a cantilever) and need none.
    Source: a run of n bays has n + 1 lines.   Valid: spacing_max > 0; run > 0; 0 <= lines_carried <= bays + 1.
    Raises: OutOfRangeError (``spacing-not-positive``, ``lines-carried``).
    """
    if not (spacing_max > 0 and run > 0):
        found = f"{spacing_max:g} mm in {run:g} mm"
        raise OutOfRangeError(Fault(where="spacing_max", code="spacing-not-positive", found=found, allowed="> 0 mm"))
    if not 0 <= lines_carried <= len(bays) + 1:
        fault = Fault(
            where="lines_carried", code="lines-carried", found=str(lines_carried), allowed=f"0 .. {len(bays) + 1}"
        )
        raise OutOfRangeError(fault)
    lines = len(bays) + 1 - lines_carried
    per_line = math.ceil(run / spacing_max - 1e-9) + 1
    return SupportCount(bays=len(bays), lines=lines, per_line=per_line, supports=lines * per_line)
