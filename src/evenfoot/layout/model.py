"""What the boards are: every piece with its outline, the gap really used, and the lines they ask joists on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check
from evenfoot.layout.reckoning import board_span

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
    """One row of boards: its width as laid and where its edges lie across the boards [mm].

    ``near`` and ``far`` are true distances from the starting edge (the outer one; the left one for boards that run away
    from the house), so that they are the running marks of a tape hooked there.
    """

    number: int
    width: float
    near: float
    far: float


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
class Layout:
    """The floor in boards. ``frame_*`` is the outer face of the frame in plan, board edges minus overhang."""

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

    @property
    def board_span(self) -> float:
        """How far a board spans from joist to joist along itself [mm]; at an angle more than the joist spacing."""
        turn = abs(self.direction_deg)
        return board_span(spacing=self.joist_spacing, angle_deg=90.0 - turn if self.joist_axis is Axis.Y else turn)

    @property
    def counts(self) -> Counts:
        """What the layout holds, counted piece by piece."""
        return Counts(
            rows=len(self.rows),
            pieces=len(self.pieces),
            ripped=sum(piece.is_ripped for piece in self.pieces),
            joints=sum(piece.start_on_joist is not None for piece in self.pieces),
            joist_lines=len(self.joist_lines),
            joist_bays=len(self.joist_lines) - 1,
            crossings=self.screws,
            board_length=math.fsum(piece.length for piece in self.pieces),
        )
