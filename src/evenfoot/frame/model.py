"""What the frame is: timbers, the joints between them with who bears on whom, the post places and the grid."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from evenfoot.checks import Check
from evenfoot.job import kinds
from evenfoot.layout import Axis

Mark = NewType("Mark", str)
Point3 = tuple[float, float, float]


class Role(StrEnum):
    """What a timber does."""

    BEAM = "beam"
    JOIST = "joist"
    BLOCK = "block"
    POST = "post"


class JointKind(StrEnum):
    """How two timbers meet. ``upper`` bears on ``lower`` in all of them."""

    LAP_OVER = "lap-over"
    LAP_UNDER = "lap-under"
    HOUSING = "housing"
    BUTT = "butt"
    HANGER = "hanger"
    BEARING = "bearing"
    POST_HEAD = "post-head"


class Entry(StrEnum):
    """From where the piece that comes later enters the joint."""

    ABOVE = "above"
    BELOW = "below"
    SIDE = "side"


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One timber in place. ``start`` and ``end`` are the ends of its top centre line [mm].

    The start is its named end: the left end of a timber along x, the house end of one along y.
    ``length`` is the true length along the timber, its finished cut length.
    """

    mark: Mark
    role: Role
    axis: Axis
    line: str
    """Label of the grid line that it lies on."""
    start: Point3
    end: Point3
    width: float
    depth: float
    length: float
    species: str
    look: kinds.Look
    strength_grade: str
    is_seen: bool
    where: str
    """Place in the job file that it comes from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A meeting of two timbers at plan point (x, y); ``upper`` bears on ``lower``.

    ``at_upper`` and ``at_lower`` are distances along each timber from its start to the middle of the joint.
    ``cut_upper`` is cut out of the underside of the upper, ``cut_lower`` out of the top (or side, for a housing)
    of the lower [mm]. ``seat`` is the bearing length along the upper timber [mm]. Post heads have a post mark as lower.
    ``seat_depth`` is the depth of the bearing surface below the top of the floor frame [mm].
    """

    mark: str
    kind: JointKind
    upper: Mark
    lower: Mark
    x: float
    y: float
    at_upper: float
    at_lower: float
    cut_upper: float
    cut_lower: float
    seat: float
    seat_depth: float
    entry: Entry
    is_end_of_upper: bool
    is_end_of_lower: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Splice:
    """Two pieces of one line that meet end to end over a support; carries no moment."""

    first: Mark
    second: Mark
    over: Mark
    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PostPlace:
    """Where a post stands: its axis in plan and the underside it meets [mm]."""

    mark: Mark
    x: float
    y: float
    under: Mark
    """The timber that it bears."""
    underside: float
    """Level z of that timber's underside on the post axis."""
    underside_slope: tuple[float, float]
    """dz/dx and dz/dy of the underside [-]."""
    width: float
    depth: float
    species: str
    look: kinds.Look
    strength_grade: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GridLine:
    """One line of the grid: letters count along x, numbers along y. ``axis`` is the axis it is counted along."""

    axis: Axis
    label: str
    position: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The whole frame."""

    style: kinds.Style
    joist_axis: Axis
    members: tuple[Member, ...]
    joints: tuple[Joint, ...]
    splices: tuple[Splice, ...]
    posts: tuple[PostPlace, ...]
    grid: tuple[GridLine, ...]
    top_at_wall: float
    """Level z of the frame's top at y = 0 (underside of the boards) [mm]."""
    fall: float
    checks: tuple[Check, ...]

    def member(self, mark: str) -> Member:
        """Return the timber with this mark; KeyError when there is none."""
        for m in self.members:
            if m.mark == mark:
                return m
        raise KeyError(mark)
