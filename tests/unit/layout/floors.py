"""Makes jobs and yards for the tests of the boards; only what the boards read can be chosen."""

from decimal import Decimal

from evenfoot.job import Yard, kinds
from evenfoot.job.model import (
    BoardSpec,
    Climate,
    Crew,
    Finish,
    FloorSpec,
    FootingSpec,
    FrameSpec,
    Job,
    JointSpec,
    LoadSpec,
    MemberSpec,
    Overhang,
    SiteSpec,
)
from evenfoot.job.shop import Price, StockItem

PRICE = Price(low=Decimal(1), high=Decimal(1), by=kinds.PriceBy.PIECE, asked_on=None)


def rectangle(width, depth, *, x=0.0, y=0.0):
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def board(**changes):
    values = {
        "thickness": 30.0,
        "width": 105.0,
        "species": "sugi",
        "look": kinds.Look.SMALL_KNOT,
        "strength_grade": "ungraded",
        "direction_deg": 0.0,
        "gap": 5.0,
        "gap_min": 3.0,
        "gap_max": 8.0,
        "closing": kinds.Closing.EVEN_GAP,
        "rip_min": 50.0,
        "end_gap": 3.0,
        "where": "floor.board",
    }
    return BoardSpec(**(values | changes))


def member(*, width, depth, spacing_max, where):
    return MemberSpec(
        width=width,
        depth=depth,
        species="hinoki",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        spacing_max=spacing_max,
        where=where,
    )


def frame(*, joist_width=45.0, spacing_max=450.0):
    return FrameSpec(
        style=kinds.Style.FLUSH,
        beam=member(width=90.0, depth=90.0, spacing_max=910.0, where="frame.beam"),
        joist=member(width=joist_width, depth=90.0, spacing_max=spacing_max, where="frame.joist"),
        post=member(width=90.0, depth=90.0, spacing_max=1200.0, where="frame.post"),
        setback=100.0,
        joints=JointSpec(joist=kinds.Joint.LAP_OVER, post_joist=kinds.Joint.LAP_UNDER, seat=None, splice=True),
        footing=FootingSpec(kind=kinds.Footing.STONE, height=50.0, size=200.0, is_bedded_level=True),
        rough_allowance=30.0,
        where="frame",
    )


def floor(outline, *, fall=0.0, overhang=(0.0, 30.0, 30.0, 30.0), **board_changes):
    wall, outer, left, right = overhang
    return FloorSpec(
        outline=tuple(outline),
        drop=50.0,
        fall=fall,
        board=board(**board_changes),
        overhang=Overhang(wall=wall, outer=outer, left=left, right=right, where="floor.overhang"),
        where="floor",
    )


def job(outline, *, joist_width=45.0, spacing_max=450.0, **floor_changes):
    """A job whose floor is ``outline``; any field of the board, ``fall`` and ``overhang`` may be given."""
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
            obstacles=(),
            where="site",
        ),
        floor=floor(outline, **floor_changes),
        frame=frame(joist_width=joist_width, spacing_max=spacing_max),
        loads=LoadSpec(
            use=kinds.Use.DWELLING,
            wetness=kinds.Wetness.AT_TIMES,
            snow_depth=0.0,
            is_heavy_snow_area=False,
            person=1000.0,
            where="loads",
        ),
        finish=Finish(kind=kinds.Coating.PENETRATING, coats=2, hidden_first=True, where="finish"),
        climate=Climate(fixing=18.0, dry=12.0, wet=20.0, temperature=15.0, humidity=60.0, where="climate"),
        crew=Crew(people=2, hours_a_day=8.0, start=None, where="crew"),
        stock=(),
    )


def yard(*lengths, width=105.0, thickness=30.0, end_trim=0.0, species="sugi"):
    item = StockItem(
        species=species,
        look=kinds.Look.SMALL_KNOT,
        strength_grade="ungraded",
        width=width,
        depth=thickness,
        rough_width=width + 5.0,
        rough_depth=thickness + 5.0,
        lengths=tuple(lengths),
        available=None,
        price=PRICE,
        label="",
        where="shop.stock[0]",
    )
    return Yard(stock=(item,) if lengths else (), rack=(), kerf=3.0, end_trim=end_trim, keep=300.0)
