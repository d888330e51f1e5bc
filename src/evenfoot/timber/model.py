"""What the timber weighs, how it moves with the weather, and where it is likely to rot first."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberMass:
    """Mass of one piece at the moisture of the day [kg]; ``people`` needed to lift it."""

    mark: str
    mass: float
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonGap:
    """The gap between boards over the year [mm]: on the day, after a wet spell, after a dry spell.

    The two ``flat`` and ``quarter`` values of each bound grain that is not known.
    """

    on_the_day: float
    wet_low: float
    wet_high: float
    dry_low: float
    dry_high: float
    advised: float
    """Gap to set so that the wet gap keeps its minimum [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """How far one section shrinks or swells between wet and dry [mm], flat-sawn (the bad case)."""

    species: str
    width: float
    depth: float
    across_width: float
    across_depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """Decay exposure of one detail; ``ratio`` above 1 means that decay may begin within 30 years."""

    detail: str
    species: str
    index: float
    resistance: float
    ratio: float
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """Everything about the wood itself."""

    masses: tuple[TimberMass, ...]
    total_mass: float
    gap: SeasonGap
    movements: tuple[Movement, ...]
    exposures: tuple[Exposure, ...]
    checks: tuple[Check, ...]
