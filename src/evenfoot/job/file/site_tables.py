"""What the site's tables in a job file hold, key by key."""

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
    Level,
    Name,
    Table,
    YesNo,
    row,
)
from evenfoot.job.file.fields import (
    Choice,
    Length,
    pressure_between,
)


class RodRow(Table):
    """One rod reading."""

    name: Name | None = Field(None, description="name of the point; r1, r2 ... when left out")
    x: Coordinate = Field(description="along the wall")
    y: Coordinate = Field(description="away from the wall")
    rod: Annotated[Fraction, Length(low=-10_000, high=10_000)] = Field(description="reading below the line of sight")


class LevelRow(Table):
    """One ground level."""

    name: Name | None = Field(None, description="name of the point; p1, p2 ... when left out")
    x: Coordinate = Field(description="along the wall")
    y: Coordinate = Field(description="away from the wall")
    z: Level = Field(description="level above the floor indoors, down is negative")


class WallRow(Table):
    """One offset of the wall."""

    x: Coordinate = Field(description="along the wall")
    out: Annotated[Fraction, Length(low=-1000, high=1000)] = Field(description="wall face outward of the line y = 0")


class StationTable(Table):
    """One standing of the instrument."""

    on: Level = Field(description="level of the point that the first reading is taken on")
    backsight: Annotated[Fraction, Length(low=-10_000, high=10_000)] = Field(
        description="rod on that point at the start"
    )
    closing: Annotated[Fraction, Length(low=-10_000, high=10_000)] | None = Field(
        None, description="rod on that point again at the end"
    )
    readings: list[Annotated[RodRow, row("readings")]] = Field(max_length=5000, description="rows [x, y, rod]")


class ObstacleTable(Table):
    """Something in the ground."""

    name: Name = Field(description="what it is")
    x: Coordinate = Field(description="left edge")
    y: Coordinate = Field(description="edge nearest to the house")
    width: Annotated[Fraction, Length(above=0, high=100_000)] = Field(description="size along the wall")
    depth: Annotated[Fraction, Length(above=0, high=100_000)] = Field(description="size away from the wall")
    clearance: Annotated[Fraction, Length(low=0, high=5000)] = Field(description="clear space wanted around it")


class SiteTable(Table):
    """The site as read."""

    house: YesNo = Field(description="whether the floor is at a house; one that stands free counts from a base line")
    sill: Annotated[Fraction, Length(low=-5000, high=5000)] = Field(
        description="top of the door sill above the floor indoors"
    )
    ground: Annotated[kinds.Ground, Choice(kinds.Ground)] = Field(description="what the footings stand on")
    surface: Annotated[kinds.Surface, Choice(kinds.Surface)] = Field(
        description="how levels between readings are found"
    )
    accuracy: Annotated[Fraction, Length(above=0, high=100)] = Field(
        description="one reading is right to plus or minus this, 19 times in 20"
    )
    station: list[StationTable] = Field([], max_length=100, description="standings of the instrument")
    levels: list[Annotated[LevelRow, row("levels")]] = Field([], max_length=5000, description="rows [x, y, z]")
    wall: list[Annotated[WallRow, row("wall")]] = Field([], max_length=500, description="rows [x, out]")
    obstacle: list[ObstacleTable] = Field([], max_length=500, description="where no post may stand")
    soil: Annotated[kinds.Soil, Choice(kinds.Soil)] | None = Field(None, description="what lies under the footings")
    bearing: Annotated[Fraction, pressure_between(low=0.001, high=10)] | None = Field(
        None, description="what the ground may bear; by the soil and the standard when left out"
    )

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.site(self, say)
