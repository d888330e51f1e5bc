"""Jobs and small frames for tests of strength, built as plain records without the rooms that derive them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from evenfoot.frame import Entry, Frame, Joint, JointKind, Mark, Member, PostPlace, Role, Splice
from evenfoot.job import Job, MemberSpec, SiteSpec, kinds
from evenfoot.job.model import (
    BoardSpec,
    Climate,
    Crew,
    Finish,
    FloorSpec,
    FootingSpec,
    FrameSpec,
    JointSpec,
    LoadSpec,
    Overhang,
)
from evenfoot.layout import Axis

_JOIST, _SQUARE = (45.0, 90.0), (105.0, 105.0)
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def timber(width: float, depth: float, species: str = "hinoki", grade: str = "ungraded") -> MemberSpec:
    return MemberSpec(
        width=width,
        depth=depth,
        species=species,
        look=kinds.Look.COMMON,
        strength_grade=grade,
        is_seen=False,
        spacing_max=600.0,
        where="frame.joist",
    )


def make_job(
    *,
    standard: str = "japan",
    overhang: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0),
    use: str = "dwelling",
    wetness: str = "always",
    snow_depth: float = 0.0,
    is_heavy: bool = False,
    direction_deg: float = 0.0,
    board: tuple[float, float] = (105.0, 30.0),
    board_species: str = "hinoki",
    closing: str = "even-gap",
    fall: float = 0.0,
    person: float = 1000.0,
) -> Job:
    """``overhang`` is wall, outer, left, right; ``board`` is width and thickness."""
    wall, outer, left, right = overhang
    square = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0))
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
            outline=square,
            drop=20.0,
            fall=fall,
            board=BoardSpec(
                thickness=board[1],
                width=board[0],
                species=board_species,
                look=kinds.Look.FINE,
                strength_grade="ungraded",
                direction_deg=direction_deg,
                gap=5.0,
                gap_min=3.0,
                gap_max=8.0,
                closing=kinds.Closing(closing),
                rip_min=50.0,
                end_gap=5.0,
                where="floor.board",
            ),
            overhang=Overhang(wall=wall, outer=outer, left=left, right=right, where="floor.overhang"),
            where="floor",
        ),
        frame=FrameSpec(
            style=kinds.Style.STACKED,
            beam=timber(105.0, 105.0),
            joist=timber(45.0, 90.0),
            post=timber(105.0, 105.0),
            setback=0.0,
            joints=JointSpec(joist=kinds.Joint.BEARING, post_joist=kinds.Joint.BEARING, seat=None, splice=True),
            footing=FootingSpec(kind=kinds.Footing.STONE, height=60.0, size=200.0, is_bedded_level=True),
            rough_allowance=30.0,
            where="frame",
        ),
        loads=LoadSpec(
            use=kinds.Use(use),
            wetness=kinds.Wetness(wetness),
            snow_depth=snow_depth,
            is_heavy_snow_area=is_heavy,
            person=person,
            where="loads",
        ),
        finish=Finish(kind=kinds.Coating.NONE, coats=0, hidden_first=True, where="finish"),
        climate=Climate(fixing=15.0, dry=12.0, wet=25.0, temperature=18.0, humidity=65.0, where="climate"),
        crew=Crew(people=2, hours_a_day=8.0, start=None, where="crew"),
        stock=(),
    )


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Where things stand, in the frame's own directions: ``joists`` and ``posts`` along the beams, ``beams`` along joists.

    Joists run from ``reach[0]`` to ``reach[1]``, beams from ``run[0]`` to ``run[1]``. ``under`` are the joists (by
    number) that carry the beams by laps from below; posts then stand under those joists at the beams.
    """

    joists: tuple[float, ...] = (0.0, 455.0, 910.0)
    beams: tuple[float, ...] = (0.0, 1210.0)
    posts: tuple[float, ...] = (0.0, 910.0)
    reach: tuple[float, float] = (0.0, 1210.0)
    run: tuple[float, float] = (-22.5, 932.5)
    kind: JointKind = JointKind.BEARING
    cut: tuple[float, float] = (0.0, 0.0)
    """Cut out of the upper and the lower timber."""
    under: tuple[int, ...] = ()
    post_shift: float = 0.0
    """Under joists: how far posts stand from the beams along the joist (inward)."""
    joist: MemberSpec = field(default_factory=lambda: timber(*_JOIST))
    beam: MemberSpec = field(default_factory=lambda: timber(*_SQUARE))
    post: MemberSpec = field(default_factory=lambda: timber(*_SQUARE))
    axis: str = "y"
    """The direction of the joists."""
    fall: float = 0.0


def make_frame(plan: Plan) -> Frame:
    axes = (Axis.Y, Axis.X) if plan.axis == "y" else (Axis.X, Axis.Y)
    joists = tuple(
        member(plan, Role.JOIST, axes[0], b, plan.reach, f"{LETTERS[k]}1-{len(plan.beams)}")
        for k, b in enumerate(plan.joists)
    )
    last = LETTERS[len(plan.joists) - 1]
    beams = tuple(member(plan, Role.BEAM, axes[1], j, plan.run, f"{k + 1}A-{last}") for k, j in enumerate(plan.beams))
    joints = [lap(plan, joists[b], beams[j], (b, j)) for b in range(len(plan.joists)) for j in range(len(plan.beams))]
    posts, heads = stand(plan, joists, beams)
    return Frame(
        style=kinds.Style.STACKED if plan.kind is JointKind.BEARING else kinds.Style.FLUSH,
        joist_axis=axes[0],
        members=(*beams, *joists),
        joints=(*joints, *heads),
        splices=(),
        posts=posts,
        grid=(),
        top_at_wall=0.0,
        fall=plan.fall,
        checks=(),
    )


