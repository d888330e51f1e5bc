"""Jobs and layouts for tests of the frame, made without the parser or the layout room."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from evenfoot.job import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec, StockItem, Yard, kinds
from evenfoot.job.model import BoardSpec, Climate, Crew, Finish, FootingSpec, JointSpec, LoadSpec, Obstacle, Overhang
from evenfoot.job.shop import Price
from evenfoot.layout import Axis, Layout, even_centres


def member(width: float, depth: float, spacing: float, where: str) -> MemberSpec:
    return MemberSpec(
        width=width,
        depth=depth,
        species="sugi",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        spacing_max=spacing,
        where=where,
    )


def make_job(
    *,
    style: str = "flush",
    joint: str = "lap-over",
    post_joist: str = "lap-under",
    size: tuple[float, float] = (3640.0, 2730.0),
    fall: float = 0.0,
    direction_deg: float = 0.0,
    obstacles: tuple[Obstacle, ...] = (),
) -> Job:
    width, depth = size
    outline = ((0.0, 10.0), (width, 10.0), (width, 10.0 + depth), (0.0, 10.0 + depth))
    return Job(
        name="test",
        unit=kinds.Unit.MM,
        standard=kinds.Standard.JAPAN,
        date=None,
        paper="A3",
        site=SiteSpec(
            has_house=True,
            sill=0.0,
            ground=kinds.Ground.SLAB,
            surface=kinds.Surface.PLANE,
            accuracy=2.0,
            stations=(),
            levels=(),
            wall=(),
            obstacles=obstacles,
            where="site",
        ),
        floor=FloorSpec(
            outline=outline,
            drop=20.0,
            fall=fall,
            board=BoardSpec(
                thickness=30.0,
                width=105.0,
                species="hinoki",
                look=kinds.Look.FINE,
                strength_grade="ungraded",
                direction_deg=direction_deg,
                gap=5.0,
                gap_min=3.0,
                gap_max=8.0,
                closing=kinds.Closing.EVEN_GAP,
                rip_min=50.0,
                end_gap=5.0,
                where="floor.board",
            ),
            overhang=Overhang(wall=0.0, outer=20.0, left=25.0, right=15.0, where="floor.overhang"),
            where="floor",
        ),
        frame=FrameSpec(
            style=kinds.Style(style),
            beam=member(105.0, 105.0, 1300.0, "frame.beam"),
            joist=member(105.0, 105.0, 610.0, "frame.joist"),
            post=member(90.0, 105.0, 1300.0, "frame.post"),
            setback=130.0,
            joints=JointSpec(joist=kinds.Joint(joint), post_joist=kinds.Joint(post_joist), seat=None, splice=True),
            footing=FootingSpec(kind=kinds.Footing.STONE, height=60.0, size=200.0, is_bedded_level=True),
            rough_allowance=30.0,
            where="frame",
        ),
        loads=LoadSpec(
            use=kinds.Use.DWELLING,
            wetness=kinds.Wetness.ALWAYS,
            snow_depth=0.0,
            is_heavy_snow_area=False,
            person=1000.0,
            where="loads",
        ),
        finish=Finish(kind=kinds.Coating.PENETRATING, coats=2, hidden_first=True, where="finish"),
        climate=Climate(fixing=15.0, dry=12.0, wet=25.0, temperature=18.0, humidity=65.0, where="climate"),
        crew=Crew(people=2, hours_a_day=8.0, start=None, where="crew"),
        stock=(),
    )


def make_layout(job: Job) -> Layout:
    """A bare layout: the outline and even joist lines, no boards."""
    xs, ys = [p[0] for p in job.floor.outline], [p[1] for p in job.floor.outline]
    o = job.floor.overhang
    frame_x, frame_y = (min(xs) + o.left, max(xs) - o.right), (min(ys) + o.wall, max(ys) - o.outer)
    axis = Axis.Y if abs(job.floor.board.direction_deg) <= 45 else Axis.X
    low, high = frame_x if axis is Axis.Y else frame_y
    half = job.frame.joist.width / 2
    lines = even_centres(first=low + half, last=high - half, spacing_max=job.frame.joist.spacing_max).lines
    return Layout(
        outline=job.floor.outline,
        direction_deg=job.floor.board.direction_deg,
        gap=5.0,
        rows=(),
        pieces=(),
        joist_axis=axis,
        joist_lines=lines,
        joist_spacing=lines[1] - lines[0],
        frame_x=frame_x,
        frame_y=frame_y,
        screws=0,
        checks=(),
    )


def make_yard(job: Job, *lengths: float) -> Yard:
    """A yard that sells every section of the job in the same lengths."""
    specs: tuple[MemberSpec, ...] = (job.frame.beam, job.frame.joist, job.frame.post)
    price = Price(low=Decimal(1), high=Decimal(1), by=kinds.PriceBy.METRE, asked_on=None)
    items = tuple(
        StockItem(
            species=s.species,
            look=s.look,
            strength_grade=s.strength_grade,
            width=s.width,
            depth=s.depth,
            rough_width=s.width,
            rough_depth=s.depth,
            lengths=lengths or (4000.0,),
            available=None,
            price=price,
            label="",
            where="stock",
        )
        for s in specs
    )
    return Yard(stock=items, rack=(), kerf=3.0, end_trim=15.0, keep=300.0)


__all__ = ["FloorSpec", "FrameSpec", "make_job", "make_layout", "make_yard", "replace"]
