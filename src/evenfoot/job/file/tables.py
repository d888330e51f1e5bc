"""What a job file holds, key by key, as it is read before the job is made."""

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
    Day,
    Grade,
    Moisture,
    Name,
    PriceSpan,
    Section,
    Species,
    Table,
    YesNo,
)
from evenfoot.job.file.fields import (
    Choice,
    Figure,
    Length,
    Text,
    Whole,
    force_between,
    pressure_between,
    temperature_between,
)
from evenfoot.job.file.floor_tables import FloorTable, FrameTable
from evenfoot.job.file.holding_tables import GuardTable, HeavyTable, MakersTable, heavy_faults
from evenfoot.job.file.site_tables import SiteTable


class LoadsTable(Table):
    """The loads."""

    use: Annotated[kinds.Use, Choice(kinds.Use)] = Field(description="who uses the floor")
    wetness: Annotated[kinds.Wetness, Choice(kinds.Wetness)] = Field(description="how wet the timber is over its life")
    snow_depth: Annotated[Fraction, Length(low=0, high=10_000)] = Field(description="snow depth of the place")
    heavy_snow_area: YesNo = Field(description="whether the place is declared a heavy snow area")
    person: Annotated[Fraction, force_between(low=0, high=50_000)] = Field(description="one person with a load")
    roof_snow: Annotated[kinds.RoofSnow, Choice(kinds.RoofSnow)] | None = Field(
        None, description="what snow on the roof above does: none comes, guards hold it, or it slides down on the floor"
    )
    sideways: Annotated[Fraction, Figure(low=0, high=1)] | None = Field(
        None, description="sideways share of the vertical load; 0.05 when left out"
    )
    earthquake: Annotated[Fraction, Figure(low=0, high=2)] | None = Field(
        None, description="sideways share of an earthquake; as the standard asks when left out"
    )
    wind: Annotated[Fraction, pressure_between(low=0, high=0.01)] | None = Field(
        None, description="wind pressure on the edge of the floor and on a closed guard"
    )
    uplift: Annotated[Fraction, pressure_between(low=0, high=0.01)] | None = Field(
        None, description="wind suction that lifts the boards"
    )
    heavy: list[HeavyTable] = Field([], max_length=100, description="heavy things that stay: tubs, planters, stoves")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.loads(self, say)


class FinishTable(Table):
    """The coating."""

    kind: Annotated[kinds.Coating, Choice(kinds.Coating)] = Field(description="kind of finish")
    coats: Annotated[int, Whole(low=0, high=6)] | None = Field(None, description="2 when left out, 0 without a finish")
    hidden_first: YesNo = Field(description="whether hidden faces are coated before they are hidden")

    def faults(self, say: sense.Say) -> Iterable[Fault]:  # noqa: ARG002
        """Return where the keys disagree."""
        return sense.finish(self)


class ClimateTable(Table):
    """Moisture and weather."""

    fixing: Moisture = Field(description="moisture of the boards on the day")
    dry: Moisture = Field(description="in the driest weeks of the year")
    wet: Moisture = Field(description="in the wettest weeks of the year")
    temperature: Annotated[Fraction, temperature_between(low=-20, high=50)] = Field(
        description="mean air while working"
    )
    humidity: Annotated[Fraction, Figure(low=1, high=100, unit="%")] = Field(description="mean air while working")

    def faults(self, say: sense.Say) -> Iterable[Fault]:  # noqa: ARG002
        """Return where the keys disagree."""
        return sense.climate(self)


class CrewTable(Table):
    """The people."""

    people: Annotated[int, Whole(low=1, high=100)] = Field(description="how many build it")
    hours_a_day: Annotated[Fraction, Figure(above=0, high=24, unit="h")] = Field(description="working hours")
    start: Day | None = Field(None, description="first working day")


class SpareTable(Table):
    """How many spare pieces are wanted of each part, each as long as its longest."""

    board: Annotated[int, Whole(low=0, high=100)] = Field(0, description="spare boards")
    beam: Annotated[int, Whole(low=0, high=100)] = Field(0, description="spare beams")
    joist: Annotated[int, Whole(low=0, high=100)] = Field(0, description="spare joists")
    block: Annotated[int, Whole(low=0, high=100)] = Field(0, description="spare blocks")
    post: Annotated[int, Whole(low=0, high=100)] = Field(0, description="spare posts")


class CuttingTable(Table):
    """What is wished of the cutting plan."""

    spare: SpareTable | None = Field(None, description="spare pieces, each as long as the longest of its part")
    together: list[Annotated[kinds.Part, Choice(kinds.Part)]] = Field(
        [], max_length=5, description="parts whose pieces for one place come from one stick where that costs nothing"
    )


class StockTable(Table):
    """One section that can be bought."""

    species: Species = Field(description="wood")
    look: Annotated[kinds.Look, Choice(kinds.Look)] = Field(description="appearance grade")
    strength_grade: Grade = Field(description="strength grade, or ungraded")
    width: Section = Field(description="finished width")
    depth: Section = Field(description="finished depth")
    rough_width: Section | None = Field(None, description="width as bought; the finished one when left out")
    rough_depth: Section | None = Field(None, description="depth as bought; the finished one when left out")
    lengths: list[Annotated[Fraction, Length(low=100, high=30_000)]] = Field(
        min_length=1, max_length=100, description="lengths sold"
    )
    available: Annotated[int, Whole(low=0, high=100_000)] | None = Field(
        None, description="pieces of each length; any number when left out"
    )
    price: PriceSpan = Field(description="a figure, or [low, high]")
    price_by: Annotated[kinds.PriceBy, Choice(kinds.PriceBy)] = Field(description="what the price counts")
    asked_on: Day | None = Field(None, description="day that the price was asked")
    label: Annotated[str, Text(longest=40, shortest=0)] = Field("", description="the yard's name for it")
    stands_in_for: list[Grade] = Field(
        [], max_length=20, description="lesser woods and strength grades that it may be taken for, at its price"
    )


class JobFile(Table):
    """The whole job file."""

    name: Name = Field(description="name of the job")
    unit: Annotated[kinds.Unit, Choice(kinds.Unit)] = Field(description="unit of every bare length in this file")
    standard: Annotated[kinds.Standard, Choice(kinds.Standard)] = Field(description="design standard of the checks")
    date: Day | None = Field(None, description="day of the drawing")
    paper: Annotated[str, Text(words=lambda: ("A3", "A4", "letter", "tabloid"))] = Field(description="sheet size")
    site: SiteTable = Field(description="what was read on site")
    floor: FloorTable = Field(description="what was agreed")
    frame: FrameTable = Field(description="how it is carried")
    loads: LoadsTable = Field(description="what it must carry")
    finish: FinishTable = Field(description="the coating")
    climate: ClimateTable = Field(description="moisture and weather")
    crew: CrewTable = Field(description="who builds it")
    guard: GuardTable | None = Field(None, description="a guard along the edge")
    makers: MakersTable | None = Field(None, description="what makers say that their metal bears")
    cutting: CuttingTable | None = Field(None, description="what is wished of the cutting plan")
    stock: list[StockTable] = Field([], max_length=1000, description="timber agreed for this job, before the shop's")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        yield from sense.job(self, say)
        yield from heavy_faults(self.loads.heavy, sense.edges(self.floor), say)
