"""What the timber weighs, how it moves with the weather, and where it is likely to rot first."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberMass:
    """Mass of one piece, uncut, at the moisture of the day [kg]; ``people`` needed to lift it.

    Treated stock that comes at or above fibre saturation is weighed as it leaves the cylinder.
    """

    mark: str
    mass: float
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonGap:
    """The gap between boards over the year [mm]: on the day, after a wet spell, after a dry spell.

    Grain is not known when boards are ordered: ``low`` and ``high`` are the gaps beside flat-sawn and quarter-sawn
    boards, whichever is less and more. A negative wet gap means that boards press on each other.
    """

    on_the_day: float
    wet_low: float
    wet_high: float
    dry_low: float
    dry_high: float
    advised: float
    """Least gap to set so that the wet gap keeps its minimum beside flat-sawn boards, up to the next half mm [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """How far one section moves between wet and dry [mm], each way at the tangential rate (the bad case)."""

    species: str
    width: float
    depth: float
    across_width: float
    across_depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """Decay exposure of one detail in one wood; ``ratio`` above 1 means that decay may begin within 30 years.

    A ranking of details, not a length of life: most factors behind it are unconfirmed.
    """

    detail: str
    species: str
    index: float
    resistance: float
    ratio: float
    remedy: str
    marks: tuple[str, ...] = ()
    """The timbers, boards, joints or posts that have this detail."""
    is_confirmed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """Everything about the wood itself."""

    masses: tuple[TimberMass, ...]
    """Boards and frame; posts have no length yet in this room."""
    total_mass: float
    """Mass of boards and frame together [kg]."""
    gap: SeasonGap
    movements: tuple[Movement, ...]
    exposures: tuple[Exposure, ...]
    checks: tuple[Check, ...]
