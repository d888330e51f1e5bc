"""How many rows, boards, bays and crossings there really are, how far widths may drift, and which stock will do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.errors import Fault, NoSolutionError
from evenfoot.layout.closing import EPS
from evenfoot.layout.model import Layout


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """Each counted by itself; none is worked out from an area."""

    rows: int
    pieces: int
    ripped: int
    joints: int
    """Places where two board ends meet."""
    joist_lines: int
    joist_bays: int
    crossings: int
    """Places where a piece lies over a joist."""
    board_length: float
    """All pieces end to end [mm]."""


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


def count_layout(layout: Layout) -> Counts:
    """Return what the layout holds, counted piece by piece."""
    return Counts(
        rows=len(layout.rows),
        pieces=len(layout.pieces),
        ripped=sum(piece.is_ripped for piece in layout.pieces),
        joints=sum(piece.start_on_joist is not None for piece in layout.pieces),
        joist_lines=len(layout.joist_lines),
        joist_bays=len(layout.joist_lines) - 1,
        crossings=layout.screws,
        board_length=math.fsum(piece.length for piece in layout.pieces),
    )


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
