"""In which order the frame goes together: timbers lowered straight down into their joints, or tilted in between two."""

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
    other is lowered over it. In a ring of timbers that each wait for the next, one that lies on a timber with one end
    and under a timber with the other is tilted in last. A ring without such a one cannot be put together.
    """
    tilts = tilted_play(frame)
    tilted: dict[Mark, float] = {}
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
            ring = _ring(waits, placed)
            open_ones = [m for m in ring if m in tilts and m not in tilted]
            if not open_ones:
                return Order(steps=(), ring=ring)
            last = min(open_ones, key=lambda m: tilts[m])
            tilted[last] = tilts[last]
            _let_wait(waits, last)
            continue
        levels.append(ready)
        placed.update(ready)
    return Order(steps=_steps(frame, joints, levels, tilted), ring=())


def tilted_play(frame: Frame) -> dict[Mark, float]:
    """Return the timbers that can be tilted in between two that are there, with the play wanted at each shoulder [mm].

    Such a timber has two laps, one from above and one from below. Turned about its middle until both laps are free, it
    leans by depth over length; the upper and lower edges of each shoulder then swing out by half the depth times that
    lean, shared between the two sides of the lap.
    Source: plane geometry; play = depth^2 / (4 length), length between the middles of the laps.
    Valid: length > 2 depth.
    """
    above: dict[Mark, list[float]] = {}
    below: dict[Mark, list[float]] = {}
    for joint in frame.joints:
        if joint.kind in {JointKind.LAP_OVER, JointKind.LAP_UNDER}:
            above.setdefault(joint.upper, []).append(joint.at_upper)
            below.setdefault(joint.lower, []).append(joint.at_lower)
    out: dict[Mark, float] = {}
    for member in frame.members:
        rests, bears = above.get(member.mark, []), below.get(member.mark, [])
        if len(rests) == len(bears) == 1:
            length = abs(rests[0] - bears[0])
            if length > 2.0 * member.depth:
                out[member.mark] = member.depth**2 / (4.0 * length)
    return out


def _let_wait(waits: dict[Mark, set[Mark]], last: Mark) -> None:
    """Let a timber come after those that lie on it, instead of before them."""
    for mark, needs in waits.items():
        if last in needs:
            needs.discard(last)
            waits[last].add(mark)


def _ring(waits: Mapping[Mark, set[Mark]], placed: set[Mark]) -> tuple[Mark, ...]:
    """Return one ring of timbers that wait for each other; one exists among those not placed."""
    seen: list[Mark] = []
    mark = next(m for m in waits if m not in placed)
    while mark not in seen:
        seen.append(mark)
        mark = min(waits[mark] - placed)
    return tuple(seen[seen.index(mark) :])


def _steps(
    frame: Frame, joints: list[Joint], levels: list[list[Mark]], tilted: Mapping[Mark, float]
) -> tuple[Step, ...]:
    kinds: dict[Mark, set[JointKind]] = {}
    for joint in joints:
        kinds.setdefault(joint.upper, set()).add(joint.kind)
    groups: list[tuple[str, tuple[Mark, ...]]] = []
    for level in levels:
        by_how: dict[str, list[Mark]] = {}
        for mark in level:
            how = _HOW[min(kinds[mark])] if mark in kinds else "set-on-feet"
            how = "tilt-in" if mark in tilted else how
            by_how.setdefault(how, []).append(mark)
        groups += [(how, tuple(marks)) for how, marks in by_how.items()]
    blocks = tuple(m.mark for m in frame.members if m.role is Role.BLOCK)
    if blocks:
        groups.append(("fit-blocks", blocks))
    return tuple(
        Step(number=n, how=how, marks=marks, play=max((tilted.get(m, 0.0) for m in marks), default=0.0))
        for n, (how, marks) in enumerate(groups, start=1)
    )
