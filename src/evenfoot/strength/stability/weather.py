"""What comes down or lifts from above: snow from the roof, and wind under the boards."""

from __future__ import annotations

from evenfoot.checks import Check, Verdict
from evenfoot.job import Job, kinds


def check_roof_snow(job: Job) -> tuple[Check, ...]:
    """Return what is said of snow on the roof above: it is asked for where snow falls, and a slide is not reckoned."""
    said = job.loads.roof_snow
    if said in {kinds.RoofSnow.NONE, kinds.RoofSnow.HELD} or (said is None and job.loads.snow_depth <= 0.0):
        return ()
    is_known = said is kinds.RoofSnow.SLIDES
    return (
        Check(
            subject="floor",
            rule="roof-snow",
            verdict=Verdict.NOT_CHECKED,
            source=f"{job.loads.where}.roof_snow",
            reason="roof-snow-slides" if is_known else "roof-snow-not-said",
            remedy="snow-guards" if is_known else "say-roof-snow",
        ),
    )
