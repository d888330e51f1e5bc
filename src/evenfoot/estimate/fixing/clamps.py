"""Whether the screw that clamps a lap keeps clear of the ends and edges of both tongues."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

from evenfoot.checks import Check
from evenfoot.estimate.fixing.distances import Distances, Finding, Fit, How, Room, Setting, fit, to_check
from evenfoot.frame import Joint, Member


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp:
    """A lap with its screw in the middle [mm]: what is left of each timber, and how near their ends and edges are.

    ``to_end`` is the least distance from the screw to the end of a tongue that ends here, None when both run on.
    """

    joint: str
    upper_tongue: float
    lower_tongue: float
    to_end: float | None
    narrow: float

    @classmethod
    def at(cls, joint: Joint, upper: Member, lower: Member) -> Self:
        """Return the clamp of one lap."""
        ends = []
        if joint.is_end_of_upper:
            ends.append(min(joint.at_upper, upper.length - joint.at_upper))
        if joint.is_end_of_lower:
            ends.append(min(joint.at_lower, lower.length - joint.at_lower))
        return cls(
            joint=joint.mark,
            upper_tongue=upper.depth - joint.cut_upper,
            lower_tongue=lower.depth - joint.cut_lower,
            to_end=min(ends, default=None),
            narrow=min(upper.width, lower.width),
        )


def check_clamps(clamps: Sequence[Clamp], setting: Setting) -> tuple[tuple[Check, ...], How]:
    """Return the checks of the worst lap end and the narrowest tongue, and what the worst needs."""
    narrow = min(clamps, key=lambda c: c.narrow)
    rooms = [
        (
            _edge_room(narrow.narrow),
            Finding(
                subject="lap",
                rule="lap-screw-edge",
                remedy="wider-joist",
                place=narrow.joint,
                facts=(("count", len(clamps)),),
            ),
        )
    ]
    ending = [(c.to_end, c.joint) for c in clamps if c.to_end is not None]
    if ending:
        reach, joint = min(ending)
        rooms.append(
            (
                _end_room(reach),
                Finding(
                    subject="lap",
                    rule="lap-screw-end",
                    remedy="clamp-from-side",
                    place=joint,
                    facts=(("count", len(ending)),),
                ),
            )
        )
    fits: list[tuple[Fit, Room, Finding]] = [(fit(setting, room), room, finding) for room, finding in rooms]
    checks = tuple(to_check(found, setting, room, finding) for found, room, finding in fits)
    return checks, max(found.how for found, _, _ in fits)


def _edge_room(width: float) -> Room:
    def room(d: Distances) -> tuple[float, float]:
        return 2 * d.edge, width

    return room


def _end_room(reach: float) -> Room:
    def room(d: Distances) -> tuple[float, float]:
        return d.end, reach

    return room
