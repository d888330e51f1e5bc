"""Small sums at the bench: even centres, the span of a board at an angle, which stock will do, how widths drift."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.errors import Fault, NoSolutionError, OutOfRangeError
from evenfoot.layout.closing import EPS

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
    if not 0.0 < angle_deg <= 90.0:
        raise OutOfRangeError(
            Fault(where="angle_deg", code="board-along-joist", found=f"{angle_deg:g} degrees", allowed="0 .. 90")
        )
    return spacing if angle_deg == 90.0 else spacing / math.sin(math.radians(angle_deg))


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFit:
    """Which stock gives a board [mm]."""

    stock: float
    """Shortest stock that will do."""
    offcut: float
    """What is left of it, end trims and saw cuts included."""
    shorter: float | None
    """The next shorter stock, None when there is none."""
    excess: float | None
    """By how much the board is too long for the shorter stock."""


def fit_stock(length: float, *, stock: Sequence[float], end_trim: float) -> StockFit:
    """Return the shortest of the ``stock`` lengths that gives a board of ``length`` with both ends trimmed [mm].

    Raises: NoSolutionError when even the longest is too short.
    """
    enough = [size for size in stock if size - 2.0 * end_trim >= length - EPS]
    if not enough:
        longest = max(stock, default=0.0) - 2.0 * end_trim
        raise NoSolutionError(
            Fault(where="length", code="board-beyond-stock", found=f"{length:g} mm", allowed=f"{longest:g} mm")
        )
    best = min(enough)
    shorter = max((size for size in stock if size < best), default=None)
    excess = None if shorter is None else length - (shorter - 2.0 * end_trim)
    return StockFit(stock=best, offcut=best - length, shorter=shorter, excess=excess)


def width_drift(*, rows: int, tolerance: float) -> float:
    """Return how far the last board can be out of place when every board is ``tolerance`` off its width [mm]."""
    return rows * tolerance
