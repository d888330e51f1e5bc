"""The wood of one job: masses, the gap over the year, movement, and the details that decay likes."""

from __future__ import annotations

from evenfoot.frame import Frame
from evenfoot.job import Job
from evenfoot.layout import Layout
from evenfoot.timber.gaps import follow_gap
from evenfoot.timber.model import Timber
from evenfoot.timber.moves import follow_sections
from evenfoot.timber.ranking import rank_details
from evenfoot.timber.weigh import weigh


def know_timber(job: Job, layout: Layout, frame: Frame) -> Timber:
    """Return what the timber weighs, how it moves and where it is likely to rot first.

    Raises: OutOfRangeError when a wood is not on record or a moisture lies outside the rules, with its place.
    """
    weights = weigh(job, layout, frame)
    season = follow_gap(job, layout)
    ranking = rank_details(job, layout, frame)
    return Timber(
        masses=weights.masses,
        total_mass=sum(m.mass for m in weights.masses),
        gap=season.gap,
        movements=follow_sections(job, frame),
        exposures=ranking.exposures,
        checks=(*weights.checks, *season.checks, *ranking.checks),
    )
