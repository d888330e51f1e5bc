"""In which order the frame goes together when every timber is lowered straight down into its joints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.frame import Frame, Joint, JointKind, Mark, Role
from evenfoot.joints.model import Step

_HOW = {
    JointKind.LAP_OVER: "lower-into-laps",
    JointKind.LAP_UNDER: "lower-over-laps",
    JointKind.HOUSING: "lower-into-housings",
    JointKind.BUTT: "set-between",
    JointKind.HANGER: "hang",
    JointKind.BEARING: "lay-on",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The steps, or the timbers that wait for each other in a ring (then there are no steps)."""

    steps: tuple[Step, ...]
    ring: tuple[Mark, ...]


def order_assembly(frame: Frame) -> Order:
    """Return the order in which timbers are set: whatever bears comes before what it bears.

    Every joint is entered downward: entered from below means that the timber which bears is there first and the
    other is lowered over it. A ring of timbers that each wait for the next cannot be put in so.
    """
    joints = [j for j in frame.joints if j.kind is not JointKind.POST_HEAD]
    timbers = [m.mark for m in frame.members if m.role is not Role.BLOCK]
    waits: dict[Mark, set[Mark]] = {mark: set() for mark in timbers}
    for joint in joints:
        waits[joint.upper].add(joint.lower)
    levels: list[list[Mark]] = []
    placed: set[Mark] = set()
    while len(placed) < len(timbers):
        ready = [m for m in timbers if m not in placed and waits[m] <= placed]
        if not ready:
            return Order(steps=(), ring=_ring(waits, placed))
        levels.append(ready)
        placed.update(ready)
    return Order(steps=_steps(frame, joints, levels), ring=())


def _ring(waits: Mapping[Mark, set[Mark]], placed: set[Mark]) -> tuple[Mark, ...]:
    """Return one ring of timbers that wait for each other; one exists among those not placed."""
    seen: list[Mark] = []
    mark = next(m for m in waits if m not in placed)
    while mark not in seen:
        seen.append(mark)
        mark = min(waits[mark] - placed)
    return tuple(seen[seen.index(mark) :])


def _steps(frame: Frame, joints: list[Joint], levels: list[list[Mark]]) -> tuple[Step, ...]:
    kinds: dict[Mark, set[JointKind]] = {}
    for joint in joints:
        kinds.setdefault(joint.upper, set()).add(joint.kind)
    groups: list[tuple[str, tuple[Mark, ...]]] = []
    for level in levels:
        by_how: dict[str, list[Mark]] = {}
        for mark in level:
            how = _HOW[min(kinds[mark])] if mark in kinds else "set-on-feet"
            by_how.setdefault(how, []).append(mark)
        groups += [(how, tuple(marks)) for how, marks in by_how.items()]
    blocks = tuple(m.mark for m in frame.members if m.role is Role.BLOCK)
    if blocks:
        groups.append(("fit-blocks", blocks))
    return tuple(Step(number=n, how=how, marks=marks) for n, (how, marks) in enumerate(groups, start=1))
