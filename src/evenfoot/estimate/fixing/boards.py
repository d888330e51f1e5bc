"""Whether the screws of every board have room: two across the board, clear of its ends, of joist ends and of laps."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict, compare
from evenfoot.estimate.fixing.distances import Distances, Finding, Fit, How, Room, Setting, fit, to_check
from evenfoot.estimate.fixing.rests import Lines, Pattern, Rest
from evenfoot.frame import Frame, JointKind
from evenfoot.job import Job, kinds
from evenfoot.layout import BoardPiece, Layout
from evenfoot.rules import ec5_fasteners, jp_fasteners
from evenfoot.tables.fasteners import Fastener

_BOARDS = "boards"


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The boards on their joists, and what fixes them."""

    job: Job
    layout: Layout
    frame: Frame
    lines: Lines
    screw: Fastener
    setting: Setting


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardFindings:
    """The checks of the board screws; ``how`` is what the worst place needs."""

    checks: tuple[Check, ...]
    how: How


@dataclass(frozen=True, slots=True)
class _Strip:
    """A board on the joist line: its edges along the joists, and whether another board lies beside each edge."""

    low: float
    high: float
    has_before: bool
    has_after: bool


def check_boards(floor: Floor) -> BoardFindings:
    """Return the checks of the screws that hold the boards."""
    rooms = [*_end_rooms(floor), _joist_room(floor)]
    fits = [(fit(floor.setting, room), room, finding) for room, finding in rooms]
    checks = [to_check(found, floor.setting, room, finding) for found, room, finding in fits]
    hows = [found.how for found, _, _ in fits]
    if floor.layout.direction_deg % 90.0 == 0.0:
        pairs, how = _pair_checks(floor)
        checks += pairs
        hows.append(how)
    else:
        checks.append(
            Check(
                subject=_BOARDS,
                rule="board-screws",
                verdict=Verdict.NOT_CHECKED,
                unit="mm",
                reason="boards-at-an-angle",
            )
        )
    thickness = tuple(_thickness(floor))
    if any(check.reason for check in thickness):
        hows.append(How.BORED)
    return BoardFindings(checks=(*checks, *thickness, *_tongues(floor)), how=max(hows))


def set_in(floor: Floor, distances: Distances) -> float:
    """Return how far from the edge of a whole board its screws go [mm].

    A quarter of the board less a quarter of the gap spaces all screws evenly along the joist; the edge distance wins.
    """
    width = floor.job.floor.board.width
    even = (width - floor.layout.gap) / 4
    return min(max(even, distances.edge), width / 2)


def _joist_room(floor: Floor) -> tuple[Room, Finding]:
    width = floor.job.frame.joist.width

    def room(d: Distances) -> tuple[float, float]:
        return 2 * d.edge, width

    return room, Finding(subject="joists", rule="joist-holds-screw", remedy="wider-joist")


def _end_rooms(floor: Floor) -> list[tuple[Room, Finding]]:
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


def _pair_checks(floor: Floor) -> tuple[list[Check], How]:
    """Return one check for each degree of room that some crossing has, worst crossing first, and the worst degree."""
    worst: dict[How, tuple[Fit, _Strip, Pattern]] = {}
    counts: dict[How, int] = {}
    for (strip, pattern), count in _crossings(floor).items():
        if not pattern:
            continue
        found = fit(floor.setting, _pair_room(floor, strip, pattern))
        counts[found.how] = counts.get(found.how, 0) + count
        if found.how not in worst or found.grade > worst[found.how][0].grade:
            worst[found.how] = (found, strip, pattern)
    checks = []
    for how in sorted(worst, reverse=True):
        found, strip, pattern = worst[how]
        facts: tuple[Fact, ...] = (
            ("count", counts[how]),
            ("width_mm", strip.high - strip.low),
            ("from_mm", strip.low),
            ("to_mm", strip.high),
        )
        finding = Finding(subject=_BOARDS, rule="board-screws", remedy=_pair_remedy(floor, strip, pattern), facts=facts)
        checks.append(to_check(found, floor.setting, _pair_room(floor, strip, pattern), finding))
    return checks, max(worst, default=How.BARE)


