"""What there is to say about a layout across the boards: how the run closes, what moved, what is ripped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.job import FloorSpec, kinds
from evenfoot.layout.closing import EPS, ClosedRun, WholeRun
from evenfoot.layout.model import Row
from evenfoot.layout.pieces import LaidPieces
from evenfoot.layout.reckoning import width_drift
from evenfoot.layout.splits import Lengths, Span
from evenfoot.layout.stagger import SplitPlan
from evenfoot.tables import boards

FLOOR = "floor"
_ROWS_TO_DRIFT = 10
"""From so many rows on, boards off their width are worth measuring before the end."""
_ROWS_LEFT = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """All that the findings look at."""

    floor: FloorSpec
    run: ClosedRun
    wished: float
    """The extent across the boards before anything moved [mm]."""
    is_movable: bool
    is_to_corner: bool
    rows: tuple[Row, ...]
    spans: Sequence[Sequence[Span]]
    plan: SplitPlan
    lengths: Lengths
    trim: float
    laid: LaidPieces
    scraps: tuple[float, ...]


def find_run(seen: Seen) -> tuple[Check, ...]:
    """Return the findings about the run of boards and the outline that it fills."""
    return (*_closing(seen), *_moving(seen), *_narrow_edges(seen), *_drift(seen))


def _closing(seen: Seen) -> list[Check]:
    run, board = seen.run, seen.floor.board
    facts: tuple[Fact, ...] = (
        ("rows", run.count),
        ("gap_mm", run.gap),
        ("wish_mm", board.gap),
        ("gap_min_mm", board.gap_min),
        ("gap_max_mm", board.gap_max),
        ("extent_mm", run.extent),
        ("width_mm", board.width),
        ("first_mm", run.widths[0]),
        ("last_mm", run.widths[-1]),
    )
    if run.is_met:
        return [Check(subject=FLOOR, rule="boards-close", verdict=Verdict.OK, demand=run.gap, unit="mm", facts=facts)]
    limit = board.gap_max if run.gap > board.gap_max else board.gap_min
    by_gap = board.closing is kinds.Closing.EVEN_GAP
    missed = Check(
        subject=FLOOR,
        rule="gap-does-not-close" if by_gap else "rip-too-narrow",
        verdict=Verdict.FAILS,
        demand=run.gap if by_gap else board.rip_min,
        capacity=limit if by_gap else run.widths[-1],
        unit="mm",
        remedy="close-otherwise",
        facts=(*facts, ("strip_mm", run.strip), ("shared_mm", run.shared), ("rip_min_mm", board.rip_min)),
    )
    return [missed, *(_whole_run(whole) for whole in run.nearby)]


def _whole_run(whole: WholeRun) -> Check:
    """Return one extent that needs no ripping, as a finding that stands beside one that fails."""
    facts: tuple[Fact, ...] = (
        ("count", whole.count),
        ("shortest_mm", whole.shortest),
        ("longest_mm", whole.longest),
        ("gap_mm", 0.0 if whole.gap is None else whole.gap),
    )
    fits = whole.gap is not None and whole.gap >= 0.0
    return Check(
        subject=FLOOR,
        rule="whole-boards-close" if fits else "whole-boards-too-wide",
        verdict=Verdict.OK,
        demand=whole.gap,
        unit="mm",
        facts=facts,
    )


def _moving(seen: Seen) -> list[Check]:
    if seen.floor.board.closing is not kinds.Closing.MOVE_OUTLINE:
        return []
    facts: tuple[Fact, ...] = (("from_mm", seen.wished), ("to_mm", seen.run.extent))
    if not seen.is_movable:
        return [
            Check(subject=FLOOR, rule="outline-cannot-move", verdict=Verdict.FAILS, remedy="close-by-gap", facts=facts)
        ]
    moved = seen.run.extent - seen.wished
    if abs(moved) <= EPS:
        return []
    return [
        Check(
            subject=FLOOR,
            rule="outline-moved-out" if moved > 0.0 else "outline-moved-in",
            verdict=Verdict.OK,
            demand=abs(moved),
            unit="mm",
            facts=(*facts, ("moved_mm", abs(moved))),
        )
    ]


def _narrow_edges(seen: Seen) -> list[Check]:
    """Return a warning for each edge board under half a board, with what would avoid it."""
    half = seen.floor.board.width / 2.0
    edges = [seen.rows[0]] if seen.is_to_corner or len(seen.rows) == 1 else [seen.rows[0], seen.rows[-1]]
    even = [whole for whole in seen.run.nearby if whole.gap is not None and whole.gap >= 0.0]
    nearest = min(even, key=lambda whole: abs((whole.gap or 0.0) - seen.floor.board.gap), default=None)
    facts: tuple[Fact, ...] = (("half_mm", half), ("shared_mm", seen.run.shared))
    if nearest is not None and nearest.gap is not None:
        facts = (*facts, ("count", nearest.count), ("gap_mm", nearest.gap))
    return [
        Check(
            subject=FLOOR,
            rule="edge-board-narrow",
            verdict=Verdict.OUTSIDE_RULE,
            demand=half,
            capacity=row.width,
            unit="mm",
            remedy="change-run" if nearest is None else "whole-boards-or-share",
            facts=(("row", row.number), ("width_mm", row.width), *facts),
        )
        for row in edges
        if row.width < half - EPS
    ]


def _drift(seen: Seen) -> list[Check]:
    count = len(seen.rows)
    if count < _ROWS_TO_DRIFT:
        return []
    off = boards.board_figure("width_off")
    drift = width_drift(rows=count, tolerance=off.high)
    return [
        Check(
            subject=FLOOR,
            rule="board-drift",
            verdict=Verdict.OK,
            demand=drift,
            unit="mm",
            source=off.source,
            remedy="measure-again",
            facts=(("rows", count), ("off_mm", off.high), ("drift_mm", drift), ("at_row", count - _ROWS_LEFT)),
            confirmed=off.is_confirmed,
        )
    ]
