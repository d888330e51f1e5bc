"""Which details that decay likes this floor really has, in which wood, and how high above the ground."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from evenfoot.frame import Frame, JointKind, Member, Role
from evenfoot.geom import box_of, heading
from evenfoot.job import Job, kinds
from evenfoot.layout import Axis, BoardPiece, Layout
from evenfoot.tables import wood

_END_JOINTS = (JointKind.HOUSING, JointKind.BUTT, JointKind.HANGER)
_LAPS = (JointKind.LAP_OVER, JointKind.LAP_UNDER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One detail (id of the decay table) in one wood: where it is, and its height above the ground [mm]."""

    detail: str
    species: str
    marks: tuple[str, ...]
    height: float


def is_sealed(job: Job) -> bool:
    """Return whether ends and hidden faces get their finish before they are hidden."""
    finish = job.finish
    return finish.kind is not kinds.Coating.NONE and finish.coats > 0 and finish.hidden_first


def find_details(job: Job, layout: Layout, frame: Frame) -> tuple[Found, ...]:
    """Return every detail of the floor, each once per wood, boards first.

    Heights are those over the highest ground reading, so that the dampest place decides. Without any reading in the
    job only the post feet have a known height, and only they are returned.
    """
    clear = _clearance(job, frame)
    feet = _post_feet(job, frame)
    if clear is None:
        return feet
    return (
        *_boards(job, layout, clear),
        *_tops(job, frame, clear),
        *_joints(job, layout, frame, clear),
        *_wall(job, layout, frame, clear),
        *_post_heads(frame, clear),
        *feet,
    )


def _clearance(job: Job, frame: Frame) -> float | None:
    """Return the least height of the frame's top over a ground reading [mm]; None when the job holds no reading."""
    levels = [(r.y, r.z) for r in job.site.levels]
    levels += [(r.y, s.on + s.backsight - r.rod) for s in job.site.stations for r in s.readings]
    return min((frame.top_at_wall - frame.fall * y - z for y, z in levels), default=None)


def _boards(job: Job, layout: Layout, clear: float) -> Iterator[Found]:
    board, reach = job.floor.board, wood.decay_table().reach
    height = clear + board.thickness
    top = "board-top" if layout.gap >= reach.draining_gap else "board-top-tight"
    yield Found(detail=top, species=board.species, marks=_marks(layout.pieces), height=height)
    meeting = [p for p in layout.pieces if p.start_on_joist is not None or p.end_on_joist is not None]
    open_ended = [p for p in layout.pieces if p.start_on_joist is None or p.end_on_joist is None]
    free_end = "board-end-sealed" if is_sealed(job) else "board-end-bare"
    met_end = free_end
    if board.end_gap < reach.tight_end:
        met_end = "board-end-tight"
    elif board.end_gap < reach.open_end:
        met_end = "board-end-bare"
    ends: dict[str, dict[str, None]] = {}
    for detail, pieces in ((met_end, meeting), (free_end, open_ended)):
        if pieces:
            ends.setdefault(detail, {}).update(dict.fromkeys(_marks(pieces)))
    for detail, marks in ends.items():
        yield Found(detail=detail, species=board.species, marks=tuple(marks), height=height)


def _tops(job: Job, frame: Frame, clear: float) -> Iterator[Found]:
    bearing = (Role.JOIST,) if job.frame.style is kinds.Style.STACKED else (Role.JOIST, Role.BEAM)
    under = [m for m in frame.members if m.role in bearing]
    for name, marks in _by_species((m.species, m.mark) for m in under):
        yield Found(detail="joist-top", species=name, marks=marks, height=clear)


