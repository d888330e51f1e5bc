"""The timbers of a frame, made from its scheme: beams, joists, blocks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from evenfoot.frame.axes import Axes
from evenfoot.frame.grid import Grid
from evenfoot.frame.model import Mark, Member, Role
from evenfoot.frame.scheme import Scheme, has_laps
from evenfoot.job import Job, MemberSpec, kinds
from evenfoot.layout import Axis, Layout

_HOUSING_DEPTH = 15.0
"""Depth of a housed end into the side of a beam where the job names none [mm]; trade practice 12 to 15."""
_BLOCK_PAST_BOARD = 30.0
"""How far a block reaches past each edge of the board that it holds [mm]; our choice, room for the screws."""
_END_REST_MIN = 30.0
"""Least rest of a board end on wood where two meet [mm]; with less the joist gets a block on both sides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lined:
    """A timber with its place on the scheme: ``index`` of its beam or joist line, extent along that line [mm]."""

    member: Member
    index: int
    low: float
    high: float


def housing_depth(job: Job) -> float:
    """Return how far a joist end goes into the side of the beam [mm]; 0 where it only butts or hangs."""
    if job.frame.joints.joist is not kinds.Joint.HOUSING:
        return 0.0
    return _HOUSING_DEPTH if job.frame.joints.seat is None else job.frame.joints.seat


def make_grid(scheme: Scheme) -> Grid:
    """Return the grid over all timber and post axes."""
    b = [*scheme.joists, *(s.b for s in scheme.stands)]
    j = [*scheme.beams, *(s.j for s in scheme.stands)]
    return Grid(b, j) if scheme.axes.joist_axis is Axis.Y else Grid(j, b)


def make_beams(job: Job, scheme: Scheme, grid: Grid) -> tuple[Lined, ...]:
    """Return the beams, each line in the pieces that its splices make."""
    axes = scheme.axes
    below = job.frame.joist.depth if job.frame.style is kinds.Style.STACKED else 0.0
    out: list[Lined] = []
    for index, j in enumerate(scheme.beams):
        ends = [axes.b[0], *scheme.beam_splices[index], axes.b[1]]
        for low, high in pairwise(ends):
            place = _Place(axis=axes.beam_axis, line=j, low=low, high=high, below=below, role=Role.BEAM)
            member = _timber(job.frame.beam, place, axes, grid)
            out.append(Lined(member=member, index=index, low=low, high=high))
    return tuple(out)


def make_joists(job: Job, scheme: Scheme, grid: Grid) -> tuple[Lined, ...]:
    """Return the joists: whole, spliced over beams, or cut between them."""
    axes = scheme.axes
    runs_through = has_laps(job) or job.frame.style is kinds.Style.STACKED
    out: list[Lined] = []
    for index, b in enumerate(scheme.joists):
        if runs_through:
            ends = [axes.j[0], *scheme.joist_splices[index], axes.j[1]]
            inset = 0.0
        else:
            ends = list(scheme.beams)
            inset = job.frame.beam.width / 2 - housing_depth(job)
        for first, last in pairwise(ends):
            low, high = first + inset, last - inset
            place = _Place(
                axis=axes.joist_axis, line=b, low=low, high=high, below=0.0, role=Role.JOIST, named=(first, last)
            )
            member = _timber(job.frame.joist, place, axes, grid)
            out.append(Lined(member=member, index=index, low=low, high=high))
    return tuple(out)


def make_blocks(job: Job, scheme: Scheme, layout: Layout) -> tuple[Member, ...]:
    """Return the blocks: beside a joist where two board ends meet on it with too little wood, and along free edges.

    A joist that gives each board end less than 30 mm of rest gets a block on both sides under the joint.
    Boards at an angle on a stacked frame get blocks between the joists along both ends, where no beam is.
    """
    places = [*_butt_blocks(job, scheme, layout), *_edge_blocks(job, scheme, layout)]
    return tuple(
        _timber(job.frame.joist, replace(place, mark=f"k{number}"), scheme.axes, None)
        for number, place in enumerate(places, start=1)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    axis: Axis
    line: float
    low: float
    high: float
    below: float
    role: Role
    mark: str = ""
    """Its mark where the grid does not give one."""
    named: tuple[float, float] | None = None
    """Extent that its mark tells, where that is not its own: a joist between two beams is named by their lines."""


def _timber(spec: MemberSpec, place: _Place, axes: Axes, grid: Grid | None) -> Member:
    is_beamwise = place.axis is axes.beam_axis
    ends = [
        axes.point(*((along, place.line) if is_beamwise else (place.line, along)), place.below)
        for along in (place.low, place.high)
    ]
    across = Axis.X if place.axis is Axis.Y else Axis.Y
    line = "" if grid is None else grid.label(across, place.line)
    mark = Mark(place.mark)
    if grid is not None:
        mark = Mark(f"{line}{grid.span(place.axis, *(place.named or (place.low, place.high)))}")
    return Member(
        mark=mark,
        role=place.role,
        axis=place.axis,
        line=line,
        start=ends[0],
        end=ends[1],
        width=spec.width,
        depth=spec.depth,
        length=axes.along(place.axis, place.high - place.low),
        species=spec.species,
        look=spec.look,
        strength_grade=spec.strength_grade,
        is_seen=spec.is_seen and place.role is not Role.BLOCK,
        where=spec.where,
    )


def _butt_blocks(job: Job, scheme: Scheme, layout: Layout) -> list[_Place]:
    axes, joist = scheme.axes, job.frame.joist
    if (joist.width - job.floor.board.end_gap) / 2 >= _END_REST_MIN:
        return []
    out: list[_Place] = []
    beams = [(j - job.frame.beam.width / 2, j + job.frame.beam.width / 2) for j in scheme.beams]
    tops_level = job.frame.style is not kinds.Style.STACKED
    for piece in layout.pieces:
        if piece.end_on_joist is None:
            continue
        middle = piece.end[1] if axes.joist_axis is Axis.Y else piece.end[0]
        half = piece.width / 2 + _BLOCK_PAST_BOARD
        low, high = max(middle - half, axes.j[0]), min(middle + half, axes.j[1])
        for beam_low, beam_high in beams if tops_level else []:
            if beam_low < middle < beam_high:
                low = high = middle
            elif low < beam_high <= middle:
                low = beam_high
            elif middle <= beam_low < high:
                high = beam_low
        if high - low < piece.width / 2:
            continue
        line = scheme.joists[piece.end_on_joist]
        out += [
            _Place(
                axis=axes.joist_axis,
                line=line + side * joist.width,
                low=low,
                high=high,
                below=0.0,
                role=Role.BLOCK,
            )
            for side in (-1, 1)
        ]
    return out


def _edge_blocks(job: Job, scheme: Scheme, layout: Layout) -> list[_Place]:
    along_beams = 0.0 if scheme.axes.beam_axis is Axis.X else 90.0
    if job.frame.style is not kinds.Style.STACKED or abs(layout.direction_deg) == along_beams:
        return []
    half, axes = job.frame.joist.width / 2, scheme.axes
    return [
        _Place(axis=axes.beam_axis, line=line, low=a + half, high=c - half, below=0.0, role=Role.BLOCK)
        for line in (axes.j[0] + half, axes.j[1] - half)
        for a, c in pairwise(scheme.joists)
    ]
