"""The checked job: what the client and the site ask for, everything in mm, N, kg, degrees C and percent moisture."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfoot.job.holding import HELD_UNSAID, MAKERS_UNSAID, Guard, HeavyThing, Held, Ledger, Makers
from evenfoot.job.kinds import (
    Closing,
    Coating,
    Footing,
    Ground,
    Joint,
    Look,
    Part,
    RoofSnow,
    Soil,
    Standard,
    Style,
    Surface,
    Unit,
    Use,
    Wetness,
)
from evenfoot.job.shop import StockItem

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class RodReading:
    """A rod held on the ground at (x, y) read ``rod`` below the line of sight [mm]."""

    name: str
    x: float
    y: float
    rod: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One standing of the instrument: the rod on a point of known level, the readings, and the rod there again."""

    on: float
    """Level z of the point that the backsight was taken on [mm]."""
    backsight: float
    closing: float | None
    """The rod on the same point at the end; None when it was not read again."""
    readings: tuple[RodReading, ...]
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelReading:
    """The ground stands at level z (0 = finished floor indoors, up positive) at (x, y) [mm]."""

    name: str
    x: float
    y: float
    z: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WallOffset:
    """At x along the wall its face stands ``out`` from the line y = 0 (outward positive) [mm]."""

    x: float
    out: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A rectangle on the ground where no post may stand (drain, pipe, root), with clear space around it [mm]."""

    name: str
    x: float
    y: float
    width: float
    depth: float
    clearance: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSpec:
    """What was read on site."""

    has_house: bool
    """Whether y and z count from the wall of a house and the floor inside it, or from a base line and a datum."""
    sill: float
    """Level of the top of the door sill [mm]; 0 when it is flush with the floor indoors."""
    ground: Ground
    surface: Surface
    accuracy: float
    """Accuracy of one level reading, +- mm, 19 times in 20."""
    stations: tuple[Station, ...]
    levels: tuple[LevelReading, ...]
    wall: tuple[WallOffset, ...]
    obstacles: tuple[Obstacle, ...]
    where: str
    soil: Soil | None = None
    """What lies under the footings; None = not said."""
    bearing: float | None = None
    """What the ground may bear [N/mm2]; None = by the soil."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSpec:
    """The boards of the floor [mm, degrees]."""

    thickness: float
    width: float
    species: str
    look: Look
    strength_grade: str
    direction_deg: float
    """0 = along the wall, 90 = away from the house, anything between for boards at an angle (-90 < a <= 90)."""
    gap: float
    gap_min: float
    gap_max: float
    closing: Closing
    rip_min: float
    """Narrowest ripped board allowed [mm]."""
    end_gap: float
    """Clear space between two board ends that meet on a joist [mm]."""
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Overhang:
    """How far the boards reach past the outer face of the frame on each side [mm]."""

    wall: float
    outer: float
    left: float
    right: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorSpec:
    """The floor that was agreed: its outline is the edge of the boards, overhangs included."""

    outline: tuple[Point, ...]
    """Corners counter-clockwise, first corner not repeated [mm]."""
    drop: float
    """How far the finished surface at the wall lies under the sill [mm]."""
    fall: float
    """Fall outward along +y as a ratio (0 = level, 1/80 = 0.0125) [-]."""
    board: BoardSpec
    overhang: Overhang
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberSpec:
    """Timber for one use: finished section [mm], species, grades, and the widest spacing wanted."""

    width: float
    depth: float
    species: str
    look: Look
    strength_grade: str
    """``ungraded`` or a grade of the standard, such as ``ko-2`` or ``e70``."""
    is_seen: bool
    spacing_max: float
    """Beams and joists: widest centre distance to the next; posts: widest along the beam [mm]."""
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSpec:
    """Joints of the frame."""

    joist: Joint
    """How an ordinary joist meets a beam."""
    post_joist: Joint
    """Flush frames: how a joist that stands on posts meets a beam (lap-under carries the beam on the joist)."""
    seat: float | None
    """Depth cut out of the beam for a housing or a lap; None = half the joist [mm]."""
    splice: bool
    """Whether beams and joists may be lengthened over posts or beams."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FootingSpec:
    """What stands between post and ground [mm]."""

    kind: Footing
    height: float
    """From ground to the top of the footing."""
    size: float
    """Side of its square base."""
    is_bedded_level: bool
    """True when its top is set level whatever the ground does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSpec:
    """How the floor is carried."""

    style: Style
    beam: MemberSpec
    joist: MemberSpec
    post: MemberSpec
    setback: float
    """From the outer face of the frame to the outer face of a post [mm]."""
    joints: JointSpec
    footing: FootingSpec
    rough_allowance: float
    """Added to a post for its rough cut [mm]."""
    where: str
    post_lines: tuple[float, ...] = ()
    """Where lines of posts lie along the beams, in the axes of the floor; empty for even spacing [mm]."""
    held: Held = HELD_UNSAID
    ledger: Ledger | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSpec:
    """What the floor must carry."""

    use: Use
    wetness: Wetness
    snow_depth: float
    """Vertical snow depth of the place [mm]; 0 = none asked."""
    is_heavy_snow_area: bool
    person: float
    """One person with a load on one board or joist [N]."""
    where: str
    roof_snow: RoofSnow | None = None
    """What snow on the roof above does; None = not said."""
    sideways: float | None = None
    """Sideways share of the vertical load [-]; None = our own."""
    earthquake: float | None = None
    """Sideways share of an earthquake [-]; None = as the standard asks."""
    wind: float | None = None
    """Wind pressure on the edge of the floor [N/mm2]; None = not asked."""
    uplift: float | None = None
    """Wind suction under the boards [N/mm2]; None = not asked."""
    heavy: tuple[HeavyThing, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """The coating."""

    kind: Coating
    coats: int
    hidden_first: bool
    """True when hidden faces are coated before they are hidden."""
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """Moisture of the boards [% of dry mass] and the weather while coating."""

    fixing: float
    dry: float
    wet: float
    temperature: float
    """Mean air temperature at the time of the work [degrees C]."""
    humidity: float
    """Mean relative humidity at the time of the work [%]."""
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """Who builds it."""

    people: int
    hours_a_day: float
    start: date | None
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWish:
    """What is wished of the cutting plan: spare pieces of each part, and parts whose pieces belong together."""

    spares: tuple[tuple[Part, int], ...] = ()
    together: tuple[Part, ...] = ()
    """Pieces of these for one place (a row of boards, a line of joists) come from one stick where it costs nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One job, checked. ``stock`` overrides or adds to the shop's stock (prices agreed with the client)."""

    name: str
    unit: Unit
    standard: Standard
    date: date | None
    paper: str
    """Sheet size of the drawings: A3, A4, letter or tabloid."""
    site: SiteSpec
    floor: FloorSpec
    frame: FrameSpec
    loads: LoadSpec
    finish: Finish
    climate: Climate
    crew: Crew
    stock: tuple[StockItem, ...]
    guard: Guard | None = None
    makers: Makers = MAKERS_UNSAID
    cutting: CutWish = CutWish()
