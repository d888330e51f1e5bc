"""How the boards of a job lie: the one function of this room."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.errors import Fault, NoSolutionError
from evenfoot.geom import Heading, Point, box_of, has_edge_at, heading, is_simple, signed_area, slide_edges
from evenfoot.job import FloorSpec, Job, Yard, kinds
from evenfoot.layout.closing import EPS, ClosedRun, RunWish, close_run, run_to_corner
from evenfoot.layout.findings import find
from evenfoot.layout.model import Layout
from evenfoot.layout.pieces import Blank, BlankRows, cut_blanks, cut_rows, lay_pieces, number_rows
from evenfoot.layout.run_findings import Seen
from evenfoot.layout.setting_out import Crossings, crossings, frame_faces
from evenfoot.layout.splits import Span
from evenfoot.layout.stagger import plan_splits

PIECES_MAX = 20_000
"""More pieces than this are no floor but a slip of the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Closing:
    """How the floor closes across its boards: the run, and the outline that it fills."""

    run: ClosedRun
    plan: tuple[Point, ...]
    """The outline in plan."""
    local: tuple[Point, ...]
    """The same in (u, v)."""
    is_movable: bool
    """False when the outline was to move and cannot."""
    is_to_corner: bool
    """True when the run ends at a corner of the outline, so that its last board is no rip."""


def lay_boards(job: Job, yard: Yard) -> Layout:
    """Return every board of the job's floor, cut and placed, and the joist lines that they ask for.

    The run closes on the slope: lengths, widths and gaps are true ones along the falling floor; outlines, frame faces
    and joist lines are in plan. Rows are numbered from the most seen edge: the outer one, or the left one for boards
    that run away from the house.

    Raises: NoSolutionError when the outline crosses itself or runs clockwise, when no frame is left between the
    overhangs, or when the floor would take more than 20,000 pieces.
    """
    floor = job.floor
    _refuse_bad_outline(floor)
    turn = heading(floor.board.direction_deg, slope=floor.fall)
    closing = _close(floor, turn)
    faces = frame_faces(closing.plan, floor=floor, joist=job.frame.joist)
    cross = crossings(faces, turn)
    rows = number_rows(closing.run)
    blanks = cut_rows(closing.local, rows)
    spans = _spans(blanks, cross, floor.board.end_gap)
    lengths = clean_lengths(yard, floor)
    plan = plan_splits(spans, lengths=lengths)
    _refuse_flood(sum(1 + len(joints) for row in plan.joints for joints in row), floor)
    cuts = cut_blanks(blanks.rows, plan.joints, cross=cross, end_gap=floor.board.end_gap)
    laid = lay_pieces(cuts, rows, board_width=floor.board.width, cross=cross, heading=turn)
    seen = Seen(
        floor=floor,
        run=closing.run,
        wished=box_of(turn.local(floor.outline)).height,
        is_movable=closing.is_movable,
        is_to_corner=closing.is_to_corner,
        rows=rows,
        spans=spans,
        plan=plan,
        lengths=lengths,
        trim=yard.end_trim,
        laid=laid,
        scraps=blanks.scraps,
    )
    return Layout(
        outline=closing.plan,
        direction_deg=floor.board.direction_deg,
        gap=closing.run.gap,
        rows=rows,
        pieces=laid.pieces,
        joist_axis=faces.joist_axis,
        joist_lines=faces.joists.lines,
        joist_spacing=faces.joists.spacing,
        frame_x=faces.x,
        frame_y=faces.y,
        screws=sum(laid.crossed),
        checks=find(seen),
    )


