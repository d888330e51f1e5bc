"""From a job, a shop and a log to the whole plan: every room once, in the order of the work."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal

from evenfoot.cutting import pieces_of, plan_cuts
from evenfoot.estimate import Built, price_job
from evenfoot.frame import Frame, Mark, build_frame
from evenfoot.job import Job, Log, Shop, Yard, yard_for
from evenfoot.joints import detail_joints
from evenfoot.layout import lay_boards
from evenfoot.plan.memory import Memory
from evenfoot.plan.model import Plan
from evenfoot.posts import cut_posts
from evenfoot.programme import order_work
from evenfoot.site import Ground, read_ground
from evenfoot.strength import Strength, check_strength
from evenfoot.timber import know_timber

STAGES = (
    "site",
    "layout",
    "frame",
    "strength",
    "joints",
    "posts",
    "timber",
    "cutting",
    "estimate",
    "programme",
)


def make_plan(
    job: Job,
    shop: Shop,
    log: Log,
    *,
    memory: Memory | None = None,
    on_stage: Callable[[str], None] | None = None,
) -> Plan:
    """Return the plan of one job.

    ``memory`` lets later plans of a changed job reuse what the change does not touch; ``on_stage`` is told the
    name of each stage in ``STAGES`` before it starts.
    Raises: EvenfootError when a room cannot go on (the fault names the place in the job and the limit).
    """
    known, tell = memory or Memory(), on_stage or (lambda _: None)
    yard = yard_for(job, shop)
    shape, lengths = _shape_of(job), _without_prices(yard)
    tell("site")
    ground = known.recall("site", read_ground, values=(job.site, log))
    tell("layout")
    layout = known.recall("layout", lay_boards, values=(shape, lengths))
    tell("frame")
    frame = known.recall(
        "frame", lambda s, y, boards: build_frame(s, boards, y), values=(shape, lengths), results=(layout,)
    )
    tell("strength")
    strength = known.recall("strength", _strength, values=(shape,), results=(ground, frame))
    tell("joints")
    joinery = known.recall("joints", detail_joints, values=(), results=(frame,))
    tell("posts")
    posts = known.recall(
        "posts", lambda s, r, g, f: cut_posts(s, g, f, r), values=(shape, log), results=(ground, frame)
    )
    tell("timber")
    timber = known.recall("timber", know_timber, values=(shape,), results=(layout, frame))
    tell("cutting")
    pieces = known.recall("pieces", pieces_of, values=(), results=(layout, frame, posts))
    cutting = known.recall("cutting", lambda y, p: plan_cuts(p, y), values=(yard,), results=(pieces,))
    tell("estimate")
    built = Built(layout=layout, frame=frame, joinery=joinery, posts=posts, timber=timber, cutting=cutting)
    estimate = price_job(job, shop, built)
    tell("programme")
    programme = order_work(job, built, estimate)
    return Plan(
        job=job,
        shop=shop,
        log=log,
        yard=yard,
        ground=ground,
        layout=layout,
        frame=frame,
        strength=strength,
        joinery=joinery,
        posts=posts,
        timber=timber,
        cutting=cutting,
        estimate=estimate,
        programme=programme,
    )


def _strength(job: Job, ground: Ground, frame: Frame) -> Strength:
    return check_strength(job, frame, post_heights(job, ground, frame))


def post_heights(job: Job, ground: Ground, frame: Frame) -> Mapping[Mark, float]:
    """Return the clear height of every post from footing to timber, by the ground surface [mm].

    Strength stands before posts in the flow, and slenderness wants a height: the surface gives it. A post that
    has no room at all counts as 1 mm high here; ``posts`` names the shortfall.
    """
    footing = job.frame.footing.height
    return {p.mark: max(1.0, p.underside - ground.level(p.x, p.y).z - footing) for p in frame.posts}


def _shape_of(job: Job) -> Job:
    """Return the job without what no room before the price may read: name, date, paper, stock and crew dates."""
    return replace(job, name="", date=None, paper="", stock=(), crew=replace(job.crew, people=1, start=None))


def _without_prices(yard: Yard) -> Yard:
    """Return the yard with its lengths only, so that a price cannot touch boards or frame."""
    nothing = Decimal(0)
    return replace(
        yard,
        stock=tuple(
            replace(s, price=replace(s.price, low=nothing, high=nothing, asked_on=None), where="") for s in yard.stock
        ),
        rack=(),
    )
