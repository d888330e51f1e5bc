"""A small floor for tests of the timber room, made without the parser, the layout or the frame room.

Boards along x on three joists along y, which meet two beams along x; posts under the beams' ends.
"""

from __future__ import annotations

from dataclasses import replace

from evenfoot.frame import Entry, Frame, Joint, JointKind, Mark, Member, PostPlace, Role
from evenfoot.job import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec, kinds
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
from evenfoot.layout import Axis, BoardPiece, Layout, Row

BEAM_Y = (95.0, 1045.0)
JOIST_X = (60.0, 910.0, 1760.0)
FRAME_X = (7.5, 1812.5)
FRAME_Y = (42.5, 1097.5)


def timber_of(width: float, depth: float, species: str, where: str) -> MemberSpec:
    return MemberSpec(
        width=width,
        depth=depth,
        species=species,
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        spacing_max=910.0,
        where=where,
    )


def make_job(*, species: str = "hinoki", board: str = "hinoki", width: float = 120.0) -> Job:
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
            levels=(LevelReading(name="a", x=0.0, y=0.0, z=-400.0, where="site.levels[0]"),),
            wall=(),
            obstacles=(),
            where="site",
        ),
        floor=FloorSpec(
            outline=((0.0, 10.0), (1820.0, 10.0), (1820.0, 1120.0), (0.0, 1120.0)),
            drop=20.0,
            fall=0.0,
            board=BoardSpec(
                thickness=30.0,
                width=width,
                species=board,
                look=kinds.Look.FINE,
                strength_grade="ungraded",
                direction_deg=0.0,
                gap=6.0,
                gap_min=3.0,
                gap_max=10.0,
                closing=kinds.Closing.EVEN_GAP,
                rip_min=50.0,
                end_gap=5.0,
                where="floor.board",
            ),
            overhang=Overhang(wall=0.0, outer=20.0, left=0.0, right=0.0, where="floor.overhang"),
            where="floor",
        ),
        frame=FrameSpec(
            style=kinds.Style.FLUSH,
            beam=timber_of(105.0, 105.0, species, "frame.beam"),
            joist=timber_of(105.0, 105.0, species, "frame.joist"),
            post=timber_of(90.0, 90.0, species, "frame.post"),
            setback=100.0,
            joints=JointSpec(joist=kinds.Joint.LAP_OVER, post_joist=kinds.Joint.LAP_OVER, seat=None, splice=True),
            footing=FootingSpec(kind=kinds.Footing.STONE, height=120.0, size=240.0, is_bedded_level=True),
            rough_allowance=30.0,
            where="frame",
        ),
        loads=LoadSpec(
            use=kinds.Use.DWELLING,
            wetness=kinds.Wetness.AT_TIMES,
            snow_depth=0.0,
            is_heavy_snow_area=False,
            person=1000.0,
            where="loads",
        ),
        finish=Finish(kind=kinds.Coating.PENETRATING, coats=2, hidden_first=True, where="finish"),
        climate=Climate(fixing=15.0, dry=12.0, wet=25.0, temperature=18.0, humidity=60.0, where="climate"),
        crew=Crew(people=2, hours_a_day=7.5, start=None, where="crew"),
        stock=(),
    )


def make_layout(job: Job, *, gap: float = 6.0, length: float = 1820.0) -> Layout:
    """Rows of whole boards from y = 10 outward."""
    board = job.floor.board
    pitch = board.width + gap
    rows, pieces = [], []
    for n in range(int((1120.0 - 10.0 + gap) // pitch)):
        near = 10.0 + n * pitch
        far = near + board.width
        rows.append(Row(number=n + 1, width=board.width, near=near, far=far))
        pieces.append(
            BoardPiece(
                mark=f"b{n + 1}.1",
                row=n + 1,
                index=1,
                outline=((0.0, near), (length, near), (length, far), (0.0, far)),
                start=(0.0, (near + far) / 2),
                end=(length, (near + far) / 2),
                length=length,
                width=board.width,
                is_ripped=False,
                is_shaped=False,
                start_on_joist=None,
                end_on_joist=None,
            )
        )
    return Layout(
        outline=job.floor.outline,
        direction_deg=0.0,
        gap=gap,
        rows=tuple(rows),
        pieces=tuple(pieces),
        joist_axis=Axis.Y,
        joist_lines=JOIST_X,
        joist_spacing=850.0,
        frame_x=FRAME_X,
        frame_y=FRAME_Y,
        screws=0,
        checks=(),
    )


def member(job: Job, mark: str, role: Role, axis: Axis, at: float) -> Member:
    spec = job.frame.beam if role is Role.BEAM else job.frame.joist
    low, high = FRAME_X if axis is Axis.X else FRAME_Y
    ends = [(p, at, -50.0) if axis is Axis.X else (at, p, -50.0) for p in (low, high)]
    return Member(
        mark=Mark(mark),
        role=role,
        axis=axis,
        line=mark[0],
        start=ends[0],
        end=ends[1],
        width=spec.width,
        depth=spec.depth,
        length=high - low,
        species=spec.species,
        look=spec.look,
        strength_grade=spec.strength_grade,
        is_seen=False,
        where=spec.where,
    )


def make_frame(job: Job, *, kind: JointKind = JointKind.LAP_OVER, top: float = -50.0) -> Frame:
    beams = [member(job, f"{n}A-C", Role.BEAM, Axis.X, y) for n, y in enumerate(BEAM_Y, start=1)]
    joists = [member(job, f"{c}1-2", Role.JOIST, Axis.Y, x) for c, x in zip("ABC", JOIST_X, strict=True)]
    joints = [
        Joint(
            mark=f"{c}{n}.{kind}",
            kind=kind,
            upper=Mark(f"{c}1-2"),
            lower=Mark(f"{n}A-C"),
            x=x,
            y=y,
            at_upper=y,
            at_lower=x,
            cut_upper=52.5,
            cut_lower=52.5,
            seat=105.0,
            seat_depth=52.5,
            entry=Entry.ABOVE,
            is_end_of_upper=True,
            is_end_of_lower=c != "B",
        )
        for c, x in zip("ABC", JOIST_X, strict=True)
        for n, y in enumerate(BEAM_Y, start=1)
    ]
    posts = [
        PostPlace(
            mark=Mark(f"{c}{n}"),
            x=x,
            y=y,
            under=Mark(f"{n}A-C"),
            underside=top - 105.0,
            underside_slope=(0.0, 0.0),
            width=job.frame.post.width,
            depth=job.frame.post.depth,
            species=job.frame.post.species,
            look=job.frame.post.look,
            strength_grade="ungraded",
            where="frame.post",
        )
        for c, x in (("A", JOIST_X[0]), ("C", JOIST_X[2]))
        for n, y in enumerate(BEAM_Y, start=1)
    ]
    return Frame(
        style=job.frame.style,
        joist_axis=Axis.Y,
        members=(*beams, *joists),
        joints=tuple(joints),
        splices=(),
        posts=tuple(posts),
        grid=(),
        top_at_wall=top,
        fall=0.0,
        checks=(),
    )


def with_climate(job: Job, **changes: float) -> Job:
    return replace(job, climate=replace(job.climate, **changes))


def with_board(job: Job, **changes: object) -> Job:
    return replace(job, floor=replace(job.floor, board=replace(job.floor.board, **changes)))
