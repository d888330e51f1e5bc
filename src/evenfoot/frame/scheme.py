"""Where the lines of a frame lie and where its posts stand, before any timber is made."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.errors import Fault, NoSolutionError
from evenfoot.frame.axes import Axes, Plane, stretch_of
from evenfoot.frame.lines import Room, settle, typed_lines
from evenfoot.frame.places import Places, choose, clear_places, even_places, split_line
from evenfoot.geom import as_upright_box
from evenfoot.job import FloorSpec, Job, MemberSpec, Yard, kinds
from evenfoot.layout import Axis, Layout

_LAPS = frozenset({kinds.Joint.LAP_OVER, kinds.Joint.LAP_UNDER})


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """One post to come, on the frame's own coordinates; ``on_joist`` is the joist that it bears, else a beam."""

    b: float
    j: float
    beam: int | None
    on_joist: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """The lines of the frame: joists at ``joists`` along the beams, beams at ``beams`` along the joists [mm]."""

    axes: Axes
    joists: tuple[float, ...]
    beams: tuple[float, ...]
    post_joists: frozenset[int]
    stands: tuple[Stand, ...]
    beam_splices: tuple[tuple[float, ...], ...]
    joist_splices: tuple[tuple[float, ...], ...]
    checks: tuple[Check, ...]


def draw_scheme(job: Job, layout: Layout, yard: Yard) -> Scheme:
    """Return the lines and post places of the frame.

    Raises: NoSolutionError when the outline is not a rectangle or the frame is too small for its posts.
    """
    axes = _axes(job, layout)
    beams = _beam_lines(job, axes)
    joists = layout.joist_lines
    if stands_under_joists(job):
        post_joists, stands, checks = _under_joists(job, axes, joists, beams)
    else:
        post_joists = frozenset[int]()
        stands, checks = _under_beams(job, axes, joists, beams)
    return Scheme(
        axes=axes,
        joists=joists,
        beams=beams,
        post_joists=post_joists,
        stands=stands,
        beam_splices=_beam_splices(job, axes, yard, stands, joists=joists, count=len(beams)),
        joist_splices=_joist_splices(job, axes, yard, beams=beams, count=len(joists)),
        checks=checks,
    )


def has_laps(job: Job) -> bool:
    """Return whether joists and beams run through each other in laps."""
    return job.frame.style is kinds.Style.FLUSH and job.frame.joints.joist in _LAPS


def stands_under_joists(job: Job) -> bool:
    """Return whether posts bear joists, which then carry the beams (laps entered from below)."""
    return has_laps(job) and kinds.Joint.LAP_UNDER in (job.frame.joints.post_joist, job.frame.joints.joist)


def top_plane(floor: FloorSpec, sill: float) -> Plane:
    """Return the plane of the undersides of the boards, ``floor.drop`` and a board under the ``sill`` [mm]."""
    board = floor.board.thickness * stretch_of(floor.fall)
    return Plane(top_at_wall=sill - floor.drop - board, fall=floor.fall)


def _axes(job: Job, layout: Layout) -> Axes:
    if as_upright_box(layout.outline) is None:
        raise NoSolutionError(
            Fault(where=f"{job.floor.where}.outline", code="frame-needs-rectangle", found=str(len(layout.outline)))
        )
    plane = top_plane(job.floor, job.site.sill)
    if layout.joist_axis is Axis.Y:
        return Axes(joist_axis=layout.joist_axis, b=layout.frame_x, j=layout.frame_y, plane=plane)
    return Axes(joist_axis=layout.joist_axis, b=layout.frame_y, j=layout.frame_x, plane=plane)


def _post_sides(job: Job, axes: Axes) -> tuple[float, float]:
    """Return the post's size along the beams and along the joists."""
    post = job.frame.post
    return (post.width, post.depth) if axes.joist_axis is Axis.Y else (post.depth, post.width)


def _inside(low: float, high: float, inset: float, job: Job) -> tuple[float, float]:
    if low + inset > high - inset + 1e-9:
        room = (high - low) / 2
        raise NoSolutionError(
            Fault(
                where=f"{job.frame.where}.setback",
                code="frame-too-small",
                found=f"{inset:g} mm",
                allowed=f"{room:g} mm",
                nearest=f"{max(0.0, job.frame.setback - (inset - room)):g} mm",
            )
        )
    return low + inset, high - inset


