"""Which single changes of a job may be tried for a part that falls short, in the order in which they are tried."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from evenfoot.checks import Fact
from evenfoot.job import Job, Yard, kinds
from evenfoot.options.parts import Part

_CLOSER = (0.75, 0.6, 0.5)
"""Shares of a spacing that are tried, one after the other."""
_SECTIONS = 3
"""Larger sections of the yard that are tried."""
_SHALLOW = 1.0 / 3.0
"""Share of the shallower timber that a seat may take by the usual rule of notches."""
_STEP, _STEP_INCH = 5.0, 12.7
"""Spacings are tried in whole steps [mm]."""
_FLUSH_JOINTS = (kinds.Joint.LAP_OVER, kinds.Joint.LAP_UNDER, kinds.Joint.HOUSING)
_LEAST_SPACING = 150.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a job. ``code`` is ``option.<code>`` in the catalogue; changes of one ``kind`` are steps one way.

    ``facts`` hold what was and what is tried; ``job`` is the job with the change, and ``keys`` are the keys of the job
    file that make it so: lengths [mm], or a word of the file.
    """

    kind: str
    code: str
    facts: tuple[Fact, ...]
    keys: tuple[tuple[str, float | str], ...]
    job: Job


def changes_for(part: Part, job: Job, yard: Yard, *, wanted_base: float | None = None) -> Iterator[Change]:
    """Yield the changes to try for one part: the next section, closer spacing, another support, another joint.

    ``wanted_base`` is the side of a footing that would do [mm], where that is known.
    """
    if part is Part.BOARDS:
        yield from _thicker_boards(job, yard)
        yield from _closer(job, "joist", "closer-joists")
    elif part is Part.JOISTS:
        yield from _larger(job, yard, "joist")
        yield from _closer(job, "joist", "closer-joists")
        yield from _closer(job, "beam", "closer-beams")
        yield from _joints(job)
        yield from _deep_seat(job, yard)
    elif part is Part.BEAMS:
        yield from _larger(job, yard, "beam")
        yield from _closer(job, "post", "closer-posts")
        yield from _closer(job, "beam", "closer-beams")
        yield from _joints(job)
    elif part is Part.POSTS:
        yield from _larger(job, yard, "post")
        yield from _closer(job, "post", "closer-posts")
    elif part is Part.FOOTINGS:
        yield from _wider_footing(job, wanted_base)
        yield from _closer(job, "post", "closer-posts")


def _larger(job: Job, yard: Yard, name: str) -> Iterator[Change]:
    """Yield the next sections of the same wood and grade that are no smaller either way, the smallest first."""
    spec = getattr(job.frame, name)
    sizes = {
        size
        for item in yard.stock
        if (item.species, item.strength_grade) == (spec.species, spec.strength_grade)
        for size in ((item.width, item.depth), (item.depth, item.width))
    }
    larger = sorted(
        (s for s in sizes if s[0] >= spec.width and s[1] >= spec.depth and s != (spec.width, spec.depth)),
        key=lambda s: (s[0] * s[1], -s[1]),
    )
    for width, depth in larger[:_SECTIONS]:
        yield Change(
            kind="section",
            code=f"larger-{name}",
            facts=(
                ("width_mm", width),
                ("depth_mm", depth),
                ("was_width_mm", spec.width),
                ("was_depth_mm", spec.depth),
            ),
            keys=((f"frame.{name}.width", width), (f"frame.{name}.depth", depth)),
            job=_with_member(job, name, width=width, depth=depth),
        )


def _thicker_boards(job: Job, yard: Yard) -> Iterator[Change]:
    board = job.floor.board
    thicker = sorted(
        {
            min(item.width, item.depth)
            for item in yard.stock
            if (item.species, item.strength_grade) == (board.species, board.strength_grade)
            and max(item.width, item.depth) == board.width
            and min(item.width, item.depth) > board.thickness
        }
    )
    for thickness in thicker[:_SECTIONS]:
        yield Change(
            kind="section",
            code="thicker-boards",
            facts=(("depth_mm", thickness), ("was_depth_mm", board.thickness)),
            keys=(("floor.board.thickness", thickness),),
            job=replace(job, floor=replace(job.floor, board=replace(board, thickness=thickness))),
        )


