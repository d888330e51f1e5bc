"""Jobs, shops and built floors for tests of the estimate; boards, frame and joints come from their own rooms."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from evenfoot.cutting import CuttingPlan, PlacedCut, SectionPlan, Stick
from evenfoot.estimate import Built
from evenfoot.frame import build_frame
from evenfoot.job import FloorSpec, FrameSpec, Job, MemberSpec, Shop, SiteSpec, StockItem, Yard, kinds
from evenfoot.job.model import BoardSpec, Climate, Crew, Finish, FootingSpec, JointSpec, LoadSpec, Overhang
from evenfoot.job.shop import FixingItem, Price
from evenfoot.joints import detail_joints
from evenfoot.layout import lay_boards
from evenfoot.posts import Basis, PostCut, Posts
from evenfoot.timber import SeasonGap, Timber

__all__ = ["fixing_item", "make_built", "make_job", "make_shop", "price", "replace"]


def member(width: float, depth: float, spacing: float, where: str, species: str) -> MemberSpec:
    return MemberSpec(
        width=width,
        depth=depth,
        species=species,
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        spacing_max=spacing,
        where=where,
    )


def make_job(
    *,
    standard: str = "japan",
    style: str = "flush",
    joint: str = "lap-over",
    post_joist: str = "lap-under",
    size: tuple[float, float] = (3640.0, 2710.0),
    board: tuple[float, float] = (30.0, 120.0),
    joist: tuple[float, float] = (90.0, 105.0),
    beam: tuple[float, float] = (90.0, 105.0),
    species: str = "sugi",
    board_species: str | None = None,
    direction_deg: float = 0.0,
    overhang: float = 30.0,
    coats: int = 2,
    finish: str = "penetrating",
    hidden_first: bool = True,
) -> Job:
    width, depth = size
    return Job(
        name="test",
        unit=kinds.Unit.MM,
        standard=kinds.Standard(standard),
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
            obstacles=(),
            where="site",
        ),
        floor=FloorSpec(
            outline=((0.0, 10.0), (width, 10.0), (width, 10.0 + depth), (0.0, 10.0 + depth)),
            drop=20.0,
            fall=0.0,
            board=BoardSpec(
                thickness=board[0],
                width=board[1],
                species=board_species or species,
                look=kinds.Look.SMALL_KNOT,
                strength_grade="ungraded",
                direction_deg=direction_deg,
                gap=5.0,
                gap_min=3.0,
                gap_max=9.0,
                closing=kinds.Closing.RIP_LAST,
                rip_min=60.0,
                end_gap=3.0,
                where="floor.board",
            ),
            overhang=Overhang(wall=0.0, outer=overhang, left=overhang, right=overhang, where="floor.overhang"),
            where="floor",
        ),
        frame=FrameSpec(
            style=kinds.Style(style),
            beam=member(*beam, 1365.0, "frame.beam", species),
            joist=member(*joist, 455.0, "frame.joist", species),
            post=member(90.0, 90.0, 1365.0, "frame.post", species),
            setback=150.0,
            joints=JointSpec(joist=kinds.Joint(joint), post_joist=kinds.Joint(post_joist), seat=None, splice=True),
            footing=FootingSpec(kind=kinds.Footing.STONE, height=150.0, size=200.0, is_bedded_level=True),
            rough_allowance=30.0,
            where="frame",
        ),
        loads=LoadSpec(
            use=kinds.Use.DWELLING,
            wetness=kinds.Wetness.ALWAYS,
            snow_depth=0.0,
            is_heavy_snow_area=False,
            person=980.0,
            where="loads",
        ),
        finish=Finish(kind=kinds.Coating(finish), coats=coats, hidden_first=hidden_first, where="finish"),
        climate=Climate(fixing=15.0, dry=12.0, wet=25.0, temperature=20.0, humidity=65.0, where="climate"),
        crew=Crew(people=2, hours_a_day=7.0, start=None, where="crew"),
        stock=(),
    )


def price(low: str, high: str | None = None, by: str = "piece") -> Price:
    return Price(low=Decimal(low), high=Decimal(high or low), by=kinds.PriceBy(by), asked_on=None)


def fixing_item(mark: str, per_box: int, low: str, *, by: str = "box") -> FixingItem:
    return FixingItem(mark=mark, per_box=per_box, price=price(low, by=by), where=f"fixings[{mark}]")


def make_shop(**changes) -> Shop:
    shop = Shop(
        currency="JPY",
        tax=Decimal("0.10"),
        overhead=Decimal("0.15"),
        hour=price("3000", "3500", "hour"),
        coating=price("2310", "2750", "litre"),
        footing=price("900", "1250"),
        kerf=3.0,
        end_trim=15.0,
        keep=300.0,
        stock=(),
        rack=(),
        fixings=(fixing_item("4.2x65", 300, "2480"), fixing_item("4.2x75", 250, "2650")),
        rates=(),
    )
    return replace(shop, **changes)


def make_yard(job: Job) -> Yard:
    board = job.floor.board

    def item(width: float, depth: float, species: str) -> StockItem:
        return StockItem(
            species=species,
            look=kinds.Look.COMMON,
            strength_grade="ungraded",
            width=width,
            depth=depth,
            rough_width=width,
            rough_depth=depth,
            lengths=(3000.0, 4000.0),
            available=None,
            price=price("1500"),
            label="",
            where="stock",
        )

    stock = (
        item(board.width, board.thickness, board.species),
        *(item(m.width, m.depth, m.species) for m in (job.frame.beam, job.frame.joist, job.frame.post)),
    )
    return Yard(stock=stock, rack=(), kerf=3.0, end_trim=15.0, keep=300.0)


def stick(length: float, cost: str, *cuts: float, source: str = "yard", high: str | None = None) -> Stick:
    placed = []
    at = 15.0
    for number, cut in enumerate(cuts):
        placed.append(PlacedCut(mark=f"p{number}", begin=at, finish=at + cut))
        at += cut + 3.0
    return Stick(
        source=source,
        length=length,
        cuts=tuple(placed),
        left_over=0.0,
        is_kept=False,
        cost_low=Decimal(cost),
        cost_high=Decimal(high or cost),
    )


def section(*sticks: Stick, **changes) -> SectionPlan:
    plan = SectionPlan(
        species="sugi",
        width=90.0,
        depth=105.0,
        rough_width=90.0,
        rough_depth=105.0,
        look=kinds.Look.COMMON,
        label="",
        sticks=sticks,
        cost=sum((s.cost_low for s in sticks), Decimal(0)),
        bound=Decimal(0),
        is_proved=True,
        net_length=0.0,
        bought_length=sum(s.length for s in sticks),
    )
    return replace(plan, **changes)


def make_posts(frame) -> Posts:
    return Posts(
        cuts=tuple(
            PostCut(
                mark=p.mark,
                x=p.x,
                y=p.y,
                underside=p.underside,
                ground=-500.0,
                footing_top=-400.0,
                length=223.0 + 7.0 * number,
                sigma=1.0,
                rough_length=300.0,
                basis=Basis.SURFACE,
                head_angle_deg=0.0,
                head_falls_toward_deg=0.0,
                foot_lift=0.0,
                width=p.width,
                depth=p.depth,
                species=p.species,
                stack=(),
            )
            for number, p in enumerate(frame.posts)
        ),
        checks=(),
    )


def make_built(job: Job, *sections: SectionPlan) -> Built:
    yard = make_yard(job)
    layout = lay_boards(job, yard)
    frame = build_frame(job, layout, yard)
    return Built(
        layout=layout,
        frame=frame,
        joinery=detail_joints(frame),
        posts=make_posts(frame),
        timber=Timber(
            masses=(),
            total_mass=0.0,
            gap=SeasonGap(on_the_day=5.0, wet_low=4.0, wet_high=4.5, dry_low=5.5, dry_high=6.0, advised=5.0),
            movements=(),
            exposures=(),
            checks=(),
        ),
        cutting=CuttingPlan(pieces=(), sections=sections, checks=()),
    )
