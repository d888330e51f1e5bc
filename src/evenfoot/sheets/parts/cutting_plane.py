"""Where a section cuts the floor, and which timbers and boards it meets or sees."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from evenfoot.frame import Member, Role
from evenfoot.layout import Axis
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.parts.framing import faces, is_along_x

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Where the floor is cut: at ``at`` on the axis across it, seen towards lower (higher) values of that axis.

    ``axis`` is the direction that runs to the right on the sheet: y away from the house, x along it.
    """

    axis: Axis
    at: float
    line: float
    """The line of timbers or posts seen just behind the cut."""
    posts: tuple[PostCut, ...]
    label: str
    """Mark of the grid line behind the cut, empty when there is none."""


def plane_through(bench: Bench, axis: Axis) -> Plane | None:
    """Return a cut just beside the line with the most posts, an inner line before an outer one."""
    across = Axis.X if axis is Axis.Y else Axis.Y
    cuts = bench.plan.posts.cuts
    if not cuts:
        return None
    where = [round(c.x if across is Axis.X else c.y, 1) for c in cuts]
    counts = Counter(where)
    low, high = faces(bench, across)
    middle = (low + high) / 2
    line = max(counts, key=lambda p: (counts[p], -abs(p - middle)))
    widths = [m.width for m in bench.plan.frame.members if position_of(m) == line and is_along_x(m) is (axis is Axis.X)]
    beside = max(widths, default=0.0) / 2 + 1.0
    # The section away from the house is seen from the right, the one along it from the house.
    at = line + beside if axis is Axis.Y else line - beside
    grid = [g.label for g in bench.plan.frame.grid if g.axis is across and abs(g.position - line) < 0.6]
    posts = tuple(
        sorted(
            (c for c, w in zip(cuts, where, strict=True) if w == line),
            key=lambda c: c.y if axis is Axis.Y else c.x,
        )
    )
    return Plane(axis=axis, at=at, line=line, posts=posts, label=grid[0] if grid else "")


def position_of(member: Member) -> float:
    """Return where a timber's axis lies across its own direction."""
    return round(member.start[1] if is_along_x(member) else member.start[0], 1)


def seen_behind(members: tuple[Member, ...], plane: Plane) -> tuple[Member, ...]:
    """Return the timbers that run with the cut on the nearest line behind it, for beams and joists apart."""
    out: list[Member] = []
    for role in (Role.JOIST, Role.BEAM):
        found = [m for m in members if m.role is role and is_along_x(m) is (plane.axis is Axis.X)]
        behind = {p for p in map(position_of, found) if (p <= plane.at) is (plane.axis is Axis.Y)}
        if behind:
            nearest = min(behind, key=lambda p: abs(p - plane.at))
            out += [m for m in found if position_of(m) == nearest]
    return tuple(out)


def ends_of(member: Member, plane: Plane) -> tuple[Point, Point]:
    """Return both ends of a timber that runs with the cut, as (along the sheet, level of its top) [mm]."""
    axis = 1 if plane.axis is Axis.Y else 0
    a, b = (member.start[axis], member.start[2]), (member.end[axis], member.end[2])
    return (a, b) if a[0] <= b[0] else (b, a)


def surface_at(bench: Bench, y: float) -> float:
    """Return the level of the finished surface at y [mm]."""
    floor = bench.plan.job.floor
    return bench.plan.job.site.sill - floor.drop - floor.fall * y


def crossed(outline: tuple[Point, ...], plane: Plane) -> tuple[float, float] | None:
    """Return the stretch of a board's outline that the cut meets."""
    across, right = (0, 1) if plane.axis is Axis.Y else (1, 0)
    met: list[float] = []
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        low, high = sorted((a[across], b[across]))
        if low <= plane.at < high:
            share = (plane.at - a[across]) / (b[across] - a[across])
            met.append(a[right] + share * (b[right] - a[right]))
    return (min(met), max(met)) if len(met) > 1 else None