def _closer(job: Job, name: str, code: str) -> Iterator[Change]:
    """Yield closer spacings; none for posts whose lines the carpenter set, since a spacing would not move those."""
    if name == "post" and job.frame.post_lines:
        return
    spec = getattr(job.frame, name)
    step = _STEP_INCH if job.unit in {kinds.Unit.INCH, kinds.Unit.FOOT} else _STEP
    for share in _CLOSER:
        spacing = round(math.floor(spec.spacing_max * share / step) * step, 4)
        if spacing < _LEAST_SPACING:
            return
        yield Change(
            kind=code,
            code=code,
            facts=(("spacing_mm", spacing), ("was_spacing_mm", spec.spacing_max)),
            keys=((f"frame.{name}.spacing_max", spacing),),
            job=_with_member(job, name, spacing_max=spacing),
        )


def _joints(job: Job) -> Iterator[Change]:
    """Yield a seat within a third of the depth, and the other joints that a flush frame can have."""
    joints = job.frame.joints
    if job.frame.style is not kinds.Style.FLUSH:
        return
    shallowest = min(job.frame.joist.depth, job.frame.beam.depth)
    seat = math.floor(shallowest * _SHALLOW)
    was = joints.seat if joints.seat is not None else job.frame.joist.depth / 2.0
    if 0 < seat < was:
        yield Change(
            kind="seat",
            code="shallower-seat",
            facts=(("depth_mm", float(seat)), ("was_depth_mm", was)),
            keys=(("frame.joints.seat", float(seat)),),
            job=_with_joints(job, seat=float(seat)),
        )
    for joint in _FLUSH_JOINTS:
        if joint is not joints.joist:
            yield Change(
                kind="joint",
                code="another-joint",
                facts=(("joint_code", f"joint-kind.{joint}"), ("was_joint_code", f"joint-kind.{joints.joist}")),
                keys=(("frame.joints.joist", joint.value),),
                job=_with_joints(job, joist=joint),
            )


def _deep_seat(job: Job, yard: Yard) -> Iterator[Change]:
    """Yield a beam so deep that the joist may ride in it with a third of its own depth cut, and the beam no more."""
    joist, beam = job.frame.joist, job.frame.beam
    if job.frame.style is not kinds.Style.FLUSH:
        return
    deep = sorted(
        {
            (min(item.width, item.depth), max(item.width, item.depth))
            for item in yard.stock
            if (item.species, item.strength_grade) == (beam.species, beam.strength_grade)
            and min(item.width, item.depth) >= beam.width
            and max(item.width, item.depth) >= 2.0 * joist.depth
        },
        key=lambda s: s[0] * s[1],
    )
    for width, depth in deep[:1]:
        seat = float(math.ceil(2.0 * joist.depth / 3.0))
        changed = _with_joints(_with_member(job, "beam", width=width, depth=depth), seat=seat)
        yield Change(
            kind="deep-seat",
            code="deep-seat",
            facts=(("width_mm", width), ("depth_mm", depth), ("seat_mm", seat)),
            keys=(("frame.beam.width", width), ("frame.beam.depth", depth), ("frame.joints.seat", seat)),
            job=changed,
        )


def _wider_footing(job: Job, wanted: float | None) -> Iterator[Change]:
    footing = job.frame.footing
    step = 25.4 if job.unit in {kinds.Unit.INCH, kinds.Unit.FOOT} else 10.0
    if wanted is None or wanted <= footing.size:
        return
    size = round(math.ceil(wanted / step) * step, 4)
    yield Change(
        kind="footing",
        code="larger-footing",
        facts=(("size_mm", size), ("was_size_mm", footing.size)),
        keys=(("frame.footing.size", size),),
        job=replace(job, frame=replace(job.frame, footing=replace(footing, size=size))),
    )


def _with_member(job: Job, name: str, **changed: float) -> Job:
    spec = replace(getattr(job.frame, name), **changed)
    return replace(job, frame=replace(job.frame, **{name: spec}))


def _with_joints(job: Job, **changed: object) -> Job:
    return replace(job, frame=replace(job.frame, joints=replace(job.frame.joints, **changed)))  # type: ignore[arg-type]
