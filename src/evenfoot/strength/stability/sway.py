"""Whether the floor sways or slides, in each of two directions: what pushes it, and what holds it (note 095)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict, compare
from evenfoot.frame import Frame, Mark
from evenfoot.job import Job, kinds
from evenfoot.rules import sideways
from evenfoot.strength.loads import board_edges
from evenfoot.strength.stability.carried import Carried
from evenfoot.strength.stability.held import Direction, Way, ways
from evenfoot.strength.stability.pushes import Push, pushes
from evenfoot.strength.stability.upright import check_upright
from evenfoot.strength.standards import Practice
from evenfoot.tables import safety

_BY_FEET = {kinds.Holding.BRACES, kinds.Holding.LOW_RAILS, kinds.Holding.NOTHING}
"""What hands the push on to feet that only stand."""
_BY_POSTS = {kinds.Holding.LOW_RAILS, kinds.Holding.POSTS_IN_CONCRETE}
"""What holds by the posts: all of them share the push unless the job counts fewer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """One floor about to be checked against swaying."""

    practice: Practice
    job: Job
    frame: Frame
    carried: Carried
    heights: Mapping[Mark, float]
    factor: float = 1.0
    """The standard's partial factor on live loads."""


def check_sway(floor: Floor) -> tuple[Check, ...]:
    """Return a check of swaying for each direction, and of sliding where the push ends in the feet."""
    out: list[Check] = []
    for way in ways(floor.job):
        found = pushes(floor.practice, floor.job, floor.frame, floor.carried, way.direction)
        worst = max(found, key=lambda p: p.force)
        is_upright = way.holding is kinds.Holding.POSTS_IN_CONCRETE
        if is_upright:
            pushed = (way, worst, floor.factor)
            out.append(check_upright(floor.practice, floor.frame, floor.carried, floor.heights, pushed))
        if not is_upright or floor.job.frame.held.each:
            out.append(_sway(floor, way, worst))
        if way.holding in _BY_FEET:
            out.append(max((_slide(floor, way, p) for p in found), key=lambda c: c.ratio or 0.0))
    return tuple(out)


def check_unheld(job: Job, frame: Frame, heights: Mapping[Mark, float]) -> tuple[Check, ...]:
    """Return that loose posts fold over where nothing holds the floor; it is so whatever the floor carries."""
    tallest = max((heights[p.mark] for p in frame.posts), default=0.0)
    if least_righting(frame, heights) >= 1.0:
        return ()
    return tuple(
        Check(
            subject=f"sway-{way.direction}",
            rule="sway-loose",
            verdict=Verdict.FAILS,
            source=job.frame.held.where,
            remedy="hold-sideways",
            facts=(("direction_code", f"direction.{way.direction}"), ("tallest_mm", tallest)),
        )
        for way in ways(job)
        if way.holding is kinds.Holding.NOTHING
    )


def least_righting(frame: Frame, heights: Mapping[Mark, float]) -> float:
    """Return the least width of a post over its height [-]; 1 where no post has a height."""
    shares = [
        sideways.upright_share(b=min(post.width, post.depth), h=heights[post.mark])
        for post in frame.posts
        if heights[post.mark] > 0.0
    ]
    return min(shares, default=1.0)


def _facts(way: Way, push: Push, *more: Fact) -> tuple[Fact, ...]:
    return (
        ("direction_code", f"direction.{way.direction}"),
        ("holding_code", f"holding.{way.holding}" if way.holding is not None else "holding.unsaid"),
        ("push_code", f"push.{push.code}"),
        ("push_n", float(round(push.force))),
        ("doubts", ", ".join(dict.fromkeys(push.doubts))),
        *more,
    )


def _sway(floor: Floor, way: Way, push: Push) -> Check:
    if way.holding is None:
        return _open(way, push, "holding-not-said", "say-holding")
    if way.holding is kinds.Holding.NOTHING:
        return _unheld(floor, way, push)
    pieces = way.pieces
    if pieces is None and way.holding in _BY_POSTS:
        pieces = len(floor.frame.posts)
    if pieces is None:
        return _open(way, push, "pieces-not-said", "say-pieces")
    if way.holding is kinds.Holding.BUILDING and way.direction is Direction.ALONG and pieces < 2:
        return Check(
            subject=f"sway-{way.direction}",
            rule="one-tie",
            verdict=Verdict.FAILS,
            demand=push.force,
            unit="N",
            source=push.clause,
            remedy="two-ties",
            facts=_facts(way, push),
            confirmed=not push.doubts,
        )
    return _shared(floor, way, push, pieces)


