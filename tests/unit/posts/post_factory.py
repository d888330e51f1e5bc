"""Jobs, grounds, frames and logs for tests of the posts, made without the parser or the frame room."""

from __future__ import annotations

from dataclasses import replace

from evenfoot.frame import Frame, Mark, Member, PostPlace, Role
from evenfoot.job import FloorSpec, FrameSpec, Job, Log, LogLine, MemberSpec, SiteSpec, kinds
from evenfoot.job.model import (
    BoardSpec,
    Climate,
    Crew,
    Finish,
    FootingSpec,
    JointSpec,
    LevelReading,
    LoadSpec,
    Overhang,
)
from evenfoot.layout import Axis
from evenfoot.posts import cut_posts
from evenfoot.site import read_ground

__all__ = ["cut", "frame_on", "gap_line", "make_job", "replace"]

SQUARE = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 2000.0), (0.0, 2000.0), (1600.0, 900.0))


def member(width, depth, spacing, where):
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


def make_site(fall=(0.0, 0.0), *, at=-500.0, ground="slab", accuracy=3.0, places=SQUARE, surface="plane", sill=0.0):
    """Ground z = at + fx x + fy y, read in ``places``."""
    return SiteSpec(
        has_house=True,
        sill=sill,
        ground=kinds.Ground(ground),
        surface=kinds.Surface(surface),
        accuracy=accuracy,
        stations=(),
        levels=tuple(
            LevelReading(name=f"p{k}", x=x, y=y, z=at + fall[0] * x + fall[1] * y, where=f"site.level[{k}]")
            for k, (x, y) in enumerate(places)
        ),
        wall=(),
        obstacles=(),
        where="site",
    )


def make_job(
    site=None,
    *,
    style="flush",
    standard="japan",
    drop=20.0,
    fall=0.0,
    joist=105.0,
    beam=105.0,
    post=(105.0, 105.0),
    footing=("stone", 60.0, 200.0, True),
    allowance=10.0,
):
    kind, height, size, is_level = footing
    return Job(
        name="test",
        unit=kinds.Unit.MM,
        standard=kinds.Standard(standard),
        date=None,
        paper="A3",
        site=site or make_site(),
        floor=FloorSpec(
            outline=((0.0, 0.0), (3000.0, 0.0), (3000.0, 2000.0), (0.0, 2000.0)),
            drop=drop,
            fall=fall,
            board=BoardSpec(
                thickness=30.0,
                width=105.0,
                species="hinoki",
                look=kinds.Look.SMALL_KNOT,
                strength_grade="ungraded",
                direction_deg=0.0,
                gap=5.0,
                gap_min=3.0,
                gap_max=8.0,
                closing=kinds.Closing.EVEN_GAP,
                rip_min=50.0,
                end_gap=3.0,
                where="floor.board",
            ),
            overhang=Overhang(wall=0.0, outer=30.0, left=30.0, right=30.0, where="floor.overhang"),
            where="floor",
        ),
        frame=FrameSpec(
            style=kinds.Style(style),
            beam=member(105.0, beam, 1800.0, "frame.beam"),
            joist=member(90.0, joist, 455.0, "frame.joist"),
            post=member(*post, 910.0, "frame.post"),
            setback=90.0,
            joints=JointSpec(joist=kinds.Joint.LAP_OVER, post_joist=kinds.Joint.LAP_OVER, seat=None, splice=True),
            footing=FootingSpec(kind=kinds.Footing(kind), height=height, size=size, is_bedded_level=is_level),
            rough_allowance=allowance,
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
        climate=Climate(fixing=16.0, dry=12.0, wet=18.0, temperature=15.0, humidity=60.0, where="climate"),
        crew=Crew(people=2, hours_a_day=8.0, start=None, where="crew"),
        stock=(),
    )


def frame_on(job, *, posts=((600.0, 1500.0), (2400.0, 1500.0))):
    """One beam along x at the first post's y, posts A1, B1 ... under it; stacked frames have joists over it."""
    y = posts[0][1]
    floor, spec = job.floor, job.frame
    stretch = (1 + floor.fall**2) ** 0.5
    top_at_wall = job.site.sill - floor.drop - floor.board.thickness * stretch
    is_stacked = spec.style is kinds.Style.STACKED
    top = top_at_wall - floor.fall * y - (spec.joist.depth * stretch if is_stacked else 0.0)
    underside = top - spec.beam.depth * stretch
    beam = Member(
        mark=Mark("1A-B"),
        role=Role.BEAM,
        axis=Axis.X,
        line="1",
        start=(30.0, y, top),
        end=(2970.0, y, top),
        width=spec.beam.width,
        depth=spec.beam.depth,
        length=2940.0,
        species="sugi",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        where="frame.beam",
    )
    return Frame(
        style=spec.style,
        joist_axis=Axis.Y,
        members=(beam,),
        joints=(),
        splices=(),
        posts=tuple(
            PostPlace(
                mark=Mark(f"{chr(65 + k)}1"),
                x=x,
                y=py,
                under=beam.mark,
                underside=underside,
                underside_slope=(0.0, -floor.fall),
                width=spec.post.width,
                depth=spec.post.depth,
                species="hinoki",
                look=kinds.Look.COMMON,
                strength_grade="ungraded",
                where="frame.post",
            )
            for k, (x, py) in enumerate(posts)
        ),
        grid=(),
        top_at_wall=top_at_wall,
        fall=floor.fall,
        checks=(),
    )


def gap_line(mark, value, *, accuracy=None, where="log:1", what="post-gap"):
    return LogLine(
        time="2026-12-01T10:00", what=what, mark=mark, x=None, y=None, value=value, accuracy=accuracy, where=where
    )


def cut(job, *lines, posts=((600.0, 1500.0), (2400.0, 1500.0))):
    log = Log(lines=tuple(lines))
    return cut_posts(job, read_ground(job.site, log), frame_on(job, posts=posts), log)
