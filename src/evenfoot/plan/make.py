"""From a job, a shop and a log to the whole plan: every room once, in the order of the work."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from evenfoot.cutting import CuttingPlan, pieces_of, plan_cuts, timber_facts, with_spares
from evenfoot.estimate import Built, price_job
from evenfoot.frame import Frame, Mark, build_frame
from evenfoot.job import Job, Log, Shop, Yard, yard_for
from evenfoot.joints import Joinery, detail_joints
from evenfoot.layout import Layout, lay_boards
from evenfoot.plan.memory import Memory
from evenfoot.plan.model import Framed, Plan
from evenfoot.posts import Posts, cut_posts
from evenfoot.programme import order_work
from evenfoot.site import Ground, read_ground
from evenfoot.strength import Strength, check_strength
from evenfoot.timber import Timber, know_timber

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
    bench = _Bench(job=job, log=log, yard=yard_for(job, shop), memory=memory or Memory(), tell=on_stage or _silent)
    ground = bench.site()
    layout, frame = bench.floor()
    strength = bench.strength(ground, frame)
    joinery, posts = bench.timbers(ground, frame)
    timber, cutting = bench.wood(layout, frame, posts)
    built = Built(layout=layout, frame=frame, joinery=joinery, posts=posts, timber=timber, cutting=cutting)
    bench.tell("estimate")
    estimate = price_job(job, shop, built)
    bench.tell("programme")
    programme = order_work(job, built, estimate)
    return Plan(
        job=job,
        shop=shop,
        log=log,
        yard=bench.yard,
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


def frame_only(job: Job, shop: Shop, log: Log, *, memory: Memory | None = None) -> Framed:
    """Return the frame of a job and its strength, as ``make_plan`` would find them, without what comes after.

    Raises: EvenfootError when a room cannot go on.
    """
    bench = _Bench(job=job, log=log, yard=yard_for(job, shop), memory=memory or Memory(), tell=_silent)
    ground = bench.site()
    _, frame = bench.floor()
    return Framed(job=job, frame=frame, strength=bench.strength(ground, frame))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bench:
    """The inputs of one plan and its memory; each method runs the rooms of one part of the work."""

    job: Job
    log: Log
    yard: Yard
    memory: Memory
    tell: Callable[[str], None]

    def site(self) -> Ground:
        self.tell("site")
        return self.memory.recall("site", read_ground, values=(self.job.site, self.log))

    def floor(self) -> tuple[Layout, Frame]:
        given = (_shape_of(self.job), _without_prices(self.yard))
        self.tell("layout")
        layout = self.memory.recall("layout", lay_boards, values=given)
        self.tell("frame")
        frame = self.memory.recall("frame", lambda s, y, b: build_frame(s, b, y), values=given, results=(layout,))
        return layout, frame

    def strength(self, ground: Ground, frame: Frame) -> Strength:
        self.tell("strength")
        return self.memory.recall("strength", _strength, values=(_shape_of(self.job),), results=(ground, frame))

    def timbers(self, ground: Ground, frame: Frame) -> tuple[Joinery, Posts]:
        self.tell("joints")
        joinery = self.memory.recall("joints", detail_joints, values=(), results=(frame,))
        self.tell("posts")
        posts = self.memory.recall(
            "posts",
            lambda job, log, g, f: cut_posts(job, g, f, log),
            values=(_shape_of(self.job), self.log),
            results=(ground, frame),
        )
        return joinery, posts

    def wood(self, layout: Layout, frame: Frame, posts: Posts) -> tuple[Timber, CuttingPlan]:
        self.tell("timber")
        timber = self.memory.recall("timber", know_timber, values=(_with_crew(self.job),), results=(layout, frame))
        self.tell("cutting")
        pieces = self.memory.recall("pieces", pieces_of, values=(self.job.floor,), results=(layout, frame, posts))
        cutting = self.memory.recall(
            "cutting",
            lambda yard, wish, facts, p: plan_cuts(with_spares(p, wish.spares), yard, facts),
            values=(self.yard, self.job.cutting, timber_facts(self.log)),
            results=(pieces,),
        )
        return timber, cutting


def _silent(_stage: str) -> None:
    """Tell nobody."""


def _strength(job: Job, ground: Ground, frame: Frame) -> Strength:
    return check_strength(job, frame, post_heights(job, ground, frame))


def post_heights(job: Job, ground: Ground, frame: Frame) -> Mapping[Mark, float]:
    """Return the clear height of every post from footing to timber, by the ground surface [mm].

    Strength stands before posts in the flow, and slenderness wants a height: the surface gives it. A post that
    has no room at all counts as 1 mm high here; ``posts`` names the shortfall.
    """
    footing = job.frame.footing.height
    heights = ground.heights([(p.x, p.y) for p in frame.posts])
    return {p.mark: max(1.0, p.underside - z - footing) for p, z in zip(frame.posts, heights, strict=True)}


def _with_crew(job: Job) -> Job:
    """Return the job without what no room before the price may read: name, date, paper, stock and the first day."""
    nothing = replace(job.cutting, spares=(), together=())
    return replace(job, name="", date=None, paper="", stock=(), cutting=nothing, crew=replace(job.crew, start=None))


def _shape_of(job: Job) -> Job:
    """Return the job as ``_with_crew``, and without its people: only the lifting of timber asks for them."""
    return replace(_with_crew(job), crew=replace(job.crew, people=1, hours_a_day=1.0, start=None))


def _without_prices(yard: Yard) -> Yard:
    """Return the yard with its lengths only, so that a price cannot touch boards or frame."""
    nothing = Decimal(0)
    return replace(
        yard,
        stock=tuple(
            replace(s, price=replace(s.price, low=nothing, high=nothing, asked_on=None), where="") for s in yard.stock
        ),
        rack=(),
        keep_worth=nothing,
        goals=(),
        together=(),
    )
