"""What the floor's and the frame's tables in a job file hold, key by key."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Annotated

from pydantic import (
    Field,
)

from evenfoot.errors import Fault
from evenfoot.job import kinds
from evenfoot.job.file import sense
from evenfoot.job.file.common import (
    Coordinate,
    Gap,
    Grade,
    Reach,
    Section,
    Spacing,
    Species,
    Table,
    YesNo,
    row,
)
from evenfoot.job.file.fields import (
    Choice,
    Figure,
    Length,
    slope_between,
)
from evenfoot.job.file.holding_tables import HeldTable, LedgerTable


class CornerRow(Table):
    """One corner of the outline."""

    x: Coordinate = Field(description="along the wall")
    y: Coordinate = Field(description="away from the wall")


class BoardTable(Table):
    """The boards."""

    thickness: Section = Field(description="finished thickness")
    width: Section = Field(description="finished width")
    species: Species = Field(description="wood")
    look: Annotated[kinds.Look, Choice(kinds.Look)] = Field(description="appearance grade")
    strength_grade: Grade = Field(description="strength grade of the standard, or ungraded")
    direction_deg: Annotated[Fraction, Figure(above=-90, high=90, unit="°")] = Field(
        description="0 along the wall, 90 away from the house"
    )
    gap: Gap = Field(description="gap wanted on the day")
    gap_min: Gap | None = Field(None, description="narrowest gap allowed; half the gap when left out")
    gap_max: Gap | None = Field(None, description="widest gap allowed; one and a half times the gap when left out")
    closing: Annotated[kinds.Closing, Choice(kinds.Closing)] = Field(description="who gives way so that the run closes")
    rip_min: Annotated[Fraction, Length(low=0, high=1000)] | None = Field(
        None, description="narrowest ripped board; half a board when left out"
    )
    end_gap: Gap = Field(description="gap between two board ends on one joist")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.board(self, say)


class OverhangTable(Table):
    """How far boards reach past the frame."""

    wall: Reach = Field(description="at the house")
    outer: Reach = Field(description="at the outer edge")
    left: Reach = Field(description="at the left end")
    right: Reach = Field(description="at the right end")


class FloorTable(Table):
    """The floor."""

    width: Annotated[Fraction, Length(low=100, high=2_000_000)] | None = Field(None, description="along the wall")
    depth: Annotated[Fraction, Length(low=100, high=2_000_000)] | None = Field(None, description="away from the wall")
    left: Coordinate = Field(Fraction(0), description="x of the left edge of a rectangle")
    wall_gap: Reach = Field(Fraction(10), description="from the wall line to the first board of a rectangle")
    outline: list[Annotated[CornerRow, row("outline")]] | None = Field(
        None, max_length=200, description="corners [x, y] of any other shape, in order, either way round"
    )
    drop: Annotated[Fraction, Length(low=0, high=10_000)] = Field(description="finished surface below the sill")
    fall: Annotated[Fraction, slope_between(low=0, high=0.1)] = Field(description="fall outward, 0 is level")
    board: BoardTable = Field(description="the boards")
    overhang: OverhangTable = Field(description="boards past the frame")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.floor(self, say)


class MemberTable(Table):
    """One kind of timber in the frame."""

    width: Section = Field(description="finished width")
    depth: Section = Field(description="finished depth")
    species: Species = Field(description="wood")
    look: Annotated[kinds.Look, Choice(kinds.Look)] = Field(description="appearance grade")
    strength_grade: Grade = Field(description="strength grade of the standard, or ungraded")
    seen: YesNo = Field(description="whether it is seen when the floor is done")
    spacing_max: Spacing = Field(description="widest centre distance; for posts along the timber they carry")


class JointsTable(Table):
    """The joints."""

    joist: Annotated[kinds.Joint, Choice(kinds.Joint)] = Field(description="how a joist meets a beam")
    post_joist: Annotated[kinds.Joint, Choice(kinds.Joint)] = Field(description="the same for a joist on posts")
    seat: Annotated[Fraction, Length(above=0, high=1000)] | None = Field(
        None, description="depth cut out of the beam; half the joist when left out"
    )
    splice: YesNo = Field(description="whether timbers may be lengthened over a support")


class FootingTable(Table):
    """The footings."""

    kind: Annotated[kinds.Footing, Choice(kinds.Footing)] = Field(description="what stands under a post")
    height: Annotated[Fraction, Length(low=0, high=3000)] = Field(description="from the ground to its top")
    size: Annotated[Fraction, Length(low=20, high=3000)] = Field(description="side of its square base")
    bedded_level: YesNo = Field(description="whether its top is set level whatever the ground does")


class FrameTable(Table):
    """The frame."""

    style: Annotated[kinds.Style, Choice(kinds.Style)] = Field(description="how the frame is built")
    setback: Annotated[Fraction, Length(low=0, high=5000)] = Field(description="from frame edge to post face")
    rough_allowance: Annotated[Fraction, Length(low=0, high=1000)] = Field(description="added to a post's rough cut")
    beam: MemberTable = Field(description="timbers that carry joists")
    joist: MemberTable = Field(description="timbers that carry boards")
    post: MemberTable = Field(description="what stands on the footings")
    post_lines: list[Coordinate] | None = Field(
        None, min_length=1, max_length=1000, description="where lines of posts lie along the beams, not evenly spaced"
    )
    joints: JointsTable = Field(description="how they meet")
    footing: FootingTable = Field(description="what the posts stand on")
    held: HeldTable | None = Field(None, description="what holds the floor sideways")
    ledger: LedgerTable | None = Field(None, description="a ledger on the house that joists rest on")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.frame(self, say)