def member(plan: Plan, role: Role, axis: Axis, across: float, reach: tuple[float, float], mark: str) -> Member:
    spec = plan.joist if role is Role.JOIST else plan.beam
    x = (across, across) if axis is Axis.Y else reach
    y = reach if axis is Axis.Y else (across, across)
    stretch = (1.0 + plan.fall**2) ** 0.5 if axis is Axis.Y else 1.0
    return Member(
        mark=Mark(mark),
        role=role,
        axis=axis,
        line=mark[0],
        start=(x[0], y[0], -plan.fall * y[0]),
        end=(x[1], y[1], -plan.fall * y[1]),
        width=spec.width,
        depth=spec.depth,
        length=(reach[1] - reach[0]) * stretch,
        species=spec.species,
        look=spec.look,
        strength_grade=spec.strength_grade,
        is_seen=False,
        where="frame.joist",
    )


def lap(plan: Plan, joist: Member, beam: Member, place: tuple[int, int]) -> Joint:
    is_under = place[0] in plan.under
    upper, lower = (beam, joist) if is_under else (joist, beam)
    on_joist = (plan.beams[place[1]] - plan.reach[0]) * joist.length / (plan.reach[1] - plan.reach[0])
    on_beam = (plan.joists[place[0]] - plan.run[0]) * beam.length / (plan.run[1] - plan.run[0])
    at_upper, at_lower = (on_beam, on_joist) if is_under else (on_joist, on_beam)
    at_upper = min(max(at_upper, 0.0), upper.length)  # a joist that stops at the beam's side
    kind = JointKind.LAP_UNDER if is_under else plan.kind
    half_upper, half_lower = lower.width / 2 + 1e-6, upper.width / 2 + 1e-6
    return Joint(
        mark=f"{LETTERS[place[0]]}{place[1] + 1}.{kind}",
        kind=kind,
        upper=upper.mark,
        lower=lower.mark,
        x=0.0,
        y=0.0,
        at_upper=at_upper,
        at_lower=at_lower,
        cut_upper=plan.cut[0],
        cut_lower=plan.cut[1],
        seat=lower.width,
        seat_depth=plan.cut[1],
        entry=Entry.BELOW if is_under else Entry.ABOVE,
        is_end_of_upper=min(at_upper, upper.length - at_upper) <= half_upper,
        is_end_of_lower=min(at_lower, lower.length - at_lower) <= half_lower,
    )


def stand(
    plan: Plan, joists: tuple[Member, ...], beams: tuple[Member, ...]
) -> tuple[tuple[PostPlace, ...], list[Joint]]:
    """Posts under the beams, or under the joists that carry them."""
    posts, heads = [], []
    places = (
        [(joists[b], plan.joists[b], j, "ji") for b in plan.under for j in plan.beams]
        if plan.under
        else [(beams[k], b, j, "bj") for k, j in enumerate(plan.beams) for b in plan.posts]
    )
    middle = (plan.beams[0] + plan.beams[-1]) / 2
    for number, (under, b, beam_at, which) in enumerate(places):
        j = beam_at
        if which == "ji" and plan.post_shift:
            j += plan.post_shift if j < middle else -plan.post_shift
        at = (j - plan.reach[0]) if which == "ji" else (b - plan.run[0])
        at *= under.length / ((plan.reach[1] - plan.reach[0]) if which == "ji" else (plan.run[1] - plan.run[0]))
        x, y = (b, j) if plan.axis == "y" else (j, b)
        mark = Mark(f"P{number + 1}")
        posts.append(
            PostPlace(
                mark=mark,
                x=x,
                y=y,
                under=under.mark,
                underside=0.0,
                underside_slope=(0.0, 0.0),
                width=plan.post.width,
                depth=plan.post.depth,
                species=plan.post.species,
                look=plan.post.look,
                strength_grade=plan.post.strength_grade,
                where="frame.post",
            )
        )
        side = plan.post.width
        heads.append(
            Joint(
                mark=f"{mark}.post-head",
                kind=JointKind.POST_HEAD,
                upper=under.mark,
                lower=mark,
                x=x,
                y=y,
                at_upper=at,
                at_lower=0.0,
                cut_upper=0.0,
                cut_lower=0.0,
                seat=side,
                seat_depth=under.depth,
                entry=Entry.ABOVE,
                is_end_of_upper=min(at, under.length - at) <= side / 2,
                is_end_of_lower=True,
            )
        )
    return tuple(posts), heads


def heights(frame: Frame, height: float = 400.0) -> dict[Mark, float]:
    return {p.mark: height for p in frame.posts}


__all__ = ["Plan", "Splice", "heights", "make_frame", "make_job", "replace", "timber"]
