"""Where the timbers of a frame meet, how deep each is cut there, and who bears on whom."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from evenfoot.frame.axes import Axes
from evenfoot.frame.grid import Grid
from evenfoot.frame.model import Entry, Joint, JointKind, Mark, PostPlace, Splice
from evenfoot.frame.scheme import Scheme, Stand, has_laps
from evenfoot.frame.timbers import Lined, housing_depth
from evenfoot.job import Job, kinds
from evenfoot.layout import Axis

_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The timbers and the grid that the joints are found on."""

    beams: tuple[Lined, ...]
    joists: tuple[Lined, ...]
    grid: Grid


def meet(job: Job, scheme: Scheme, parts: Parts) -> tuple[Joint, ...]:
    """Return the joints between joists and beams, in order of joist and beam line."""
    if has_laps(job):
        find = _lap
    elif job.frame.style is kinds.Style.STACKED:
        find = _bearing
    else:
        find = _end_joint
    out: list[Joint] = []
    by_line: dict[int, list[Lined]] = {}
    for beam in parts.beams:
        by_line.setdefault(beam.index, []).append(beam)
    reach = job.frame.beam.width / 2 + _NEAR
    for joist in parts.joists:
        b = scheme.joists[joist.index]
        for line, j in enumerate(scheme.beams):
            if not joist.low - reach <= j <= joist.high + reach:
                continue
            beam = next(x for x in by_line[line] if x.low - _NEAR <= b <= x.high + _NEAR)
            out.append(find(_Crossing(job=job, scheme=scheme, grid=parts.grid, joist=joist, beam=beam)))
    return tuple(out)


def stand_posts(job: Job, scheme: Scheme, parts: Parts) -> tuple[tuple[PostPlace, ...], tuple[Joint, ...]]:
    """Return the post places and the joints of their heads, one for each timber end that rests on the post."""
    posts: list[PostPlace] = []
    heads: list[Joint] = []
    post = job.frame.post
    for stand in scheme.stands:
        lined, along = _borne(parts, stand)
        x, y = scheme.axes.xy(stand.b, stand.j)
        mark = Mark(f"{parts.grid.label(Axis.X, x)}{parts.grid.label(Axis.Y, y)}")
        below = lined[0].member.depth + (
            job.frame.joist.depth if job.frame.style is kinds.Style.STACKED and stand.on_joist is None else 0.0
        )
        posts.append(
            PostPlace(
                mark=mark,
                x=x,
                y=y,
                under=lined[0].member.mark,
                underside=scheme.axes.plane.top(y, below),
                underside_slope=(0.0, -scheme.axes.plane.fall),
                width=post.width,
                depth=post.depth,
                species=post.species,
                look=post.look,
                strength_grade=post.strength_grade,
                where=post.where,
            )
        )
        side = post.width if lined[0].member.axis is Axis.X else post.depth
        heads += [_head(scheme.axes, one, along, mark, (x, y, side, below)) for one in lined]
    return tuple(posts), tuple(heads)


def find_splices(scheme: Scheme, parts: Parts, posts: tuple[PostPlace, ...]) -> tuple[Splice, ...]:
    """Return the splices: beams over posts, joists over beams."""
    out: list[Splice] = []
    for first, second in pairwise(parts.beams):
        if first.index == second.index:
            x, y = scheme.axes.xy(first.high, scheme.beams[first.index])
            over = next(p.mark for p in posts if abs(p.x - x) < 1.0 and abs(p.y - y) < 1.0)
            out.append(Splice(first=first.member.mark, second=second.member.mark, over=over, x=x, y=y))
    for first, second in pairwise(parts.joists):
        if first.index == second.index and abs(first.high - second.low) < _NEAR:
            b = scheme.joists[first.index]
            x, y = scheme.axes.xy(b, first.high)
            over = next(
                beam.member.mark
                for beam in parts.beams
                if abs(scheme.beams[beam.index] - first.high) < _NEAR and beam.low - _NEAR <= b <= beam.high + _NEAR
            )
            out.append(Splice(first=first.member.mark, second=second.member.mark, over=over, x=x, y=y))
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Crossing:
    job: Job
    scheme: Scheme
    grid: Grid
    joist: Lined
    beam: Lined

    @property
    def b(self) -> float:
        return self.scheme.joists[self.joist.index]

    @property
    def j(self) -> float:
        return self.scheme.beams[self.beam.index]

    @property
    def xy(self) -> tuple[float, float]:
        return self.scheme.axes.xy(self.b, self.j)

    @property
    def at_joist(self) -> float:
        return self.scheme.axes.along(self.scheme.axes.joist_axis, self.j - self.joist.low)

    @property
    def at_beam(self) -> float:
        return self.scheme.axes.along(self.scheme.axes.beam_axis, self.b - self.beam.low)

    @property
    def is_end_of_joist(self) -> bool:
        half = self.beam.member.width / 2 + _NEAR
        return self.j - self.joist.low <= half or self.joist.high - self.j <= half

    @property
    def is_end_of_beam(self) -> bool:
        half = self.joist.member.width / 2 + _NEAR
        return self.b - self.beam.low <= half or self.beam.high - self.b <= half

    def mark(self, kind: JointKind, suffix: str = "") -> str:
        x, y = self.xy
        return f"{self.grid.label(Axis.X, x)}{self.grid.label(Axis.Y, y)}{suffix}.{kind}"