def _beam_lines(job: Job, axes: Axes) -> tuple[float, ...]:
    beam = job.frame.beam
    inset = beam.width / 2
    if job.frame.style is kinds.Style.STACKED:
        inset = job.frame.setback + max(beam.width, _post_sides(job, axes)[1]) / 2
    first, last = _inside(*axes.j, inset, job)
    return even_places(first, last, beam.spacing_max)


def _blocked(job: Job, axes: Axes, *, at: float, is_along_beams: bool) -> list[tuple[float, float]]:
    """Return the stretches that obstacles close to a footing's centre on a line ``at``, along beams or along joists."""
    half = job.frame.footing.size / 2
    out: list[tuple[float, float]] = []
    for o in job.site.obstacles:
        reach = half + o.clearance
        xs, ys = (o.x - reach, o.x + o.width + reach), (o.y - reach, o.y + o.depth + reach)
        b, j = (xs, ys) if axes.joist_axis is Axis.Y else (ys, xs)
        along, across = (b, j) if is_along_beams else (j, b)
        if across[0] < at < across[1]:
            out.append(along)
    return out


def _under_beams(
    job: Job, axes: Axes, joists: tuple[float, ...], beams: tuple[float, ...]
) -> tuple[tuple[Stand, ...], tuple[Check, ...]]:
    post = job.frame.post
    first, last = _inside(*axes.b, job.frame.setback + _post_sides(job, axes)[0] / 2, job)
    stands: list[Stand] = []
    checks: list[Check] = []
    for index, j in enumerate(beams):
        blocked = _blocked(job, axes, at=j, is_along_beams=True)
        if job.frame.post_lines:
            room = _room(job, joists, first, last)
            lines = typed_lines(job.frame.post_lines, room)
            places, off = settle(lines, blocked, room, subject=f"{index + 1}")
            checks += off
        elif has_laps(job):
            free = [b for b in joists if first - 1e-6 <= b <= last + 1e-6 and not _hits(b, blocked)]
            places = choose(free, post.spacing_max) if free else Places(at=(), widest=math.inf)
        else:
            places = clear_places(first=first, last=last, spacing_max=post.spacing_max, blocked=blocked)
        checks += _spacing_checks(post, places, f"{index + 1}", is_typed=bool(job.frame.post_lines))
        stands += [Stand(b=b, j=j, beam=index, on_joist=None) for b in places.at]
    return tuple(stands), tuple(checks)


def _under_joists(
    job: Job, axes: Axes, joists: tuple[float, ...], beams: tuple[float, ...]
) -> tuple[frozenset[int], tuple[Stand, ...], tuple[Check, ...]]:
    post = job.frame.post
    side_b, side_j = _post_sides(job, axes)
    low, high = _inside(*axes.j, job.frame.setback + side_j / 2, job)
    ends = (low, high) if high - low > 1e-9 else (low,)
    js = [(ends[0], None), *((j, k) for k, j in enumerate(beams) if 0 < k < len(beams) - 1), (ends[-1], None)]
    first, last = _inside(*axes.b, job.frame.setback + side_b / 2, job)
    free = [
        b
        for b in joists
        if first - 1e-6 <= b <= last + 1e-6
        and not any(_hits(j, _blocked(job, axes, at=b, is_along_beams=False)) for j, _ in js)
    ]
    checks: list[Check] = []
    if job.frame.joints.joist is kinds.Joint.LAP_UNDER:
        chosen = Places(at=tuple(joists), widest=0.0)
    elif job.frame.post_lines:
        room = _room(job, joists, first, last)
        shut = [(b - 1e-3, b + 1e-3) for b in joists if b not in free]
        chosen, off = settle(typed_lines(job.frame.post_lines, room), shut, room, subject="all")
        checks += off
    else:
        chosen = choose(free, post.spacing_max) if free else Places(at=(), widest=math.inf)
    checks += _spacing_checks(post, chosen, "all", is_typed=bool(job.frame.post_lines))
    indices = frozenset(i for i, b in enumerate(joists) if b in chosen.at)
    stands = tuple(Stand(b=joists[i], j=j, beam=k, on_joist=i) for i in sorted(indices) for j, k in js)
    return indices, stands, tuple(checks)


