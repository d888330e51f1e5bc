"""The plan: everything that was reckoned for one job, frozen; every sheet, page and command renders this."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

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

Part = TypeVar("Part")


class Later:
    """Parts of one plan that are worked out when they are first asked for, and then kept as long as the plan is."""

    __slots__ = ("_found",)

    def __init__(self) -> None:
        """Start with nothing worked out."""
        self._found: dict[str, Any] = {}

    def part(self, name: str, work: Callable[[], Part]) -> Part:
        """Return what ``work`` found when the part of this name was first asked for."""
        if name not in self._found:
            self._found[name] = work()
        found: Part = self._found[name]
        return found

    def __reduce__(self) -> tuple[type[Later], tuple[()]]:
        """Travel empty: a plan that is sent to another process works its parts out there."""
        return (Later, ())


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
    _later: Later = field(default_factory=Later, init=False, repr=False, compare=False)

    def part(self, name: str, work: Callable[[], Part]) -> Part:
        """Return a part of the plan that is worked out when first asked for; ``work`` may read this plan alone."""
        return self._later.part(name, work)

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
