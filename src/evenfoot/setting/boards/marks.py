"""Where the edges of every board are marked on the beams, as running dimensions from the starting edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardMark:
    """Both edges of one row, from the starting edge [mm], the same tape hooked there for all of them.

    Mark the same two figures on the beam at either end of the board. ``planned_*`` is where the plan had them.
    """

    row: int
    near: float
    far: float
    planned_near: float
    planned_far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedRow:
    """A row as planned: its number and its edges from the starting edge [mm]."""

    number: int
    near: float
    far: float


def board_marks(
    rows: Sequence[PlannedRow], *, laid_to: float | None, gaps: Sequence[float], widths: Sequence[float], every: int = 1
) -> tuple[BoardMark, ...]:
    """Return the marks of the rows still to lay, each reckoned from the starting edge and never from its neighbour.

    Args: rows, those still to lay; laid_to, far edge of the last laid board from the starting edge [mm], None where
    none is laid; gaps, before each of the rows (one fewer where none is laid) [mm]; widths, of the rows [mm]; every,
    mark only each second, third row, the last one always: what lies between is set by spacers.
    """
    assert every >= 1, "at least every board"
    before = [0.0, *gaps] if laid_to is None else list(gaps)
    assert len(before) == len(rows) == len(widths), "a gap and a width for each row"
    edge = 0.0 if laid_to is None else laid_to
    out = []
    for number, (row, gap, width) in enumerate(zip(rows, before, widths, strict=True), start=1):
        near, edge = edge + gap, edge + gap + width
        if number % every == 0 or number == len(rows):
            out.append(BoardMark(row=row.number, near=near, far=edge, planned_near=row.near, planned_far=row.far))
    return tuple(out)
