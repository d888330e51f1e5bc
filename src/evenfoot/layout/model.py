"""What the boards are: every piece with its outline, the gap really used, and the lines they ask joists on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check

Point = tuple[float, float]


class Axis(StrEnum):
    """A direction in plan."""

    X = "x"
    Y = "y"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPiece:
    """One piece of board to cut and lay.

    ``outline`` is its seen top face in plan (mm, counter-clockwise). ``length`` is the longest extent along the
    board, ``width`` the widest across, as cut. ``row`` counts from the starting edge, ``index`` along the row.
    """

    mark: str
    row: int
    index: int
    outline: tuple[Point, ...]
    start: Point
    """Middle of the first end (lowest along the board)."""
    end: Point
    length: float
    width: float
    is_ripped: bool
    is_shaped: bool
    """True when an end or edge is not square (clipped by the outline)."""
    start_on_joist: int | None
    """Index into ``Layout.joist_lines`` where the first end meets another piece; None at a free end."""
    end_on_joist: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of boards: its width as laid and where its edges lie across the boards [mm]."""

    number: int
    width: float
    near: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The floor in boards. ``frame_*`` is the outer face of the frame, board edges minus overhang."""

    outline: tuple[Point, ...]
    """The outline really used: the job's, or the moved one."""
    direction_deg: float
    gap: float
    """Clear gap on the day, the same between all rows [mm]."""
    rows: tuple[Row, ...]
    pieces: tuple[BoardPiece, ...]
    joist_axis: Axis
    """The direction that joists run in."""
    joist_lines: tuple[float, ...]
    """Where joist axes lie across ``joist_axis`` (x for joists along y) [mm], rising."""
    joist_spacing: float
    """Even centre distance of the joists [mm]."""
    frame_x: tuple[float, float]
    frame_y: tuple[float, float]
    screws: int
    """Board-over-joist crossings."""
    checks: tuple[Check, ...]