def _crossings(floor: Floor) -> dict[tuple[_Strip, Pattern], int]:
    """Return how often each strip of board crosses each pattern of wood."""
    lines = floor.lines
    rows: dict[tuple[float, float], dict[Pattern, int]] = {}
    for piece in floor.layout.pieces:
        places = [lines.along(p) for p in piece.outline]
        on = rows.setdefault((round(min(places), 3), round(max(places), 3)), {})
        for line in lines.under(piece):
            pattern = lines.patterns[line]
            on[pattern] = on.get(pattern, 0) + 1
    edges = sorted(rows)
    first, last = edges[0][0], max(high for _, high in edges)
    return {
        (_Strip(low, high, has_before=low > first, has_after=high < last), pattern): count
        for (low, high), on in rows.items()
        for pattern, count in on.items()
    }


def _pair_room(floor: Floor, strip: _Strip, pattern: Pattern) -> Room:
    gap = floor.layout.gap

    def room(d: Distances) -> tuple[float, float]:
        beside = max(d.edge, (d.along - gap) / 2)
        low = strip.low + (beside if strip.has_before else d.edge)
        high = strip.high - (beside if strip.has_after else d.edge)
        open_parts = [_open(rest, d, low, high) for rest in pattern]
        usable = [(rest, part) for rest, part in zip(pattern, open_parts, strict=True) if part[0] <= part[1]]
        if not usable:
            return d.along, 0.0
        choices = [
            (d.along if a is b and a.is_along else d.across, after[1] - before[0])
            for i, (a, before) in enumerate(usable)
            for b, after in usable[i:]
        ]
        return min(choices, key=lambda choice: choice[0] - choice[1])

    return room


def _open(rest: Rest, d: Distances, low: float, high: float) -> tuple[float, float]:
    """Return where a screw may go in this wood: clear of the ends of a joist, or of the edges of a beam."""
    inset = d.end if rest.is_along else d.edge
    return max(low, rest.low + inset), min(high, rest.high - inset)


def _pair_remedy(floor: Floor, strip: _Strip, pattern: Pattern) -> str:
    touches_end = any(strip.low <= end <= strip.high for rest in pattern for end in (rest.low, rest.high))
    if not touches_end:
        return "one-screw-or-stagger"
    has_laps = any(j.kind in (JointKind.LAP_OVER, JointKind.LAP_UNDER) for j in floor.frame.joints)
    return "screw-beside-lap" if has_laps else "block-under-edge-board"


def _thickness(floor: Floor) -> Iterable[Check]:
    """Check that the board is thick enough for the screw: 6 d in Japan, eq. (8.18) of Eurocode 5 where not bored."""
    board, d = floor.job.floor.board.thickness, floor.screw.shank
    if floor.setting.standard is kinds.Standard.JAPAN:
        yield compare(
            subject=_BOARDS,
            rule="board-thickness",
            demand=jp_fasteners.thickness(d=d),
            capacity=board,
            unit="mm",
            source="jp_temp_works",
            remedy="thinner-screw",
            confirmed=floor.screw.is_confirmed,
        )
    elif floor.setting.standard is kinds.Standard.EUROPE:
        needed = ec5_fasteners.thickness_bare(d=d, rho_k=floor.setting.density)
        yield Check(
            subject=_BOARDS,
            rule="board-thickness",
            verdict=Verdict.OK,
            demand=needed,
            capacity=board,
            ratio=needed / board,
            unit="mm",
            source="ec5_sheets",
            reason="room-with-pilot-holes" if needed > board else "",
            confirmed=floor.screw.is_confirmed and floor.setting.is_density_confirmed,
        )


def _tongues(floor: Floor) -> Iterable[Check]:
    """Check that the points of the board screws stay inside the upper tongue of every lap."""
    depth = {m.mark: m.depth for m in floor.frame.members}
    tongues = [
        (depth[j.upper] - j.cut_upper, j.mark)
        for j in floor.frame.joints
        if j.kind in (JointKind.LAP_OVER, JointKind.LAP_UNDER) and depth[j.upper] > j.cut_upper
    ]
    if tongues:
        thinnest, mark = min(tongues)
        yield compare(
            subject=_BOARDS,
            rule="screw-in-tongue",
            demand=floor.screw.length - floor.job.floor.board.thickness,
            capacity=thinnest,
            unit="mm",
            source="fixing_own",
            place=mark,
            remedy="screw-beside-lap",
            confirmed=False,
        )
