"""What is found about the posts: where the stack does not fit, what is not sure enough, what a gap contradicts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from evenfoot.checks import Check, Verdict, compare
from evenfoot.job import Job, kinds
from evenfoot.posts.air import least_air
from evenfoot.posts.cut import NINETEEN_IN_TWENTY, Bench, CutFrom
from evenfoot.posts.model import Basis
from evenfoot.posts.sill import door_drop
from evenfoot.posts.stack import Cure, Room, cures
from evenfoot.tables import levels

_DUG = {kinds.Ground.GRAVEL, kinds.Ground.SOIL}


def find(bench: Bench, cuts: Sequence[CutFrom]) -> tuple[Check, ...]:
    """Return every finding about the posts of a job, the fit of the height stack first."""
    if not cuts:
        return ()
    return (
        *_fit(bench, cuts),
        *least_air(bench),
        *_rough(bench, cuts),
        *_beyond(bench, cuts),
        *_gaps(bench, cuts),
        *_feet(bench, cuts),
        *_door(bench),
    )


def _fit(bench: Bench, cuts: Sequence[CutFrom]) -> Iterator[Check]:
    """Yield one finding per post that does not fit, or a single one about all that do."""
    least = levels.post_figure("least_post")
    shortest = min(cuts, key=lambda c: round(c.post.length, 3))
    longest = max(cuts, key=lambda c: round(c.post.length, 3))
    worst = least.value - shortest.post.length
    if worst <= 0:
        yield compare(
            subject=shortest.post.mark,
            rule="posts-fit",
            demand=least.value,
            capacity=shortest.post.length,
            unit="mm",
            source=least.source,
            facts=(
                ("count", len(cuts)),
                ("shortest_mm", shortest.post.length),
                ("longest_mm", longest.post.length),
            ),
            confirmed=least.is_confirmed,
        )
        return
    remedy = cures(worst, _room(bench.job, least.value))[0]
    for cut in cuts:
        if cut.post.length < least.value:
            yield _misfit(cut, remedy=remedy, worst=worst)


def _room(job: Job, least: float) -> Room:
    joist, beam = job.frame.joist.depth, job.frame.beam.depth
    is_stacked = job.frame.style is kinds.Style.STACKED
    return Room(
        drop=job.floor.drop,
        saved_by_flush=joist + beam - max(joist, beam) if is_stacked else 0.0,
        least_post=least,
        can_dig=job.site.ground in _DUG,
    )


def _misfit(cut: CutFrom, *, remedy: Cure, worst: float) -> Check:
    """Return what the stack at one post takes, the shortest post included, against the height that there is."""
    post, least = cut.post, levels.post_figure("least_post")
    surface = next(layer.top for layer in post.stack if layer.thing == "board")
    available = surface - post.ground
    needed = available + least.value - post.length
    return Check(
        subject=post.mark,
        rule="stack-height",
        verdict=Verdict.FAILS,
        demand=needed,
        capacity=available,
        ratio=needed / available if available > 0 else None,
        unit="mm",
        source=least.source,
        remedy=remedy.value,
        facts=(
            ("shortfall_mm", needed - available),
            ("worst_mm", worst),
            ("length_mm", post.length),
            ("least_mm", least.value),
            ("ground_mm", post.ground),
        ),
        confirmed=least.is_confirmed,
    )


def _rough(bench: Bench, cuts: Sequence[CutFrom]) -> Iterator[Check]:
    """Yield whether the rough allowance covers what is not known of the longest-doubted post, 19 times in 20."""
    open_ones = [c.post for c in cuts if c.post.basis is Basis.SURFACE and c.post.is_cut]
    if not open_ones:
        return
    allowance = bench.job.frame.rough_allowance
    doubt = {p.mark: NINETEEN_IN_TWENTY * p.sigma for p in open_ones}
    worst = max(open_ones, key=lambda p: round(p.sigma, 3))
    short = sum(d > allowance for d in doubt.values())
    yield Check(
        subject=worst.mark,
        rule="rough-allowance",
        verdict=Verdict.FAILS if short else Verdict.OK,
        demand=doubt[worst.mark],
        capacity=allowance,
        ratio=doubt[worst.mark] / allowance if allowance > 0 else None,
        unit="mm",
        remedy="measure-gap" if short else "",
        facts=(("count", short), ("wanted_mm", math.ceil(doubt[worst.mark] / 5) * 5.0)),
        confirmed=False,
    )


def _beyond(bench: Bench, cuts: Sequence[CutFrom]) -> Iterator[Check]:
    """Yield how many posts stand on ground that nobody read, and which is furthest out."""
    away = [(bench.ground.beyond(c.post.x, c.post.y), c.post.mark) for c in cuts if c.post.basis is not Basis.MEASURED]
    outside = [pair for pair in away if pair[0] > 0]
    if not outside:
        return
    furthest, mark = max(outside, key=lambda pair: round(pair[0], 3))
    yield Check(
        subject=mark,
        rule="beyond-readings",
        verdict=Verdict.NOT_CHECKED,
        demand=furthest,
        unit="mm",
        remedy="read-there",
        facts=(("count", len(outside)),),
    )


def _gaps(bench: Bench, cuts: Sequence[CutFrom]) -> Iterator[Check]:
    """Yield each measured gap that contradicts the ground or belongs to no post, and how well the others agree."""
    known: dict[str, CutFrom] = {c.post.mark: c for c in cuts}
    for mark, line in bench.gaps.items():
        if mark not in known:
            yield Check(
                subject=mark,
                rule="gap-of-no-post",
                verdict=Verdict.NOT_CHECKED,
                place=line.where,
                remedy="mark-of-post",
                facts=(("gap_mm", line.value),),
            )
            continue
        cut = known[mark]
        yield compare(
            subject=mark,
            rule="gap-against-ground",
            demand=abs(cut.post.length - cut.by_surface),
            capacity=NINETEEN_IN_TWENTY * math.hypot(cut.post.sigma, cut.sigma_by_surface),
            unit="mm",
            source="",
            place=line.where,
            remedy="measure-gap-again",
            facts=(("gap_mm", cut.post.length), ("expected_mm", cut.by_surface)),
            confirmed=False,
        )


def _feet(bench: Bench, cuts: Sequence[CutFrom]) -> Iterator[Check]:
    """Yield on which edge the most tilted foot stands, and whether every post stands wholly on its footing."""
    tilted = max((c.post for c in cuts), key=lambda p: round(p.foot_gap, 3))
    if tilted.foot_gap > 0.05:
        yield Check(
            subject=tilted.mark,
            rule="foot-on-edge",
            verdict=Verdict.OK,
            demand=tilted.foot_gap,
            unit="mm",
            facts=(("edge_code", f"foot-edge.{round(tilted.foot_high_toward_deg)}"),),
        )
    widest = max((c.post for c in cuts), key=lambda p: max(p.width, p.depth))
    size = bench.job.frame.footing.size
    demand = max(widest.width, widest.depth)
    yield Check(
        subject=widest.mark,
        rule="footing-size",
        verdict=Verdict.OK if demand <= size else Verdict.FAILS,
        demand=demand,
        capacity=size,
        ratio=demand / size if size > 0 else None,
        unit="mm",
        remedy="" if demand <= size else "wider-footing",
    )


def _door(bench: Bench) -> Iterator[Check]:
    """Yield whether the step down at the door is allowed, where the standard's country has a rule on record.

    The job does not say how its door opens: a drop that only a door clear of the floor may have is not settled here.
    """
    job = bench.job
    if job.standard is not kinds.Standard.NORTH_AMERICA:
        return
    strict = door_drop(drop=job.floor.drop, door=levels.Door.SWINGS_OVER)
    lenient = door_drop(drop=job.floor.drop, door=levels.Door.CLEAR_OF_FLOOR)
    if strict.verdict is Verdict.FAILS and lenient.verdict is Verdict.OK:
        yield Check(
            subject="sill",
            rule="door-drop-open",
            verdict=Verdict.NOT_CHECKED,
            demand=job.floor.drop,
            capacity=strict.capacity,
            unit="mm",
            source=strict.source,
            remedy="look-at-door",
            facts=(("clear_mm", lenient.capacity or 0.0),),
            confirmed=strict.confirmed,
        )
        return
    yield strict if strict.verdict is not Verdict.FAILS else lenient
