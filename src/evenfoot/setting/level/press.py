"""What the feet of a planned frame press with, and how lifting one moves load to and from the others."""

from __future__ import annotations

from collections.abc import Mapping

from evenfoot.frame import Frame, Mark
from evenfoot.job import Job
from evenfoot.setting.level.turns import Press
from evenfoot.strength import condense_frame


def press_of(job: Job, frame: Frame, heights: Mapping[Mark, float]) -> Press:
    """Return how the bare frame, timbers alone, stands on its feet.

    Args: heights, clear height of each post [mm].
    Raises: NoSolutionError (``mechanism``) as ``condense_frame``.
    """
    condensed = condense_frame(job, frame, heights)
    return Press(
        marks=tuple(str(mark) for mark in condensed.posts),
        level=condensed.timbers_weight,
        stiffness=condensed.stiffness,
    )
