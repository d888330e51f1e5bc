"""What the boards ask of the frame: its outer faces, the way its joists run, and the lines that they stand on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.errors import Fault, NoSolutionError, OutOfRangeError
from evenfoot.geom import Heading, box_of
from evenfoot.job import FloorSpec, MemberSpec
from evenfoot.layout.model import Axis, Point

STEEPEST_ALONG = 45.0
"""Boards up to this angle from the wall lie on joists that run away from the house [degrees]."""

LINES_MAX = 20_000
"""More joists than this are no floor but a slip of the pen."""


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
class FrameFaces:
    """Outer faces of the frame in plan and the joists between them [mm]."""

    x: tuple[float, float]
    y: tuple[float, float]
    joist_axis: Axis
    joists: EvenCentres


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossings:
    """Where joist axes cross the boards: joist ``order`` is crossed at u = bases[order] + slant * v [mm].

    Joists count in the order in which they are met along the boards; ``is_reversed`` when that is not the order of the
    joist lines. ``skew`` is the share of a true distance square to the joists in a distance along the boards.
    """

    bases: tuple[float, ...]
    slant: float
    skew: float
    is_reversed: bool

    def index(self, order: int) -> int:
        """Return the joist's place among the joist lines."""
        return len(self.bases) - 1 - order if self.is_reversed else order


def joist_axis_for(direction_deg: float) -> Axis:
    """Return the way joists run under boards at ``direction_deg`` from the wall (decision 001)."""
    return Axis.Y if abs(direction_deg) <= STEEPEST_ALONG else Axis.X


def frame_faces(outline: tuple[Point, ...], *, floor: FloorSpec, joist: MemberSpec) -> FrameFaces:
    """Return the outer faces of the frame under ``outline`` and its joists at even centres.

    The faces are the box around the outline less the overhangs; the outer joists are flush with them.
    Raises: NoSolutionError when nothing is left between the overhangs or the joists would touch one another.
    """
    box, over = box_of(outline), floor.overhang
    x, y = (box.x0 + over.left, box.x1 - over.right), (box.y0 + over.wall, box.y1 - over.outer)
    axis = joist_axis_for(floor.board.direction_deg)
    across = x if axis is Axis.Y else y
    along = y if axis is Axis.Y else x
    room = across[1] - across[0] - joist.width
    if room <= 0.0 or along[1] <= along[0]:
        least = min(across[1] - across[0] - 2.0 * joist.width, along[1] - along[0])
        raise NoSolutionError(
            Fault(where=over.where, code="no-frame-between-overhangs", found=f"{least:g} mm", allowed="> 0 mm")
        )
    if joist.spacing_max <= joist.width or room / joist.spacing_max > LINES_MAX:
        raise NoSolutionError(
            Fault(
                where=f"{joist.where}.spacing_max",
                code="joists-too-close",
                found=f"{joist.spacing_max:g} mm",
                allowed=f"> {max(joist.width, room / LINES_MAX):g} mm",
            )
        )
    half = joist.width / 2.0
    joists = even_centres(first=across[0] + half, last=across[1] - half, spacing_max=joist.spacing_max)
    return FrameFaces(x=x, y=y, joist_axis=axis, joists=joists)


def crossings(faces: FrameFaces, heading: Heading) -> Crossings:
    """Return where the joists cross boards that run along ``heading``."""
    if faces.joist_axis is Axis.Y:
        lean, other, stretch = heading.cos, heading.sin, 1.0
    else:
        lean, other, stretch = heading.sin, -heading.cos, heading.stretch
    bases = [line * stretch / lean for line in faces.joists.lines]
    is_reversed = lean < 0.0
    return Crossings(
        bases=tuple(reversed(bases) if is_reversed else bases),
        slant=other / lean,
        skew=abs(lean),
        is_reversed=is_reversed,
    )
