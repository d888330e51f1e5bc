"""The frame of one job: scheme, timbers, joints, posts, and what does not fit together."""

from __future__ import annotations

from evenfoot.checks import Check, Verdict
from evenfoot.frame.meetings import Parts, find_splices, meet, stand_posts
from evenfoot.frame.model import Frame, Joint, JointKind, PostPlace
from evenfoot.frame.scheme import draw_scheme
from evenfoot.frame.timbers import make_beams, make_blocks, make_grid, make_joists
from evenfoot.job import Job, Yard
from evenfoot.layout import Layout


def build_frame(job: Job, layout: Layout, yard: Yard) -> Frame:
    """Return the frame that the boards ask for (note 001 tells the geometry).

    Raises: NoSolutionError when the outline is not a rectangle or the frame is too small for its posts.
    """
    scheme = draw_scheme(job, layout, yard)
    grid = make_grid(scheme)
    parts = Parts(beams=make_beams(job, scheme, grid), joists=make_joists(job, scheme, grid), grid=grid)
    blocks = make_blocks(job, scheme, layout)
    posts, heads = stand_posts(job, scheme, parts)
    joints = meet(job, scheme, parts)
    return Frame(
        style=job.frame.style,
        joist_axis=layout.joist_axis,
        members=(*(x.member for x in parts.beams), *(x.member for x in parts.joists), *blocks),
        joints=(*joints, *heads),
        splices=find_splices(scheme, parts, posts),
        posts=posts,
        grid=grid.lines(),
        top_at_wall=scheme.axes.plane.top_at_wall,
        fall=job.floor.fall,
        checks=(
            *scheme.checks,
            *_lap_checks(job, joints),
            *_wall_checks(job, layout),
            *_footing_checks(job, posts),
            *crowded(posts),
        ),
    )


def _lap_checks(job: Job, joints: tuple[Joint, ...]) -> list[Check]:
    """Find laps that cannot be cut: nothing left of a timber, or a deeper piece in the way of its bearing."""
    out: list[Check] = []
    beam, joist, seat = job.frame.beam, job.frame.joist, job.frame.joints.seat
    shallow = min(beam.depth, joist.depth)
    kinds_used = {j.kind for j in joints}
    if kinds_used & {JointKind.LAP_OVER, JointKind.LAP_UNDER} and seat is not None and seat >= shallow:
        out.append(
            Check(
                subject="joints",
                rule="lap-leaves-wood",
                verdict=Verdict.FAILS,
                demand=seat,
                capacity=shallow,
                ratio=seat / shallow,
                unit="mm",
                source=f"{job.frame.where}.joints.seat",
                remedy="seat-half",
                facts=(("half_mm", shallow / 2),),
            )
        )
    if JointKind.LAP_UNDER in kinds_used and joist.depth < beam.depth:
        out.append(_depth_check("post-joist-shallower", demand=beam.depth, capacity=joist.depth, where=joist.where))
    posts_under_laps = JointKind.LAP_OVER in kinds_used and JointKind.LAP_UNDER not in kinds_used
    if posts_under_laps and joist.depth > beam.depth and job.frame.post.depth > beam.width:
        out.append(_depth_check("joist-deeper-than-beam", demand=joist.depth, capacity=beam.depth, where=joist.where))
    return out


def _depth_check(rule: str, *, demand: float, capacity: float, where: str) -> Check:
    return Check(
        subject="joints",
        rule=rule,
        verdict=Verdict.FAILS,
        demand=demand,
        capacity=capacity,
        ratio=demand / capacity,
        unit="mm",
        source=where,
        remedy="equal-depths",
    )


def _wall_checks(job: Job, layout: Layout) -> list[Check]:
    """Check that the floor stays clear of the wall where the wall stands out furthest."""
    if not job.site.wall:
        return []
    near = min(y for _, y in layout.outline)
    left, right = min(x for x, _ in layout.outline), max(x for x, _ in layout.outline)
    beside = [w for w in job.site.wall if left <= w.x <= right] or list(job.site.wall)
    worst = max(beside, key=lambda w: w.out)
    clear = near - worst.out
    return [
        Check(
            subject="wall",
            rule="clear-of-wall",
            verdict=Verdict.OK if clear >= 0.0 else Verdict.FAILS,
            demand=worst.out,
            capacity=near,
            unit="mm",
            source=worst.where,
            remedy="" if clear >= 0.0 else "move-floor-out",
            facts=(("clear_mm", clear), ("at_mm", worst.x), ("by_mm", max(0.0, -clear))),
        )
    ]


def _footing_checks(job: Job, posts: tuple[PostPlace, ...]) -> list[Check]:
    """Find footings that, centred under their posts, would stand in the house wall."""
    if not job.site.has_house:
        return []
    half = job.frame.footing.size / 2
    into = [half - p.y for p in posts if p.y < half - 1e-6]
    if not into:
        return []
    return [
        Check(
            subject="footings",
            rule="footing-in-wall",
            verdict=Verdict.NOT_CHECKED,
            demand=max(into),
            unit="mm",
            source=f"{job.frame.where}.footing.size",
            reason="off-centre-footing",
            facts=(("count", len(into)), ("by_mm", max(into))),
        )
    ]


def crowded(posts: tuple[PostPlace, ...]) -> list[Check]:
    """Find posts that would stand in each other's wood: an obstacle drove one of them to its neighbour."""
    widest = max((p.width for p in posts), default=0.0)
    near: list[int] = []
    pairs: list[tuple[int, int]] = []
    for k in sorted(range(len(posts)), key=lambda k: posts[k].x):
        near = [j for j in near if posts[k].x - posts[j].x < widest]
        pairs += [(max(j, k), min(j, k)) for j in near if _in_each_other(posts[j], posts[k])]
        near.append(k)
    return [
        Check(
            subject=one.mark,
            rule="posts-apart",
            verdict=Verdict.FAILS,
            demand=max(one.width, one.depth),
            capacity=max(abs(one.x - other.x), abs(one.y - other.y)),
            unit="mm",
            source=one.where,
            remedy="one-post-there",
            facts=(("other", other.mark),),
        )
        for one, other in ((posts[j], posts[k]) for j, k in sorted(pairs))
    ]


def _in_each_other(one: PostPlace, other: PostPlace) -> bool:
    return (
        abs(one.x - other.x) < (one.width + other.width) / 2 - 1e-6
        and abs(one.y - other.y) < (one.depth + other.depth) / 2 - 1e-6
    )
