"""The plan: everything that was reckoned for one job, frozen; every sheet, page and command renders this."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, worst
from evenfoot.cutting import CuttingPlan
from evenfoot.estimate import Estimate
from evenfoot.frame import Frame
from evenfoot.job import Job, Log, Shop, Yard
from evenfoot.joints import Joinery
from evenfoot.layout import Layout
from evenfoot.posts import Posts
from evenfoot.programme import Programme
from evenfoot.site import Ground
from evenfoot.strength import Strength
from evenfoot.timber import Timber


@dataclass(frozen=True, slots=True, kw_only=True)
class Framed:
    """A job as far as its frame and what that bears: what a search looks at before it asks for a whole plan."""

    job: Job
    frame: Frame
    strength: Strength


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One job, reckoned through every room."""

    job: Job
    shop: Shop
    log: Log
    yard: Yard
    ground: Ground
    layout: Layout
    frame: Frame
    strength: Strength
    joinery: Joinery
    posts: Posts
    timber: Timber
    cutting: CuttingPlan
    estimate: Estimate
    programme: Programme

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every finding of every room, in the order of the work."""
        rooms = (
            self.ground,
            self.layout,
            self.frame,
            self.strength,
            self.joinery,
            self.posts,
            self.timber,
            self.cutting,
            self.estimate,
            self.programme,
        )
        return tuple(c for room in rooms for c in room.checks)

    @property
    def verdict(self) -> Verdict:
        """The gravest verdict of all findings."""
        return worst(self.checks)
