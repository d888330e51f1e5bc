"""The steps of the work in order, with drying between them, and the upkeep that follows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfoot.checks import Check


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkStep:
    """One step: person-hours of work, then hours of waiting (drying). ``day`` counts working days from 1.

    ``hours`` of 0 means that the labour rates hold this work inside another step. ``after`` numbers earlier steps.
    """

    number: int
    step: str
    """Code ``step.<step>``."""
    marks: tuple[str, ...]
    hours: float
    wait_hours: float
    day_from: int
    day_to: int
    date_from: date | None
    date_to: date | None
    after: tuple[int, ...]
    cautions: tuple[str, ...]
    """Codes ``caution.<code>`` that belong on this step."""
    how: str = ""
    """Steps of the frame: code ``assembly.<how>``, how these marks are set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """One thing to look after: what (code) and after how many years (range)."""

    what: str
    years_low: float
    years_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Programme:
    """The work in order."""

    steps: tuple[WorkStep, ...]
    days: int
    """Working days from the first step to handing over, drying included."""
    upkeep: tuple[Upkeep, ...]
    checks: tuple[Check, ...]
