"""The floor as it is being built: what was planned and what was measured, side by side."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import hypot

from evenfoot.job import LogLine
from evenfoot.plan import Plan
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.lists.listing import Field, Kind, Listing, Value

Planned = Callable[[Plan, str], float | None]


def measured_list(bench: Bench) -> Listing:
    """Return every length in the log beside what the plan has there; the last reading of each thing."""
    rows = [
        _row(bench, line, planned(bench.plan, line.mark))
        for what, planned in _PLANNED.items()
        for line in bench.plan.log.latest(what).values()
    ]
    return Listing(
        code="measured",
        fields=(
            Field(code="measured-what"),
            Field(code="mark", kind=Kind.MARK),
            Field(code="planned", kind=Kind.CUT),
            Field(code="measured", kind=Kind.KEY),
            Field(code="difference", kind=Kind.CUT),
            Field(code="read-at"),
            Field(code="read-by"),
        ),
        rows=tuple(rows),
    ).trimmed()


def moisture_list(bench: Bench) -> Listing:
    """Return every moisture reading beside the one that the plan reckons with on the day [%]."""
    planned = bench.plan.job.climate.fixing
    return Listing(
        code="moisture",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="planned-pct", kind=Kind.NUMBER),
            Field(code="measured-pct", kind=Kind.NUMBER),
            Field(code="read-at"),
            Field(code="read-by"),
        ),
        rows=tuple(
            (line.mark, planned, line.value, _when(line), line.who)
            for line in bench.plan.log.latest("moisture").values()
        ),
    ).trimmed()


def _row(bench: Bench, line: LogLine, planned: float | None) -> tuple[Value, ...]:
    off = None if planned is None else line.value - planned
    return bench.say(f"log-kind.{line.what}"), line.mark, planned, line.value, off, _when(line), line.who


def _when(line: LogLine) -> str:
    """Return the day and minute of a reading."""
    return line.time[:16].replace("T", " ")


def _between(plan: Plan, mark: str) -> float | None:
    """Return the planned distance between two corners of the frame's box, counted from the left one at the house."""
    (x0, x1), (y0, y1) = plan.layout.frame_x, plan.layout.frame_y
    corners: Mapping[str, tuple[float, float]] = {"1": (x0, y0), "2": (x1, y0), "3": (x1, y1), "4": (x0, y1)}
    first, _, second = mark.partition("-")
    if first not in corners or second not in corners:
        return None
    (ax, ay), (bx, by) = corners[first], corners[second]
    return hypot(bx - ax, (by - ay) * hypot(1.0, plan.frame.fall))


def _post_gap(plan: Plan, mark: str) -> float | None:
    """Return the gap by the ground's surface alone: a measured one is in the plan already, and moved its ground."""
    cut = next((c for c in plan.posts.cuts if c.mark == mark), None)
    return None if cut is None else cut.length + cut.ground - plan.ground.level(cut.x, cut.y).z


def _post_length(plan: Plan, mark: str) -> float | None:
    return next((c.length for c in plan.posts.cuts if c.mark == mark and c.is_cut), None)


def _row_of(plan: Plan, mark: str) -> tuple[float, float] | None:
    """Return width and far edge of the row that a mark such as ``b7``, ``b7.1`` or ``b7 left`` names."""
    number = mark.split(" ", maxsplit=1)[0].split(".", maxsplit=1)[0].removeprefix("b")
    return next(((r.width, r.far) for r in plan.layout.rows if str(r.number) == number), None)


def _width(plan: Plan, mark: str) -> float | None:
    row = _row_of(plan, mark)
    return None if row is None else row[0]


def _edge(plan: Plan, mark: str) -> float | None:
    row = _row_of(plan, mark)
    return None if row is None else row[1]


def _nothing(_plan: Plan, _mark: str) -> float | None:
    return 0.0


_PLANNED: Mapping[str, Planned] = {
    "post-gap": _post_gap,
    "post-length": _post_length,
    "foot-gap": _nothing,
    "distance": _between,
    "board-width": _width,
    "board-edge": _edge,
    "bow": _nothing,
}
"""What the plan has for each kind of reading that is a length, in the order of the work."""
