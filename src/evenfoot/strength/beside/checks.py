"""What is checked once the loads on the posts are known: sway, sliding, ground, fixed posts, guards, roof snow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Frame, Mark
from evenfoot.job import Job, kinds
from evenfoot.strength.joins import check_fixed_posts, check_guard, enter_makers
from evenfoot.strength.model import PostLoad
from evenfoot.strength.stability import (
    Floor,
    carried_by,
    check_ground,
    check_heavy,
    check_roof_snow,
    check_sway,
    check_unheld,
    ways,
)
from evenfoot.strength.standards import Practice
from evenfoot.tables import safety


def check_beside(
    practice: Practice,
    job: Job,
    frame: Frame,
    post_heights: Mapping[Mark, float],
    post_loads: Sequence[PostLoad],
) -> tuple[Check, ...]:
    """Return the checks beside the frame, stability first; what cannot be known is ``not_checked`` with its reason."""
    carried = carried_by(practice, frame, job.floor, post_loads, _live_share(practice)) if frame.posts else None
    if carried is None:
        return (*_left_open(job, frame, post_heights), *check_guard(practice, job))
    floor = Floor(
        practice=practice,
        job=job,
        frame=frame,
        carried=carried,
        heights=post_heights,
        factor=1.0 / _live_share(practice),
    )
    return (
        *check_sway(floor),
        *check_fixed_posts(job, carried),
        check_ground(practice, job, carried, post_heights),
        *check_guard(practice, job),
        *check_roof_snow(job),
        *check_heavy(job, carried.case.area * _live_share(practice)),
    )


def settle(job: Job, checks: Sequence[Check]) -> tuple[Check, ...]:
    """Return the frame's checks with what the job itself answers: makers' values, and how tall posts are tied."""
    said = all(way.holding not in {None, kinds.Holding.NOTHING} for way in ways(job))
    return tuple(
        replace(c, rule="tall-posts-held", verdict=Verdict.OK, reason="", remedy="")
        if said and c.rule == "tall-posts"
        else c
        for c in enter_makers(job, checks)
    )


def _live_share(practice: Practice) -> float:
    """Return 1 over the partial factor on live loads [-]: stability and ground are told with plain loads."""
    if practice.standard is kinds.Standard.EUROPE:
        return 1.0 / safety.figure("guard.factor.europe").value
    return 1.0


def _left_open(job: Job, frame: Frame, heights: Mapping[Mark, float]) -> tuple[Check, ...]:
    """Return what lies on the load path and cannot be reckoned without the loads on the posts."""
    out = [
        Check(subject="frame", rule="sway-unknown", verdict=Verdict.NOT_CHECKED, reason="loads-not-reckoned"),
        Check(subject="posts", rule="post-foot", verdict=Verdict.NOT_CHECKED, reason="loads-not-reckoned"),
        Check(subject="footings", rule="footing-unknown", verdict=Verdict.NOT_CHECKED, reason="loads-not-reckoned"),
    ]
    if frame.splices:
        out.append(
            Check(
                subject="splices",
                rule="splices-unknown",
                verdict=Verdict.NOT_CHECKED,
                reason="loads-not-reckoned",
                facts=(("places", len(frame.splices)),),
            )
        )
    return (*check_unheld(job, frame, heights), *out, *check_roof_snow(job))
