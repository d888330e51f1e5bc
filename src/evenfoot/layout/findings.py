"""What there is to say about a layout along the boards: overhangs, stock, joints, what each piece rests on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.layout.closing import EPS
from evenfoot.layout.model import BoardPiece
from evenfoot.layout.reckoning import fit_stock
from evenfoot.layout.run_findings import FLOOR, Seen, find_run
from evenfoot.layout.splits import shortest_stock
from evenfoot.tables import boards

_NAMED = 6
"""So many marks are named; the rest are counted."""
_NEAR_MISS = 0.05
"""A stock length missed by no more than this share of the board is worth a shorter frame [-]."""


def find(seen: Seen) -> tuple[Check, ...]:
    """Return every finding about the layout, in the order in which a carpenter meets them."""
    return (
        *find_run(seen),
        *_end_overhangs(seen),
        *_edge_overhangs(seen),
        *_stock(seen),
        *_joints(seen),
        *_supports(seen),
        *_scraps(seen),
    )


def _reaches(seen: Seen) -> dict[str, float]:
    over = seen.floor.overhang
    return {"left": over.left, "right": over.right, "wall": over.wall, "outer": over.outer}


def _edge_sides(seen: Seen) -> tuple[str, ...]:
    """Return the sides that lie along the boards, starting edge first; none for boards at an angle."""
    return {0.0: ("outer", "wall"), 90.0: ("left", "right")}.get(seen.floor.board.direction_deg, ())


def _end_overhangs(seen: Seen) -> list[Check]:
    """Return whether board ends reach past the frame as far as is usual; at the wall a short reach is no matter."""
    usual = boards.board_figure("end_past_joist")
    edges = _edge_sides(seen)
    return [_end_overhang(side, reach, usual) for side, reach in _reaches(seen).items() if side not in edges]


def _edge_overhangs(seen: Seen) -> list[Check]:
    """Return a failure for each edge board of which more than half lies beyond the ends of the joists."""
    reaches = _reaches(seen)
    return [
        Check(
            subject=FLOOR,
            rule="edge-board-off-frame",
            verdict=Verdict.FAILS,
            demand=reaches[side],
            capacity=row.width / 2.0,
            unit="mm",
            facts=(("side_code", f"side.{side}"), ("row", row.number), ("width_mm", row.width)),
            remedy="less-overhang",
        )
        for side, row in zip(_edge_sides(seen), (seen.rows[0], seen.rows[-1]), strict=False)
        if reaches[side] > row.width / 2.0 + EPS
    ]


def _end_overhang(side: str, reach: float, usual: boards.BoardFigure) -> Check:
    low = 0.0 if side == "wall" else usual.low
    is_usual = low - EPS <= reach <= usual.high + EPS
    return Check(
        subject=FLOOR,
        rule="board-end-overhang" if is_usual else "board-end-overhang-unusual",
        verdict=Verdict.OK if is_usual else Verdict.OUTSIDE_RULE,
        demand=reach,
        capacity=low if reach < low else usual.high,
        unit="mm",
        source=usual.source,
        facts=(("side_code", f"side.{side}"), ("low_mm", low), ("high_mm", usual.high)),
        confirmed=usual.is_confirmed,
    )


def _stock(seen: Seen) -> list[Check]:
    """Return whether the yard has the boards, and whether a slightly shorter floor would do with shorter stock."""
    board = seen.floor.board
    spans = [span for row in seen.spans for span in row]
    longest = max((span.length for span in spans), default=0.0)
    need = max((shortest_stock(span) for span in spans), default=0.0)
    size: tuple[Fact, ...] = (
        ("width_mm", board.width),
        ("thickness_mm", board.thickness),
        ("species_code", f"species.{board.species}"),
    )
    if not seen.lengths:
        return [
            Check(
                subject=FLOOR,
                rule="boards-not-stocked",
                verdict=Verdict.FAILS,
                demand=longest,
                unit="mm",
                remedy="stock-boards",
                facts=(*size, ("need_mm", need)),
            )
        ]
    if seen.plan.unsplit:
        return [
            Check(
                subject=FLOOR,
                rule="boards-beyond-stock",
                verdict=Verdict.FAILS,
                demand=longest,
                capacity=seen.lengths[-1],
                unit="mm",
                remedy="longer-boards",
                facts=(*size, ("need_mm", need), ("rows", len(seen.plan.unsplit))),
            )
        ]
    return _stock_step(seen, longest)


def _stock_step(seen: Seen, longest: float) -> list[Check]:
    if longest > seen.lengths[-1] + EPS:
        return []
    fit = fit_stock(longest, stock=[size + 2.0 * seen.trim for size in seen.lengths], end_trim=seen.trim)
    if fit.shorter is None or fit.excess is None or fit.excess > _NEAR_MISS * longest:
        return []
    return [
        Check(
            subject=FLOOR,
            rule="stock-just-missed",
            verdict=Verdict.OK,
            demand=longest,
            capacity=fit.shorter - 2.0 * seen.trim,
            unit="mm",
            remedy="shorten-for-stock",
            facts=(
                ("length_mm", longest),
                ("stock_mm", fit.stock),
                ("offcut_mm", fit.offcut),
                ("shorter_mm", fit.shorter),
                ("excess_mm", fit.excess),
            ),
        )
    ]


def _joints(seen: Seen) -> list[Check]:
    in_line = [seen.rows[number].number for number, _ in seen.plan.in_line]
    jointed = [p for p in seen.laid.pieces if p.start_on_joist is not None or p.end_on_joist is not None]
    if not jointed:
        return []
    if in_line:
        return [
            Check(
                subject=FLOOR,
                rule="joints-in-line",
                verdict=Verdict.FAILS,
                remedy="joists-for-joints",
                facts=(("rows", len(in_line)), ("row", in_line[0])),
            )
        ]
    return [
        Check(
            subject=FLOOR,
            rule="joints-staggered",
            verdict=Verdict.OK,
            facts=(
                ("joints", sum(p.start_on_joist is not None for p in jointed)),
                ("gap_mm", seen.floor.board.end_gap),
            ),
        )
    ]


def _supports(seen: Seen) -> list[Check]:
    """Return the pieces that lie on fewer than two joists, and the jointed ones over fewer than two bays."""
    pairs = list(zip(seen.laid.pieces, seen.laid.crossed, strict=True))
    loose = [piece for piece, joists in pairs if joists < 2]
    short = [
        piece
        for piece, joists in pairs
        if joists == 2 and (piece.start_on_joist is not None or piece.end_on_joist is not None)
    ]
    out = []
    if loose:
        out.append(_named("pieces-on-one-joist", loose, remedy="block-under-piece"))
    if short:
        out.append(_named("short-pieces", short, remedy="longer-stock-for-pieces"))
    return out


def _named(rule: str, pieces: Sequence[BoardPiece], *, remedy: str) -> Check:
    return Check(
        subject=pieces[0].mark,
        rule=rule,
        verdict=Verdict.OUTSIDE_RULE,
        demand=min(piece.length for piece in pieces),
        unit="mm",
        remedy=remedy,
        facts=(("count", len(pieces)), ("marks", _marks(piece.mark for piece in pieces))),
    )


def _marks(marks: Iterable[str]) -> str:
    names = list(marks)
    return ", ".join(names[:_NAMED]) + (" …" if len(names) > _NAMED else "")


def _scraps(seen: Seen) -> list[Check]:
    if not seen.scraps:
        return []
    return [
        Check(
            subject=FLOOR,
            rule="scraps-left-out",
            verdict=Verdict.OK,
            demand=sum(seen.scraps),
            unit="mm2",
            facts=(("count", len(seen.scraps)), ("area", sum(seen.scraps))),
        )
    ]
