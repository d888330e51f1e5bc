"""Which practice a job is checked by."""

from __future__ import annotations

from evenfoot.job import Job, kinds
from evenfoot.strength.standards.europe import Europe
from evenfoot.strength.standards.japan import Japan
from evenfoot.strength.standards.north_america import NorthAmerica
from evenfoot.strength.standards.practice import Practice


def practice_for(job: Job) -> Practice:
    """Return the practice of the job's standard, applied to its loads."""
    asked, heads = job.loads, job.frame.held.holds_heads
    if job.standard is kinds.Standard.NORTH_AMERICA:
        return NorthAmerica(use=asked.use, snow_depth=asked.snow_depth, person=asked.person, holds_heads=heads)
    if job.standard is kinds.Standard.EUROPE:
        return Europe(
            use=asked.use,
            snow_depth=asked.snow_depth,
            is_heavy_snow_area=asked.is_heavy_snow_area,
            person=asked.person,
            woods=_woods(job),
            holds_heads=heads,
        )
    return Japan(
        use=asked.use,
        wetness=asked.wetness,
        snow_depth=asked.snow_depth,
        is_heavy_snow_area=asked.is_heavy_snow_area,
        person=asked.person,
        holds_heads=heads,
    )


def _woods(job: Job) -> tuple[tuple[str, str], ...]:
    used = (job.floor.board, job.frame.beam, job.frame.joist, job.frame.post)
    return tuple((one.species, one.strength_grade) for one in used)
