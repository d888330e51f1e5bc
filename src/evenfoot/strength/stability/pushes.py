"""What pushes the floor sideways: a share of what it carries, an earthquake, wind on its edge (note 095)."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.frame import Frame, Role
from evenfoot.job import Job, kinds
from evenfoot.rules import sideways
from evenfoot.strength.loads import board_edges
from evenfoot.strength.stability.carried import Carried
from evenfoot.strength.stability.held import Direction
from evenfoot.strength.standards import Aim, Practice
from evenfoot.tables import safety


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """One sideways push [N]; ``code`` is ``push.<code>`` in the catalogue, ``weight`` what stands on the feet [N]."""

    code: str
    force: float
    weight: float
    clause: str
    doubts: tuple[str, ...]


def pushes(practice: Practice, job: Job, frame: Frame, carried: Carried, direction: Direction) -> tuple[Push, ...]:
    """Return what pushes in one direction, each by itself."""
    out = [_own(job, carried)]
    quake = _earthquake(practice, job, carried)
    if quake is not None:
        out.append(quake)
    if job.loads.wind:
        out.append(_wind(job, frame, carried, direction))
    return tuple(out)


def _own(job: Job, carried: Carried) -> Push:
    ours = safety.figure("sideways.own")
    typed = job.loads.sideways
    share = ours.value if typed is None else typed
    doubts = carried.doubts if typed is not None else (ours.name, *carried.doubts)
    clause = ours.source if typed is None else "loads.sideways"
    return Push(
        code="own",
        force=sideways.push(share=share, N=carried.together),
        weight=carried.together,
        clause=clause,
        doubts=doubts,
    )


def _earthquake(practice: Practice, job: Job, carried: Carried) -> Push | None:
    typed, asked = job.loads.earthquake, None
    if typed is None and practice.standard is kinds.Standard.JAPAN:
        asked = safety.figure("earthquake.japan")
    if typed is None and asked is None:
        return None
    share = asked.value if asked is not None else typed or 0.0
    # What sways with the floor: its own weight and the smaller load that the standard reckons for such times.
    light = min((c.area for c in practice.cases() if c.aim is Aim.SAG), default=carried.case.area)
    weight = carried.weight + light * sum(carried.per_area)
    return Push(
        code="earthquake",
        force=sideways.push(share=share, N=weight),
        weight=weight,
        clause=asked.source if asked is not None else "loads.earthquake",
        doubts=(*((asked.name,) if asked is not None and not asked.is_confirmed else ()), *carried.doubts),
    )


def _wind(job: Job, frame: Frame, carried: Carried, direction: Direction) -> Push:
    """Return the wind on the edge of the floor, from boards to lowest timber, and on a guard taken as closed."""
    assert job.loads.wind is not None
    edges = board_edges(frame, job.floor)
    wide = edges.x if direction is Direction.OUT else edges.y
    timbers = [m for m in frame.members if m.role in {Role.BEAM, Role.JOIST}]
    top = max(max(m.start[2], m.end[2]) for m in timbers)
    low = min(min(m.start[2], m.end[2]) - m.depth for m in timbers)
    height = job.floor.board.thickness + top - low + (job.guard.height if job.guard is not None else 0.0)
    return Push(
        code="wind",
        force=job.loads.wind * height * (wide[1] - wide[0]),
        weight=carried.weight * carried.real,
        clause="loads.wind",
        doubts=carried.doubts,
    )
