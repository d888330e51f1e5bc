"""Which practice a job is checked by."""

from __future__ import annotations

from evenfoot.job import Job, kinds
from evenfoot.strength.standards.japan import Japan
from evenfoot.strength.standards.north_america import NorthAmerica
from evenfoot.strength.standards.practice import Practice


def practice_for(job: Job) -> Practice | None:
    """Return the practice of the job's standard, applied to its loads; None when that standard is not built yet."""
    asked, heads = job.loads, job.frame.held.holds_heads
    if job.standard is kinds.Standard.NORTH_AMERICA:
        return NorthAmerica(use=asked.use, snow_depth=asked.snow_depth, person=asked.person, holds_heads=heads)
    if job.standard is not kinds.Standard.JAPAN:
        return None
    return Japan(
        use=asked.use,
        wetness=asked.wetness,
        snow_depth=asked.snow_depth,
        is_heavy_snow_area=asked.is_heavy_snow_area,
        person=asked.person,
        holds_heads=heads,
    )