def _shared(floor: Floor, way: Way, push: Push, pieces: int) -> Check:
    """Return the check of one piece among those that share the push."""
    each = _on_each(floor, way, push.force, pieces)
    facts = _facts(way, push, ("pieces", pieces), ("each_n", float(round(each))))
    may = floor.job.frame.held.each
    if not may:
        return Check(
            subject=f"sway-{way.direction}",
            rule="sway-share",
            verdict=Verdict.NOT_CHECKED,
            demand=each,
            unit="N",
            source=push.clause,
            reason="each-not-entered",
            remedy="enter-each",
            facts=facts,
            confirmed=not push.doubts,
        )
    return compare(
        subject=f"sway-{way.direction}",
        rule="sway-share",
        demand=each,
        capacity=may,
        unit="N",
        source=push.clause,
        remedy="more-holding",
        facts=facts,
        confirmed=not push.doubts,
    )


def _on_each(floor: Floor, way: Way, force: float, pieces: int) -> float:
    """Return what one piece takes [N]; ties on the wall also keep the floor from turning about them."""
    if way.holding is not kinds.Holding.BUILDING or way.direction is not Direction.ALONG:
        return force / pieces
    edges = board_edges(floor.frame, floor.job.floor)
    along, pull = sideways.leaning_ties(
        H=force, arm=(edges.y[1] - edges.y[0]) / 2.0, length=edges.x[1] - edges.x[0], n=pieces
    )
    return sideways.both(along=along, pull=pull)


def _open(way: Way, push: Push, reason: str, remedy: str) -> Check:
    return Check(
        subject=f"sway-{way.direction}",
        rule="sway",
        verdict=Verdict.NOT_CHECKED,
        demand=push.force,
        unit="N",
        source=push.clause,
        reason=reason,
        remedy=remedy,
        facts=_facts(way, push),
        confirmed=not push.doubts,
    )


def _unheld(floor: Floor, way: Way, push: Push) -> Check:
    """Return what is said of a floor that nothing holds: loose posts are a mechanism, blocks as low as wide are not."""
    least = least_righting(floor.frame, floor.heights)
    facts = _facts(
        way,
        push,
        ("tallest_mm", max((floor.heights[p.mark] for p in floor.frame.posts), default=0.0)),
        ("righting_n", float(round(min(least, 1.0) * push.weight))),
    )
    is_block = least >= 1.0
    return Check(
        subject=f"sway-{way.direction}",
        rule="sway-blocks" if is_block else "sway-nothing",
        verdict=Verdict.OK if is_block else Verdict.FAILS,
        demand=push.force,
        unit="N",
        source=push.clause,
        remedy="" if is_block else "hold-sideways",
        facts=facts,
        confirmed=not push.doubts,
    )


def _slide(floor: Floor, way: Way, push: Push) -> Check:
    """Return whether the feet slide: friction under them, or what is bolted there."""
    held, foot = floor.job.frame.held, floor.job.makers.post_foot
    known = safety.figure("friction.stone")
    mu = known.value if held.friction is None else held.friction
    doubts = push.doubts if held.friction is not None else (*push.doubts, known.name)
    if foot:
        doubts, source = push.doubts, floor.job.makers.where
        holds = foot * len(floor.frame.posts)
    else:
        source = known.source if held.friction is None else "frame.held.friction"
        holds = sideways.friction(mu=mu, N=push.weight)
    return compare(
        subject=f"sway-{way.direction}",
        rule="sliding-bolted" if foot else "sliding",
        demand=push.force,
        capacity=max(holds, 1e-9),
        unit="N",
        source=source,
        remedy="stop-sliding",
        facts=(*_facts(way, push), ("mu", mu), ("holds_n", float(round(holds)))),
        confirmed=not doubts,
    )
