"""Whether the air and the timber allow coating, and how long a coat dries."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.job import Job, kinds
from evenfoot.rules.coating_time import COLDEST, DAMPEST, HOTTEST, dew_margin, recoat_hours
from evenfoot.rules.moisture import dew_point, equilibrium_moisture
from evenfoot.tables import wood

_FIT = (-10.0, 60.0)
"""Temperatures that the sorption fit holds for [degrees C]; colder air is refused by ``coat-cold`` anyway."""
_DRIEST, _DAMPEST = 1.0, 98.0
"""Relative humidity that dew point and sorption fit hold for [%]; damper air is refused by ``coat-damp`` anyway."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """How long a coat dries before the next one, and before the floor is used [h]."""

    recoat: float
    final: float


def is_coated(job: Job) -> bool:
    """Return whether the floor gets any finish."""
    return job.finish.kind is not kinds.Coating.NONE and job.finish.coats > 0


def drying_time(job: Job) -> Wait:
    """Return how long coats dry in the weather of the job.

    In air that forbids coating (``coating_checks`` says so) the times are those at the limit of that air.
    """
    known = wood.drying()
    temperature = min(max(job.climate.temperature, COLDEST), HOTTEST)
    humidity = min(job.climate.humidity, DAMPEST)
    recoat, final = (
        recoat_hours(hours_at_20=hours, temperature=temperature, humidity=humidity)
        for hours in (known.between_coats, known.final)
    )
    return Wait(recoat=recoat, final=final)


def coating_checks(job: Job) -> tuple[Check, ...]:
    """Return whether air and timber of the job may be coated; nothing when the floor gets no finish."""
    if not is_coated(job):
        return ()
    climate, known = job.climate, wood.drying()
    air = min(max(climate.temperature, _FIT[0]), _FIT[1])
    humidity = min(max(climate.humidity, _DRIEST), _DAMPEST)
    settled = equilibrium_moisture(temperature=air, humidity=humidity)
    dew = dew_margin(surface=air, dew_point=dew_point(temperature=air, humidity=humidity))
    rows = (
        ("coat-cold", COLDEST, climate.temperature, "degrees C", "coat-wait-warmer"),
        ("coat-hot", climate.temperature, HOTTEST, "degrees C", "coat-wait-cooler"),
        ("coat-damp", climate.humidity, DAMPEST, "%", "coat-wait-drier"),
        ("coat-dew", known.dew_margin, dew, "K", "coat-wait-drier"),
        ("coat-wet-timber", climate.fixing, known.wood_max, "%", "coat-dry-timber"),
    )
    return tuple(
        Check(
            subject="finish",
            rule=rule,
            verdict=Verdict.OK if demand <= capacity else Verdict.FAILS,
            demand=demand,
            capacity=capacity,
            ratio=demand / capacity if capacity > 0 and demand > 0 else None,
            unit=unit,
            source="coat_conditions coat_conditions_2 dew_rule",
            place=climate.where,
            remedy="" if demand <= capacity else remedy,
            facts=(("air", settled), ("fixing", climate.fixing)),
            confirmed=known.is_confirmed,
        )
        for rule, demand, capacity, unit, remedy in rows
    )
