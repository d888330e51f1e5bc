"""How near an end, an edge and each other fixings may sit by the job's standard, bare or with pilot holes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.job import kinds
from evenfoot.rules import ec5_fasteners, jp_fasteners, nds_fasteners


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """Least distances [mm] for fixings that no reckoned force pushes at an end or edge."""

    end: float
    edge: float
    along: float
    """To the next one along the grain."""
    across: float
    """To the next row across the grain."""
    source: str
    is_confirmed: bool


class How(IntEnum):
    """With what a fixing has room enough, best first."""

    BARE = 0
    BORED = 1
    BY_ANOTHER = 2
    """Outside the job's standard, inside Eurocode 5 with pilot holes."""
    NOT = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A fixing in a timber: what decides its distances. ``density`` is that of the denser timber at 12 % [kg/m3]."""

    standard: kinds.Standard
    shank: float
    density: float
    is_density_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Room asked and room there is [mm], with the distances that decided it."""

    how: How
    demand: float
    capacity: float
    distances: Distances

    @property
    def grade(self) -> tuple[int, float]:
        """Return what sorts fits from good to bad."""
        return self.how, self.demand - self.capacity


def stated(setting: Setting, how: How) -> Distances:
    """Return the distances to print: those with pilot holes where they are needed and the standard knows them."""
    plain, with_holes = bare(setting), bored(setting)
    chosen = with_holes if how > How.BARE and with_holes is not None else plain or with_holes
    assert chosen is not None, "every standard knows distances, bare or bored"
    return chosen


Room = Callable[[Distances], tuple[float, float]]
"""Given distances, the room asked and the room there is [mm]."""


def bare(setting: Setting) -> Distances | None:
    """Return the distances without pilot holes; None when the standard asks for holes at this density."""
    d = setting.shank
    if setting.standard is kinds.Standard.JAPAN:
        return Distances(
            end=jp_fasteners.end_across(d=d),
            edge=jp_fasteners.edge_along(d=d),
            along=jp_fasteners.spacing_along(d=d),
            across=jp_fasteners.row_along(d=d),
            source="jp_temp_works",
            is_confirmed=True,
        )
    if setting.standard is kinds.Standard.NORTH_AMERICA:
        return _north_america(d, share=1.0)
    if setting.density > ec5_fasteners.DENSEST_BARE:
        return None
    return _europe(setting, is_predrilled=False)


def bored(setting: Setting) -> Distances | None:
    """Return the distances with pilot holes by the job's standard; None when it knows none."""
    if setting.standard is kinds.Standard.JAPAN:
        return None
    if setting.standard is kinds.Standard.NORTH_AMERICA:
        return _north_america(setting.shank, share=nds_fasteners.bored_share())
    return _europe(setting, is_predrilled=True)


def fit(setting: Setting, room: Room) -> Fit:
    """Return whether there is room for a fixing: bare, else bored, else by Eurocode 5 with pilot holes, else not."""
    tries = (
        (How.BARE, bare(setting)),
        (How.BORED, bored(setting)),
        (How.BY_ANOTHER, _europe(setting, is_predrilled=True)),
    )
    for how, distances in tries:
        if distances is not None:
            demand, capacity = room(distances)
            if demand <= capacity:
                return Fit(how=how, demand=demand, capacity=capacity, distances=distances)
    own = _own(setting)
    demand, capacity = room(own)
    return Fit(how=How.NOT, demand=demand, capacity=capacity, distances=own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What a check of room speaks of."""

    subject: str
    rule: str
    remedy: str
    place: str = ""
    facts: tuple[Fact, ...] = ()


def to_check(found: Fit, setting: Setting, room: Room, finding: Finding) -> Check:
    """Return a fit as a check: ``ok``, ``outside_rule`` where only another standard allows it, or ``fails``."""
    demand, capacity, distances = found.demand, found.capacity, found.distances
    facts = finding.facts
    verdict, reason, remedy = Verdict.OK, "", ""
    if found.how is How.BORED:
        reason = "room-with-pilot-holes"
    elif found.how is How.BY_ANOTHER:
        own = _own(setting)
        facts = (*facts, ("informative_mm", demand), ("informative_room_mm", capacity))
        demand, capacity = room(own)
        distances = own
        verdict, reason, remedy = Verdict.OUTSIDE_RULE, "room-by-eurocode-5-with-pilot-holes", "bore-pilot-holes"
    elif found.how is How.NOT:
        verdict, remedy = Verdict.FAILS, finding.remedy
    return Check(
        subject=finding.subject,
        rule=finding.rule,
        verdict=verdict,
        demand=demand,
        capacity=capacity,
        ratio=demand / capacity if capacity > 0 else None,
        unit="mm",
        source=distances.source,
        place=finding.place,
        reason=reason,
        remedy=remedy,
        facts=facts,
        confirmed=distances.is_confirmed and setting.is_density_confirmed,
    )


def _own(setting: Setting) -> Distances:
    """Return the closest distances that the job's standard allows."""
    own = bored(setting) or bare(setting)
    assert own is not None, "every standard knows distances, bare or bored"
    return own


def _europe(setting: Setting, *, is_predrilled: bool) -> Distances:
    """Density at 12 % stands for the characteristic one, which is lower: errs to the wide side."""
    d, rho = setting.shank, setting.density
    return Distances(
        end=ec5_fasteners.end_unloaded(d=d, rho_k=rho, is_predrilled=is_predrilled),
        edge=ec5_fasteners.edge_unloaded(d=d, rho_k=rho, is_predrilled=is_predrilled),
        along=ec5_fasteners.spacing_along(d=d, rho_k=rho, is_predrilled=is_predrilled),
        across=ec5_fasteners.spacing_across(d=d, rho_k=rho, is_predrilled=is_predrilled),
        source="ec5_lvl ec5_sheets",
        is_confirmed=True,
    )


def _north_america(d: float, *, share: float) -> Distances:
    return Distances(
        end=share * nds_fasteners.end_unloaded(d=d),
        edge=share * nds_fasteners.edge(d=d),
        along=share * nds_fasteners.spacing_along(d=d),
        across=share * nds_fasteners.spacing_across(d=d),
        source="nds_memory",
        is_confirmed=False,
    )
