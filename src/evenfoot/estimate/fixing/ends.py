"""How much room the screws have at the ends of boards, where two meet on a joist and where they are free."""

from __future__ import annotations

import math

from evenfoot.checks import Fact
from evenfoot.estimate.fixing.distances import Distances, Finding, Room
from evenfoot.estimate.fixing.floor import Floor
from evenfoot.estimate.fixing.rests import Lines
from evenfoot.layout import BoardPiece

_BOARDS = "boards"


def end_rooms(floor: Floor) -> list[tuple[Room, Finding]]:
    """Return the room at the worst butted and the worst free board end, where there are any."""
    butts: dict[tuple[bool, bool], tuple[str, int]] = {}
    free: tuple[float, str] | None = None
    count = 0
    for piece in floor.layout.pieces:
        for end, other, joined in (
            (piece.start, piece.end, piece.start_on_joist),
            (piece.end, piece.start, piece.end_on_joist),
        ):
            if joined is not None:
                at = floor.lines.along(end)
                side = 1 if floor.lines.across(other) > floor.lines.across(end) else -1
                key = (floor.lines.has_block(joined, side, at), floor.lines.is_on_beam(at))
                mark, seen = butts.get(key, (piece.mark, 0))
                butts[key] = (mark, seen + 1)
                continue
            reach = _past_joist(floor.lines, piece, end, other)
            if reach is not None:
                count += 1
                free = min(free, (reach, piece.mark)) if free else (reach, piece.mark)
    rooms = [_butt_room(floor, has_block, mark, n) for (has_block, on_beam), (mark, n) in butts.items() if not on_beam]
    if free is not None:
        rooms.append(_free_room(floor, free[0], free[1], count))
    return rooms


def _butt_room(floor: Floor, has_block: bool, mark: str, count: int) -> tuple[Room, Finding]:
    joist, gap = floor.job.frame.joist.width, floor.job.floor.board.end_gap

    def room(d: Distances) -> tuple[float, float]:
        furthest = joist / 2 - d.edge
        if has_block and joist >= 2 * d.edge:
            furthest = joist / 2 + joist - d.edge
        return d.end, furthest - gap / 2

    facts: tuple[Fact, ...] = (("count", count), ("joist_mm", joist), ("gap_mm", gap))
    return room, Finding(subject=_BOARDS, rule="board-butt-end", remedy="sister-block", place=mark, facts=facts)


def _free_room(floor: Floor, reach: float, mark: str, count: int) -> tuple[Room, Finding]:
    joist = floor.job.frame.joist.width

    def room(d: Distances) -> tuple[float, float]:
        return d.end, reach + max(0.0, joist / 2 - d.edge)

    return room, Finding(
        subject=_BOARDS, rule="board-free-end", remedy="longer-overhang", place=mark, facts=(("count", count),)
    )


def _past_joist(lines: Lines, piece: BoardPiece, end: tuple[float, float], other: tuple[float, float]) -> float | None:
    """Return how far along the board its end reaches past the nearest joist line [mm]; None when it lies on none."""
    under, span = lines.under(piece), abs(lines.across(other) - lines.across(end))
    if not under or span <= 0:
        return None
    nearest = min(abs(lines.places[i] - lines.across(end)) for i in (under[0], under[-1]))
    return nearest * math.dist(end, other) / span