def _lap(c: _Crossing) -> Joint:
    joist, beam, seat = c.joist.member, c.beam.member, c.job.frame.joints.seat
    is_under = c.joist.index in c.scheme.post_joists and (
        kinds.Joint.LAP_UNDER in (c.job.frame.joints.post_joist, c.job.frame.joints.joist)
    )
    upper, lower = (beam, joist) if is_under else (joist, beam)
    depth = min(joist.depth, beam.depth) / 2 if seat is None else seat
    kind = JointKind.LAP_UNDER if is_under else JointKind.LAP_OVER
    x, y = c.xy
    return Joint(
        mark=c.mark(kind),
        kind=kind,
        upper=upper.mark,
        lower=lower.mark,
        x=x,
        y=y,
        at_upper=c.at_beam if is_under else c.at_joist,
        at_lower=c.at_joist if is_under else c.at_beam,
        cut_upper=max(0.0, upper.depth - depth),
        cut_lower=depth,
        seat=lower.width,
        seat_depth=depth,
        entry=Entry.BELOW if is_under else Entry.ABOVE,
        is_end_of_upper=c.is_end_of_beam if is_under else c.is_end_of_joist,
        is_end_of_lower=c.is_end_of_joist if is_under else c.is_end_of_beam,
    )


def _bearing(c: _Crossing) -> Joint:
    x, y = c.xy
    is_split = c.joist.low > c.j - 1.0 or c.joist.high < c.j + 1.0
    suffix = "" if not is_split else ("+" if c.joist.low > c.j - 1.0 else "-")
    return Joint(
        mark=c.mark(JointKind.BEARING, suffix),
        kind=JointKind.BEARING,
        upper=c.joist.member.mark,
        lower=c.beam.member.mark,
        x=x,
        y=y,
        at_upper=c.at_joist,
        at_lower=c.at_beam,
        cut_upper=0.0,
        cut_lower=0.0,
        seat=c.beam.member.width / (2 if is_split else 1),
        seat_depth=c.joist.member.depth,
        entry=Entry.ABOVE,
        is_end_of_upper=c.is_end_of_joist,
        is_end_of_lower=c.is_end_of_beam,
    )


def _end_joint(c: _Crossing) -> Joint:
    """Return the joint of a joist end housed, butted or hung against the side of a beam."""
    kind = JointKind(str(c.job.frame.joints.joist))
    depth = housing_depth(c.job)
    is_start = c.joist.low > c.j - c.beam.member.width
    is_start = is_start and c.joist.low < c.j + c.beam.member.width
    x, y = c.xy
    return Joint(
        mark=c.mark(kind, "+" if is_start else "-"),
        kind=kind,
        upper=c.joist.member.mark,
        lower=c.beam.member.mark,
        x=x,
        y=y,
        at_upper=depth / 2 if is_start else c.joist.member.length - depth / 2,
        at_lower=c.at_beam,
        cut_upper=0.0,
        cut_lower=depth,
        seat=depth,
        seat_depth=c.joist.member.depth,
        entry=Entry.ABOVE if kind is JointKind.HOUSING else Entry.SIDE,
        is_end_of_upper=True,
        is_end_of_lower=c.is_end_of_beam,
    )


def _borne(parts: Parts, stand: Stand) -> tuple[tuple[Lined, ...], float]:
    """Return the timber (two at a splice) on a post, and the post's place along that line."""
    if stand.on_joist is not None:
        lined = [x for x in parts.joists if x.index == stand.on_joist]
        along = stand.j
    else:
        lined = [x for x in parts.beams if x.index == stand.beam]
        along = stand.b
    return tuple(x for x in lined if x.low - _NEAR <= along <= x.high + _NEAR), along


def _head(axes: Axes, lined: Lined, along: float, post: Mark, place: tuple[float, float, float, float]) -> Joint:
    x, y, side, below = place
    before, after = along - lined.low, lined.high - along
    suffix = "" if min(before, after) > 1.0 else ("+" if before <= 1.0 else "-")
    return Joint(
        mark=f"{post}{suffix}.{JointKind.POST_HEAD}",
        kind=JointKind.POST_HEAD,
        upper=lined.member.mark,
        lower=post,
        x=x,
        y=y,
        at_upper=axes.along(lined.member.axis, before),
        at_lower=0.0,
        cut_upper=0.0,
        cut_lower=0.0,
        seat=min(side / 2, before) + min(side / 2, after),
        seat_depth=below,
        entry=Entry.ABOVE,
        is_end_of_upper=min(before, after) <= side / 2 + _NEAR,
        is_end_of_lower=True,
    )
