"""What the boards ask of the frame: its outer faces, the way its joists run, and the lines that they stand on."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.errors import Fault, NoSolutionError
from evenfoot.geom import Heading, box_of
from evenfoot.job import FloorSpec, MemberSpec
from evenfoot.layout.model import Axis, Point
from evenfoot.layout.reckoning import EvenCentres, even_centres

STEEPEST_ALONG = 45.0
"""Boards up to this angle from the wall lie on joists that run away from the house [degrees]."""

LINES_MAX = 20_000
"""More joists than this are no floor but a slip of the pen."""


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
