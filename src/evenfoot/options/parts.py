"""Which kind of timber falls short in a plan, and by how many findings of strength."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check, Verdict
from evenfoot.plan import Framed, Plan

SHORT = frozenset({Verdict.FAILS, Verdict.OUTSIDE_RULE})


class Part(StrEnum):
    """Parts of a floor that remedies are sought for; each is ``part.<word>`` in the catalogue."""

    BOARDS = "boards"
    JOISTS = "joists"
    BEAMS = "beams"
    POSTS = "posts"
    FOOTINGS = "footings"
    WHOLE = "whole"
    """What no change of timber cures, such as a floor that nothing holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """What falls short of one part: its findings, the gravest first."""

    part: Part
    checks: tuple[Check, ...]

    @property
    def worst(self) -> Check:
        """The gravest finding."""
        return self.checks[0]


def roles_of(framed: Framed | Plan) -> Mapping[str, Part]:
    """Return what each mark of a frame is."""
    roles = {str(m.mark): Part.JOISTS if m.role == "joist" else Part.BEAMS for m in framed.frame.members}
    return roles | {str(p.mark): Part.POSTS for p in framed.frame.posts}


def shortfalls(checks: Iterable[Check], roles: Mapping[str, Part]) -> tuple[Shortfall, ...]:
    """Return what falls short by part, in the order of the parts."""
    found: dict[Part, list[Check]] = {}
    for check in checks:
        if check.verdict in SHORT:
            found.setdefault(_part(check, roles), []).append(check)
    order = list(Part)
    return tuple(
        Shortfall(part=part, checks=tuple(sorted(some, key=lambda c: (c.verdict.order, -(c.ratio or 0.0)))))
        for part, some in sorted(found.items(), key=lambda item: order.index(item[0]))
    )


def _part(check: Check, roles: Mapping[str, Part]) -> Part:
    named = {"boards": Part.BOARDS, "footings": Part.FOOTINGS, "posts": Part.POSTS}
    return roles.get(check.subject, named.get(check.subject, Part.WHOLE))