def _close(floor: FloorSpec, turn: Heading) -> _Closing:
    """Return the closed run and the outline that it fills, moved when that is the rule.

    The edge that moves is the last one, save when that is the house edge (boards along the wall) or a corner: then the
    starting edge moves.
    """
    local = turn.local(floor.outline)
    box, wish = box_of(local), _wish_of(floor)
    _refuse_flood(box.height / (wish.width + wish.gap), floor)
    run = close_run(extent=box.height, wish=wish)
    is_last_edge = has_edge_at(local, y=box.y0, within=EPS)
    if wish.closing is not kinds.Closing.MOVE_OUTLINE:
        is_to_corner = not (is_last_edge or (wish.closing is kinds.Closing.EVEN_GAP and run.is_met))
        if is_to_corner:
            run = run_to_corner(extent=box.height, wish=wish)
        return _Closing(run=run, plan=floor.outline, local=local, is_movable=True, is_to_corner=is_to_corner)
    if is_last_edge and floor.board.direction_deg != 0.0:
        moved = slide_edges(local, y=box.y0, to=box.y1 - run.extent, within=EPS)
    else:
        moved = slide_edges(local, y=box.y1, to=box.y0 + run.extent, within=EPS)
    if moved is None:
        run = run_to_corner(extent=box.height, wish=wish)
        return _Closing(run=run, plan=floor.outline, local=local, is_movable=False, is_to_corner=not is_last_edge)
    back = turn.plan(moved)
    plan = tuple(p if a == b else q for p, a, b, q in zip(floor.outline, local, moved, back, strict=True))
    return _Closing(run=run, plan=plan, local=moved, is_movable=True, is_to_corner=False)


def clean_lengths(yard: Yard, floor: FloorSpec) -> tuple[float, ...]:
    """Return the clean lengths that the yard's boards of this section give, both ends trimmed, rising [mm]."""
    board = floor.board
    sizes = {(board.width, board.thickness), (board.thickness, board.width)}
    found = {
        length - 2.0 * yard.end_trim
        for item in yard.stock
        if item.species == board.species and (item.width, item.depth) in sizes
        for length in item.lengths
    }
    return tuple(sorted(length for length in found if length > 0.0))


def _wish_of(floor: FloorSpec) -> RunWish:
    """Return what the job asks of the run."""
    board = floor.board
    return RunWish(
        width=board.width,
        gap=board.gap,
        gap_min=board.gap_min,
        gap_max=board.gap_max,
        closing=board.closing,
        rip_min=board.rip_min,
    )


def _spans(blanks: BlankRows, cross: Crossings, end_gap: float) -> list[list[Span]]:
    made: dict[tuple[float, float, float, float], Span] = {}
    return [[_span(blank, cross, end_gap, made) for blank in row] for row in blanks.rows]


def _span(blank: Blank, cross: Crossings, end_gap: float, made: dict[tuple[float, float, float, float], Span]) -> Span:
    """Return what splitting needs to know of a blank: its length and the joists that its middle line crosses."""
    middle, height = (blank.v0 + blank.v1) / 2.0, blank.v1 - blank.v0
    lean = abs(cross.slant)
    key = (blank.u0, blank.u1, height, middle) if lean else (blank.u0, blank.u1, 0.0, 0.0)
    if key not in made:
        inset = end_gap / (2.0 * cross.skew) - lean * height / 2.0
        margin = end_gap / (2.0 * cross.skew) + lean * height / 2.0
        off = cross.slant * middle
        under = [i for i, base in enumerate(cross.bases) if blank.u0 + margin < base + off < blank.u1 - margin]
        lines = tuple(cross.bases[i] + off for i in under)
        made[key] = Span(u0=blank.u0, u1=blank.u1, first=under[0] if under else 0, lines=lines, inset=inset)
    return made[key]


def _refuse_bad_outline(floor: FloorSpec) -> None:
    if signed_area(floor.outline) <= 0.0 or not is_simple(floor.outline):
        raise NoSolutionError(
            Fault(where=f"{floor.where}.outline", code="outline-not-simple", found=f"{len(floor.outline)} corners")
        )


def _refuse_flood(pieces: float, floor: FloorSpec) -> None:
    if pieces > PIECES_MAX:
        raise NoSolutionError(
            Fault(
                where=f"{floor.where}.outline", code="too-many-boards", found=f"{pieces:.0f}", allowed=str(PIECES_MAX)
            )
        )