def _room(job: Job, joists: tuple[float, ...], first: float, last: float) -> Room:
    """Return where lines of posts may lie: under the joists where these and the beams lap, else anywhere."""
    under = tuple(b for b in joists if first - 1e-6 <= b <= last + 1e-6)
    return Room(first=first, last=last, joists=under if has_laps(job) else None, where=job.frame.where)


def _hits(place: float, blocked: list[tuple[float, float]]) -> bool:
    return any(low < place < high for low, high in blocked)


def _spacing_checks(post: MemberSpec, places: Places, beam: str, *, is_typed: bool) -> list[Check]:
    if len(places.at) == 1:
        return [
            Check(
                subject=beam,
                rule="two-supports",
                verdict=Verdict.FAILS,
                demand=2.0,
                capacity=1.0,
                source=post.where,
                remedy="smaller-setback",
            )
        ]
    if places.at and places.widest <= post.spacing_max + 1e-6:
        return []
    return [
        Check(
            subject=beam,
            rule="post-spacing" if places.at else "no-place-for-posts",
            verdict=Verdict.FAILS,
            demand=places.widest if places.at else None,
            capacity=post.spacing_max,
            ratio=places.widest / post.spacing_max if places.at else None,
            unit="mm",
            source=post.where,
            remedy="post-line-between" if is_typed and places.at else "move-obstacle-or-spacing",
        )
    ]


def _beam_splices(  # noqa: PLR0913 - the lines on both sides of a splice
    job: Job, axes: Axes, yard: Yard, stands: tuple[Stand, ...], *, joists: tuple[float, ...], count: int
) -> tuple[tuple[float, ...], ...]:
    """Return where each beam is spliced: over its own posts, clear of joist ends; laps leave no wood to splice."""
    beam = job.frame.beam
    longest = yard.longest(species=beam.species, width=beam.width, depth=beam.depth)
    if has_laps(job) or not job.frame.joints.splice or longest <= 0.0:
        return ((),) * count
    stretch = axes.along(axes.beam_axis, 1.0)
    clear = job.frame.joist.width / 2 if job.frame.style is not kinds.Style.STACKED else 0.0
    out: list[tuple[float, ...]] = []
    for index in range(count):
        posts = sorted(s.b for s in stands if s.beam == index)
        supports = [b for b in _inner(posts) if not any(abs(b - j) < clear + 1e-6 for j in joists)]
        avoid = frozenset(out[-1]) if out else frozenset[float]()
        out.append(
            split_line(start=axes.b[0], end=axes.b[1], supports=supports, longest=longest / stretch, avoid=avoid)
        )
    return tuple(out)


def _joist_splices(
    job: Job, axes: Axes, yard: Yard, *, beams: tuple[float, ...], count: int
) -> tuple[tuple[float, ...], ...]:
    """Return where each joist is spliced: over a beam it lies on, and only in a stacked frame."""
    joist = job.frame.joist
    longest = yard.longest(species=joist.species, width=joist.width, depth=joist.depth)
    if job.frame.style is not kinds.Style.STACKED or not job.frame.joints.splice or longest <= 0.0:
        return ((),) * count
    stretch = axes.along(axes.joist_axis, 1.0)
    patterns: list[tuple[float, ...]] = []
    for turn in range(min(2, count)):
        avoid = frozenset(patterns[-1]) if turn else frozenset[float]()
        patterns.append(
            split_line(start=axes.j[0], end=axes.j[1], supports=_inner(beams), longest=longest / stretch, avoid=avoid)
        )
    return tuple(patterns[i % len(patterns)] for i in range(count))


def _inner(bearings: Sequence[float]) -> Sequence[float]:
    """Return the bearings that a line may be spliced over: with the outermost, an end piece would rest on one alone."""
    return bearings[1:-1]
