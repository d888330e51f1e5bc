"""What the posts carry together and each, parted into what is always there and what people and snow add."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from evenfoot.frame import Frame, Mark, Role
from evenfoot.job import FloorSpec
from evenfoot.strength.loads import board_edges, board_weight
from evenfoot.strength.model import PostLoad
from evenfoot.strength.standards import Bearer, Case, Practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """Forces on the post heads [N] without partial factors, posts in the frame's order.

    ``dead`` is own weight; ``live`` what the greatest even load on the frame adds; ``case`` is that load; ``per_area``
    how much floor each post carries [mm2].
    """

    posts: tuple[Mark, ...]
    dead: tuple[float, ...]
    live: tuple[float, ...]
    per_area: tuple[float, ...]
    case: Case
    doubts: tuple[str, ...]
    real: float = 1.0
    """Share of the own weight that is really there: some standards reckon with more."""

    @property
    def weight(self) -> float:
        """All own weight [N]."""
        return sum(self.dead)

    @property
    def together(self) -> float:
        """Own weight and live load on all posts [N]."""
        return self.weight + sum(self.live)

    @property
    def most(self) -> tuple[float, ...]:
        """Own weight and live load on each post [N]."""
        return tuple(d + q for d, q in zip(self.dead, self.live, strict=True))


def carried_by(
    practice: Practice, frame: Frame, floor: FloorSpec, post_loads: Sequence[PostLoad], live_share: float = 1.0
) -> Carried | None:
    """Return what the posts carry; None when nothing was reckoned.

    ``live_share`` is 1 over the standard's partial factor on live loads, 1 where it has none.
    """
    posts = [p.mark for p in frame.posts]
    force: dict[str, dict[Mark, float]] = {}
    for load in post_loads:
        force.setdefault(load.case, {})[load.mark] = load.force
    even = [c for c in practice.cases() if c.point == 0.0 and Bearer.FRAME in c.decides and c.code in force]
    if not even or "dead" not in force:
        return None
    case = max(even, key=lambda c: sum(force[c.code].values()))
    dead = [force["dead"].get(mark, 0.0) for mark in posts]
    live = [_live(force[case.code], mark, case, own) for mark, own in zip(posts, dead, strict=True)]
    return Carried(
        posts=tuple(posts),
        dead=tuple(max(0.0, d) for d in dead),
        live=tuple(max(0.0, q * live_share) for q in live),
        per_area=tuple(max(0.0, q / case.area) for q in live) if case.area > 0.0 else (0.0,) * len(posts),
        case=case,
        doubts=(*case.doubts, *practice.unit_weight.doubts),
        real=min(1.0, _weigh(frame, floor, practice.unit_weight.value) / max(sum(dead), 1e-9)),
    )


def _weigh(frame: Frame, floor: FloorSpec, unit_weight: float) -> float:
    """Return what timbers, blocking and boards weigh [N]."""
    edges = board_edges(frame, floor)
    area = (edges.x[1] - edges.x[0]) * (edges.y[1] - edges.y[0])
    timbers = sum(m.width * m.depth * m.length for m in frame.members if m.role is not Role.POST)
    return timbers * unit_weight + area * board_weight(floor, unit_weight)


def _live(force: Mapping[Mark, float], mark: Mark, case: Case, dead: float) -> float:
    return force.get(mark, 0.0) - case.dead * dead
