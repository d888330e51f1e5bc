"""What each table of a job file holds, key by key, as it is read before the job is made."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    Strict,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from evenfoot.errors import Fault
from evenfoot.job import kinds
from evenfoot.job.file import sense
from evenfoot.job.file.fields import (
    Choice,
    Figure,
    Length,
    Text,
    Whole,
    fault,
    force_between,
    slope_between,
    temperature_between,
)
from evenfoot.tables import species_ids
from evenfoot.units import format_exact

Coordinate = Annotated[Fraction, Length(low=-2_000_000, high=2_000_000)]
Level = Annotated[Fraction, Length(low=-50_000, high=50_000)]
Section = Annotated[Fraction, Length(low=5, high=1000)]
Gap = Annotated[Fraction, Length(low=0, high=50)]
Reach = Annotated[Fraction, Length(low=0, high=1000)]
Spacing = Annotated[Fraction, Length(low=100, high=20_000)]
Species = Annotated[str, Text(words=species_ids, code="species-unknown")]
Grade = Annotated[str, Text(longest=24)]
Name = Annotated[str, Text(longest=40)]
YesNo = Annotated[bool, Strict()]
Moisture = Annotated[Fraction, Figure(low=2, high=150, unit="%")]


def _day(value: Any) -> date:  # noqa: ANN401 - whatever the file holds
    if not isinstance(value, date) or isinstance(value, datetime):
        raise fault("not-a-date", found=value, allowed="2026-11-25")
    return value


Day = Annotated[date, BeforeValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]


def _amount(value: Any) -> Decimal:  # noqa: ANN401 - whatever the file holds
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise fault("not-a-figure", found=value)
    if not Decimal(value).is_finite():
        raise fault("not-finite", found=value)
    if not 0 <= value <= 10**9:
        raise fault("too-small" if value < 0 else "too-large", found=value, allowed="0 … 1000000000")
    return Decimal(value)


def _span(value: Any) -> tuple[Decimal, Decimal]:  # noqa: ANN401 - whatever the file holds
    parts = value if isinstance(value, list) else [value, value]
    if len(parts) != 2:
        raise fault("not-a-price", found=value, allowed="100, [80, 120]")
    low, high = (_amount(part) for part in parts)
    if low > high:
        raise fault("range-reversed", found=f"[{low}, {high}]", nearest=f"[{high}, {low}]")
    return low, high


_NUMBER_OR_PAIR = {"anyOf": [{"type": "number"}, {"type": "array", "items": {"type": "number"}}]}
Amount = Annotated[Decimal, BeforeValidator(_amount), WithJsonSchema({"type": "number", "minimum": 0})]
PriceSpan = Annotated[tuple[Decimal, Decimal], BeforeValidator(_span), WithJsonSchema(_NUMBER_OR_PAIR)]


class Table(BaseModel):
    """One table of a file: no unknown keys, nothing changed after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    def faults(self, say: sense.Say) -> Iterable[Fault]:  # noqa: ARG002 - for tables whose keys must agree
        """Return where the keys disagree; paths are relative to this table."""
        return ()

    @model_validator(mode="after")
    def _agree(self, info: ValidationInfo) -> Self:
        assert info.context is not None
        unit = info.context["unit"] or "mm"
        faults = tuple(self.faults(lambda mm: format_exact(mm, unit=unit)))
        if faults:
            raise PydanticCustomError("several", "see faults", {"faults": faults})
        return self


def row(*keys: str) -> BeforeValidator:
    """Return a reader that lets a table be typed as a row ``[1, 2, 3]`` or ``["name", 1, 2, 3]``."""

    def to_table(value: Any, info: ValidationInfo) -> Any:  # noqa: ANN401, ARG001
        if not isinstance(value, list):
            return value
        if len(value) == len(keys) + 1 and isinstance(value[0], str):
            return {"name": value[0]} | dict(zip(keys, value[1:], strict=True))
        if len(value) != len(keys):
            raise fault("row-length", found=value, allowed=f"[{', '.join(keys)}]")
        return dict(zip(keys, value, strict=True))

    return BeforeValidator(to_table)


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


class CornerRow(Table):
    """One corner of the outline."""

    x: Coordinate = Field(description="along the wall")
    y: Coordinate = Field(description="away from the wall")


class StationTable(Table):
    """One standing of the instrument."""

    on: Level = Field(description="level of the point that the first reading is taken on")
    backsight: Annotated[Fraction, Length(low=-10_000, high=10_000)] = Field(
        description="rod on that point at the start"
    )
    closing: Annotated[Fraction, Length(low=-10_000, high=10_000)] | None = Field(
        None, description="rod on that point again at the end"
    )
    readings: list[Annotated[RodRow, row("x", "y", "rod")]] = Field(max_length=5000, description="rows [x, y, rod]")


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
    levels: list[Annotated[LevelRow, row("x", "y", "z")]] = Field([], max_length=5000, description="rows [x, y, z]")
    wall: list[Annotated[WallRow, row("x", "out")]] = Field([], max_length=500, description="rows [x, out]")
    obstacle: list[ObstacleTable] = Field([], max_length=500, description="where no post may stand")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.site(self, say)


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
    gap_min: Gap | None = Field(None, description="narrowest gap allowed; 2 mm less than gap when left out")
    gap_max: Gap | None = Field(None, description="widest gap allowed; 3 mm more than gap when left out")
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
    outline: list[Annotated[CornerRow, row("x", "y")]] | None = Field(
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
    joints: JointsTable = Field(description="how they meet")
    footing: FootingTable = Field(description="what the posts stand on")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.frame(self, say)


class LoadsTable(Table):
    """The loads."""

    use: Annotated[kinds.Use, Choice(kinds.Use)] = Field(description="who uses the floor")
    wetness: Annotated[kinds.Wetness, Choice(kinds.Wetness)] = Field(description="how wet the timber is over its life")
    snow_depth: Annotated[Fraction, Length(low=0, high=10_000)] = Field(description="snow depth of the place")
    heavy_snow_area: YesNo = Field(description="whether the place is declared a heavy snow area")
    person: Annotated[Fraction, force_between(low=0, high=50_000)] = Field(description="one person with a load")

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
    stock: list[StockTable] = Field([], max_length=1000, description="timber agreed for this job, before the shop's")

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        return sense.job(self, say)
