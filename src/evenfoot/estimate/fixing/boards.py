"""Whether the screws of every board have room: two across the board, clear of its ends, of joist ends and of laps."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict, compare
from evenfoot.estimate.fixing.distances import Distances, Finding, Fit, How, Room, fit, to_check
from evenfoot.estimate.fixing.ends import end_rooms
from evenfoot.estimate.fixing.floor import Floor
from evenfoot.estimate.fixing.rests import Pattern, Rest
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.rules import ec5_fasteners, jp_fasteners

_BOARDS = "boards"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardFindings:
    """The checks of the board screws; ``how`` is what most places need (those near an end are always bored)."""

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
    joist_room, joist_finding = _joist_room(floor)
    joist_fit = fit(floor.setting, joist_room)
    checks = [to_check(fit(floor.setting, room), floor.setting, room, finding) for room, finding in end_rooms(floor)]
    checks.append(to_check(joist_fit, floor.setting, joist_room, joist_finding))
    hows = [joist_fit.how]
    if floor.layout.direction_deg % 90.0 == 0.0:
        pairs, how = _pair_checks(floor)
        checks += pairs
        hows.append(how)
    else:
        checks.append(
            Check(subject=_BOARDS, rule="board-screws-aslant", verdict=Verdict.NOT_CHECKED, reason="boards-at-an-angle")
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


def _pair_checks(floor: Floor) -> tuple[list[Check], How]:
    """Return one check for each degree of room that some crossing has, worst first, and the most frequent degree."""
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
    return checks, max(counts, key=lambda how: (counts[how], how), default=How.BARE)


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
    first = min((low for low, _ in rows), default=0.0)
    last = max((high for _, high in rows), default=0.0)
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
    """Check that the board does not split: 6 d thick in Japan, eq. (8.18) of Eurocode 5; pilot holes where it may."""
    board, d = floor.job.floor.board.thickness, floor.screw.shank
    if floor.setting.standard is kinds.Standard.NORTH_AMERICA:
        return
    is_japan = floor.setting.standard is kinds.Standard.JAPAN
    if is_japan:
        needed, source = jp_fasteners.thickness(d=d), "jp_temp_works"
    else:
        needed, source = ec5_fasteners.thickness_bare(d=d, rho_k=floor.setting.density), "ec5_sheets"
    is_thin = needed > board
    verdict = Verdict.OUTSIDE_RULE if is_thin and is_japan else Verdict.OK
    yield Check(
        subject=_BOARDS,
        rule="board-thickness",
        verdict=verdict,
        demand=needed,
        capacity=board,
        ratio=needed / board,
        unit="mm",
        source=source,
        reason="" if not is_thin else "unbored-board-splits" if is_japan else "room-with-pilot-holes",
        remedy="bore-pilot-holes" if is_thin and is_japan else "",
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
