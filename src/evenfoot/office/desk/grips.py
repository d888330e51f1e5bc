"""What can be dragged on a plan of the floor, where it may stop, and which keys of the job a drag changes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import kinds
from evenfoot.office.desk.marks import all_marks, thing_of
from evenfoot.office.desk.tree import typed_at
from evenfoot.office.desk.typing import Typed
from evenfoot.plan import Plan
from evenfoot.units import UNITS, format_length, parse_length
from evenfoot.words import Speaker

LEAST = 300.0
"""A floor is not dragged narrower than this [mm]."""
FARTHEST = 3000.0
"""Nor an edge farther than this in one go [mm]."""
STEPS = {"metric": Fraction(10), "inch": Fraction(127, 10), "shaku": Fraction(10_000, 33 * 20)}
"""On what an edge comes to rest: 10 mm, half an inch, half a sun."""
RIN = Fraction(10, 33)
"""A bu is too coarse to say under which joist a post stands [mm]."""
SIDES = ("left", "right", "house", "outer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """One thing to take hold of [mm, axes of the floor].

    It lies at ``at_mm`` of its ``axis``, is drawn from one to the other end of ``across_mm`` and moves within
    ``range_mm``. ``stops_mm`` are places that catch it; ``is_bound`` lets it stand at those alone; otherwise it comes
    to rest on multiples of ``step_mm``. What is told while it moves is its distance from ``zero_mm``.
    """

    kind: str
    id: str
    name: str
    axis: str
    at_mm: float
    across_mm: tuple[float, float]
    range_mm: tuple[float, float]
    stops_mm: tuple[float, ...]
    step_mm: float
    is_bound: bool
    zero_mm: float
    unit: str
    """Unit in which its measure is told."""


def grips_of(plan: Plan, speaker: Speaker) -> tuple[Grip, ...]:
    """Return what can be dragged on the plans of this floor: its four edges and its lines of posts."""
    return (*_edges(plan, speaker), *_post_lines(plan, speaker))


def names_of(plan: Plan, speaker: Speaker) -> Mapping[str, str]:
    """Return what a person reads for every mark that stands on a drawing."""
    out: dict[str, str] = {}
    for mark in all_marks(plan):
        thing = thing_of(plan, mark)
        said = speaker.mark(mark)
        is_named = thing is not None and thing not in ("joint", "line")
        role = speaker.say(f"sheet-role.{thing}") if is_named else ""
        out[mark] = speaker.say("sheet.body-name", thing=role, mark=said) if role else said
    return out


def drag_changes(text: str, plan: Plan, *, kind: str, name: str, to_mm: float) -> Mapping[str, Typed]:
    """Return what a drag changes in the job text: places and what is to be typed there, in the unit of the job.

    ``kind`` and ``name`` are a grip's kind and id, ``to_mm`` where it was left.
    Raises: OutOfRangeError ``grip-unknown`` when there is no such grip.
    """
    if kind == "posts":
        return _dragged_posts(plan, name, to_mm)
    if kind != "edge" or name not in SIDES:
        raise OutOfRangeError(Fault(where=kind, code="grip-unknown", found=name, allowed=", ".join(SIDES)))
    x0, x1, y0, y1 = _box(plan)
    if typed_at(text, "floor.outline") is not None:
        return _corners(text, plan, name, to_mm)
    changes = {
        "right": {"floor.width": to_mm - x0},
        "left": {"floor.left": to_mm, "floor.width": x1 - to_mm},
        "outer": {"floor.depth": to_mm - y0},
        "house": {"floor.wall_gap": to_mm, "floor.depth": y1 - to_mm},
    }[name]
    return {key: _typed(plan, value) for key, value in changes.items()}


def _dragged_posts(plan: Plan, name: str, to_mm: float) -> Mapping[str, Typed]:
    """Return all lines of posts as typed, with one of them where it was left."""
    lines = _lines(plan)
    names = [str(number) for number in range(1, len(lines) + 1)]
    if name not in names:
        raise OutOfRangeError(Fault(where="posts", code="grip-unknown", found=name, allowed=", ".join(names)))
    moved = [to_mm if number == int(name) else line for number, line in enumerate(lines, start=1)]
    return {"frame.post_lines": ", ".join(_typed(plan, line) for line in sorted(moved))}


def _lines(plan: Plan) -> tuple[float, ...]:
    """Return where lines of posts lie along the beams [mm], rising: as typed, or as they were spaced evenly.

    Posts that an obstacle drove off their line on one beam make no line of their own while another has one.
    """
    if plan.job.frame.post_lines:
        return tuple(sorted(plan.job.frame.post_lines))
    counts: dict[float, int] = {}
    for post in plan.frame.posts:
        place = round(post.x if _beams_along_x(plan) else post.y, 3)
        counts[place] = counts.get(place, 0) + 1
    most = max(counts.values(), default=0)
    return tuple(sorted(place for place, count in counts.items() if 2 * count >= most))


def _beams_along_x(plan: Plan) -> bool:
    return plan.frame.joist_axis.value == "y"


def _post_lines(plan: Plan, speaker: Speaker) -> Iterator[Grip]:
    """Yield the lines of posts; where joists and beams lap they stop at joists alone."""
    laps = any(joint.kind.value.startswith("lap") for joint in plan.frame.joints)
    if laps and plan.job.frame.joints.joist is kinds.Joint.LAP_UNDER:
        return
    axis = "x" if _beams_along_x(plan) else "y"
    ends = plan.layout.frame_x if axis == "x" else plan.layout.frame_y
    x0, x1, y0, y1 = _box(plan)
    across = (y0, y1) if axis == "x" else (x0, x1)
    inset = plan.job.frame.setback + (plan.job.frame.post.width if axis == "x" else plan.job.frame.post.depth) / 2
    low, high = ends[0] + inset, ends[1] - inset
    lines = _lines(plan)
    for number, line in enumerate(lines, start=1):
        free = (j for j in plan.layout.joist_lines if all(abs(j - other) > 1.0 for other in lines if other != line))
        yield Grip(
            kind="posts",
            id=str(number),
            name=speaker.say("desk-grip.posts", number=number),
            axis=axis,
            at_mm=line,
            across_mm=across,
            range_mm=(low, high),
            stops_mm=tuple(stop for stop in free if low - 1e-6 <= stop <= high + 1e-6),
            step_mm=float(STEPS[UNITS[plan.job.unit.value].family]),
            is_bound=laps,
            zero_mm=ends[0],
            unit=speaker.unit,
        )


def _corners(text: str, plan: Plan, name: str, to_mm: float) -> Mapping[str, Typed]:
    """Return both corners of an edge of a floor that is typed by its corners."""
    axis = 0 if name in ("left", "right") else 1
    old = dict(zip(("left", "right", "house", "outer"), _box(plan), strict=True))[name]
    rows: dict[str, Typed] = {}
    for index, corner in enumerate(_typed_corners(text, plan)):
        if abs(corner[axis] - old) < 1.0:
            moved = (to_mm, corner[1]) if axis == 0 else (corner[0], to_mm)
            rows[f"floor.outline[{index}]"] = tuple(_typed(plan, value) for value in moved)
    return rows


def _typed_corners(text: str, plan: Plan) -> Iterator[tuple[float, float]]:
    """Yield the corners [mm] in the order in which they are typed, which may be either way round."""
    for corner in typed_at(text, "floor.outline"):
        x, y = (corner["x"], corner["y"]) if isinstance(corner, dict) else corner
        yield (float(parse_length(str(x), unit=plan.job.unit)), float(parse_length(str(y), unit=plan.job.unit)))


def _typed(plan: Plan, mm: float) -> str:
    """Return a length as a carpenter types it: in the unit of the job, inches as feet and inches."""
    unit = kinds.Unit.FOOT if plan.job.unit is kinds.Unit.INCH else plan.job.unit
    step = RIN if UNITS[unit.value].family == "shaku" else None
    return format_length(mm, unit=unit, step=step, is_bare=True)


def _box(plan: Plan) -> tuple[float, float, float, float]:
    xs, ys = zip(*plan.job.floor.outline, strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _edges(plan: Plan, speaker: Speaker) -> Iterator[Grip]:
    x0, x1, y0, y1 = _box(plan)
    step = float(STEPS[UNITS[plan.job.unit.value].family])
    ranges = {
        "left": (x0 - FARTHEST, x1 - LEAST),
        "right": (x0 + LEAST, x1 + FARTHEST),
        "house": (0.0, min(1000.0, y1 - LEAST)),
        "outer": (y0 + LEAST, y1 + FARTHEST),
    }
    for side, at, zero in (("left", x0, x1), ("right", x1, x0), ("house", y0, 0.0), ("outer", y1, y0)):
        axis = "x" if side in ("left", "right") else "y"
        low, high = ranges[side]
        stops = sorted({*_posts(plan, axis), *_whole_boards(plan, side)} - {at})
        yield Grip(
            kind="edge",
            id=side,
            name=speaker.say(f"desk-grip.{side}"),
            axis=axis,
            at_mm=at,
            across_mm=(y0, y1) if axis == "x" else (x0, x1),
            range_mm=(low, high),
            stops_mm=tuple(stop for stop in stops if low <= stop <= high),
            step_mm=step,
            is_bound=False,
            zero_mm=zero,
            unit=speaker.unit,
        )


def _posts(plan: Plan, axis: str) -> tuple[float, ...]:
    """Return the lines of the posts, and the faces of what stands in the way."""
    obstacles = plan.job.site.obstacles
    if axis == "x":
        return (*(p.x for p in plan.frame.posts), *(e for o in obstacles for e in (o.x, o.x + o.width)))
    return (*(p.y for p in plan.frame.posts), *(e for o in obstacles for e in (o.y, o.y + o.depth)))


def _whole_boards(plan: Plan, side: str) -> tuple[float, ...]:
    """Return where an edge that the boards run along would lie for whole boards at the gap wanted."""
    board, (x0, x1, y0, y1) = plan.job.floor.board, _box(plan)
    turned = abs(plan.layout.direction_deg)
    far = {"outer": (0.0, y0), "right": (90.0, x0)}.get(side)
    if far is None or turned != far[0]:
        return ()
    most = round(((y1 if side == "outer" else x1) - far[1] + FARTHEST) / (board.width + board.gap))
    return tuple(far[1] + n * board.width + (n - 1) * board.gap for n in range(1, most + 1))
