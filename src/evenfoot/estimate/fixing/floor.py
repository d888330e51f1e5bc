"""What the checks of board screws look at."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.estimate.fixing.distances import Setting
from evenfoot.estimate.fixing.rests import Lines
from evenfoot.frame import Frame
from evenfoot.job import Job
from evenfoot.layout import Layout
from evenfoot.tables import fasteners


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The boards on their joists, and what fixes them."""

    job: Job
    layout: Layout
    frame: Frame
    lines: Lines
    screw: fasteners.Fastener
    setting: Setting
