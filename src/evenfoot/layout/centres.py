"""Where evenly spaced timbers stand between two outer ones, and how far a board at an angle spans between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError

_SLACK = 1e-9
"""Share of a bay by which a spacing may pass its limit through rounding alone [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenCentres:
    """Lines at even centres [mm]; there is one more line than bays."""

    lines: tuple[float, ...]
    spacing: float

    @property
    def bays(self) -> int:
        """How many spaces lie between the lines."""
        return len(self.lines) - 1


def even_centres(*, first: float, last: float, spacing_max: float) -> EvenCentres:
    """Return the fewest even centres from ``first`` to ``last`` that are at most ``spacing_max`` apart [mm].

    Both outer lines are exact. Valid: last > first, spacing_max > 0.
    Raises: OutOfRangeError when either does not hold.
    """
    if not last > first:
        raise OutOfRangeError(
            Fault(where="last", code="no-room-for-joists", found=f"{last:g} mm", allowed=f"{first:g}")
        )
    if not spacing_max > 0.0:
        raise OutOfRangeError(Fault(where="spacing_max", code="spacing-not-positive", found=f"{spacing_max:g} mm"))
    bays = max(1, math.ceil((last - first) / spacing_max - _SLACK))
    spacing = (last - first) / bays
    lines = (first, *(first + spacing * i for i in range(1, bays)), last)
    return EvenCentres(lines=lines, spacing=spacing)


def board_span(*, spacing: float, angle_deg: float) -> float:
    """Return how far a board spans from joist to joist along itself [mm].

    Source: plane trigonometry, spacing / sin(angle).   Valid: 0 < angle_deg <= 90.
    Args: spacing, centres of the joists square to them [mm]; angle_deg, between board and joist [degrees].
    Raises: OutOfRangeError when the board runs along the joists.
    """
    if not 0.0 < angle_deg <= 90.0:  # noqa: PLR2004 - a right angle
        raise OutOfRangeError(
            Fault(where="angle_deg", code="board-along-joist", found=f"{angle_deg:g} degrees", allowed="0 .. 90")
        )
    return spacing if angle_deg == 90.0 else spacing / math.sin(math.radians(angle_deg))  # noqa: PLR2004
