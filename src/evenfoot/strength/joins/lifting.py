"""Whether heads and feet of posts have to be fixed, against wind that lifts or a push that they hand on (note 097)."""

from __future__ import annotations

from evenfoot.checks import Check, Verdict, compare
from evenfoot.job import Job, kinds
from evenfoot.strength.stability.carried import Carried
from evenfoot.strength.stability.held import ways
from evenfoot.tables import safety


def check_fixed_posts(job: Job, carried: Carried) -> tuple[Check, ...]:
    """Return what is said of the fixings at heads and feet: the pull of the wind, posts set in concrete, or nothing.

    Feet that only stand are right where something else holds the floor and nothing lifts it; what the push does to them
    is the check of sliding.
    """
    pulls = _pulls(job, carried)
    worst = max(range(len(pulls)), key=lambda k: pulls[k]) if pulls else None
    if worst is not None and pulls[worst] > 0.0:
        place = carried.posts[worst]
        return tuple(
            _pulled(job, rule, may, pulls[worst], place)
            for rule, may in (("post-head", job.makers.post_head), ("post-foot", job.makers.post_foot))
        )
    holdings = {way.holding for way in ways(job)}
    if kinds.Holding.POSTS_IN_CONCRETE in holdings and not job.frame.held.each:
        return (
            Check(subject="posts", rule="posts-embedded", verdict=Verdict.NOT_CHECKED, reason="embedding-not-reckoned"),
        )
    if holdings & {None, kinds.Holding.NOTHING}:
        return (Check(subject="posts", rule="post-foot", verdict=Verdict.NOT_CHECKED, reason="anchor-not-entered"),)
    return (Check(subject="posts", rule="feet-stand", verdict=Verdict.OK),)


def _pulls(job: Job, carried: Carried) -> list[float]:
    """Return how much more than its load the wind lifts at each post [N]."""
    if not job.loads.uplift:
        return []
    share = safety.figure("uplift.weight-share").value * carried.real
    return [job.loads.uplift * area - share * dead for area, dead in zip(carried.per_area, carried.dead, strict=True)]


def _pulled(job: Job, rule: str, may: float | None, pull: float, place: str) -> Check:
    facts = (("demand_n", float(round(pull))), ("capacity_n", may or 0.0))
    if not may:
        return Check(
            subject=place,
            rule=f"{rule}-pulled",
            verdict=Verdict.NOT_CHECKED,
            demand=pull,
            unit="N",
            place=place,
            reason="anchor-not-entered",
            facts=facts,
        )
    return compare(
        subject=place,
        rule=f"{rule}-pulled-bears",
        demand=pull,
        capacity=may,
        unit="N",
        source=job.makers.where,
        place=place,
        remedy="stronger-anchor",
        facts=facts,
        confirmed=safety.figure("uplift.weight-share").is_confirmed,
    )