def _joints(job: Job, layout: Layout, frame: Frame, clear: float) -> Iterator[Found]:
    members = {m.mark: m for m in frame.members}
    roof = _Roof(job, layout)
    details: dict[str, list[tuple[str, str]]] = {}
    deepest = 0.0
    for joint in frame.joints:
        if joint.kind is JointKind.POST_HEAD:
            continue
        upper, lower = members[joint.upper], members[joint.lower]
        if joint.kind in _END_JOINTS:
            detail = "joist-end"
        elif joint.kind in _LAPS:
            half = max(upper.width, lower.width) / 2
            is_kept_dry = is_sealed(job) and roof.covers(joint.x, joint.y, half)
            detail = "lap-covered" if is_kept_dry else "lap-open"
        else:
            detail = "joist-on-beam"
        deepest = max(deepest, joint.seat_depth)
        details.setdefault(detail, []).append((upper.species, joint.mark))
    for detail, places in details.items():
        for name, marks in _by_species(places):
            yield Found(detail=detail, species=name, marks=marks, height=clear - deepest)


def _wall(job: Job, layout: Layout, frame: Frame, clear: float) -> Iterator[Found]:
    if not job.site.has_house:
        return
    reach = wood.decay_table().reach
    left, right = layout.frame_x
    out = max((w.out for w in job.site.wall if left <= w.x <= right), default=0.0)
    space = layout.frame_y[0] - out
    if space >= reach.far_wall:
        return
    detail = "wall-open" if space >= reach.open_wall else "wall-near" if space >= reach.tight_wall else "wall-tight"
    nearest = layout.frame_y[0] + 1.0
    facing = [m for m in frame.members if _house_face(m) < nearest]
    deepest = max((m.depth for m in facing), default=0.0)
    for name, marks in _by_species((m.species, m.mark) for m in facing):
        yield Found(detail=detail, species=name, marks=marks, height=clear - deepest)


def _house_face(member: Member) -> float:
    """Return y of the face or end of a timber that is nearest the house [mm]."""
    return min(member.start[1], member.end[1]) - (member.width / 2 if member.axis is Axis.X else 0.0)


def _post_heads(frame: Frame, clear: float) -> Iterator[Found]:
    below = max((frame.top_at_wall - frame.fall * p.y - p.underside for p in frame.posts), default=0.0)
    for name, marks in _by_species((p.species, p.mark) for p in frame.posts):
        yield Found(detail="post-head", species=name, marks=marks, height=clear - below)


def _post_feet(job: Job, frame: Frame) -> tuple[Found, ...]:
    height = job.frame.footing.height
    return tuple(
        Found(detail="post-foot", species=name, marks=marks, height=height)
        for name, marks in _by_species((p.species, p.mark) for p in frame.posts)
    )


class _Roof:
    """The rows of boards as a roof over the joints: where no gap lies above."""

    def __init__(self, job: Job, layout: Layout) -> None:
        """Find the extent of every row across the boards [mm]."""
        self._heading = heading(layout.direction_deg, slope=job.floor.fall)
        rows: dict[int, tuple[float, float]] = {}
        for piece in layout.pieces:
            box = box_of(self._heading.local(piece.outline))
            near, far = rows.get(piece.row, (box.y0, box.y1))
            rows[piece.row] = (min(near, box.y0), max(far, box.y1))
        self._rows = sorted(rows.values())
        self._near = [near for near, _ in self._rows]

    def covers(self, x: float, y: float, half: float) -> bool:
        """Return whether one row covers the square of ``half`` its side [mm] around a plan point."""
        ((_, across),) = self._heading.local([(x, y)])
        reach = half * (abs(self._heading.cos) + abs(self._heading.sin))
        row = bisect_right(self._near, across - reach) - 1
        return row >= 0 and across + reach <= self._rows[row][1]


def _by_species(pairs: Iterable[tuple[str, str]]) -> Iterator[tuple[str, tuple[str, ...]]]:
    groups: dict[str, list[str]] = {}
    for name, mark in pairs:
        groups.setdefault(name, []).append(mark)
    return ((name, tuple(marks)) for name, marks in groups.items())


def _marks(pieces: Iterable[BoardPiece]) -> tuple[str, ...]:
    return tuple(p.mark for p in pieces)
