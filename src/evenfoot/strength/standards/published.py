"""What the published deck tables of North America say of a floor, beside what was reckoned for it (note 106)."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.frame import Frame, Mark, Member, PostPlace, Role
from evenfoot.job import Job, kinds
from evenfoot.rules.nds_2018 import loads
from evenfoot.strength.model import PostLoad
from evenfoot.strength.standards import us_stock
from evenfoot.strength.standards.practice import Part, Piece
from evenfoot.tables import strength_us

_LEAST = 20.0
"""Shorter ends than this past a bearing are no overhangs [mm]."""
_SQUARE_DEG = 1.0
_DIAGONAL_DEG = 45.5
_KPA = 1e-3
_SAME = 50.0
"""Joists whose middles on a beam lie this near end there opposite each other [mm]."""
_CARRYING = frozenset({Role.BEAM, Role.JOIST})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reach:
    """The longest span of a timber and its longest end past a bearing, with the span behind that end [mm]."""

    member: Member
    span: float
    overhang: float
    behind: float


def compare(
    job: Job, frame: Frame, post_heights: Mapping[Mark, float], post_loads: Sequence[PostLoad]
) -> tuple[Check, ...]:
    """Return a check against each published table that the floor falls under; nothing outside North America.

    Beyond a table's limit a timber is ``outside_rule``; what a table does not list is told in one finding.
    """
    if job.standard is not kinds.Standard.NORTH_AMERICA:
        return ()
    snow = loads.snow_load(depth_m=job.loads.snow_depth / 1000.0) * _KPA
    if job.loads.use is not kinds.Use.DWELLING or snow > strength_us.factor("table.snow-most").value:
        return (_note("floor", "table-loads"),)
    bearings = _bearings(frame)
    reaches = [r for m in frame.members if m.role in _CARRYING for r in _reach(m, bearings.get(m.mark, []))]
    joists = [r for r in reaches if r.member.role is Role.JOIST]
    beams = [r for r in reaches if r.member.role is Role.BEAM]
    found = [*_decking(job, frame), *_joists(frame, joists)]
    if joists and beams:
        longest = max(r.span for r in joists)
        both = _borne_on_both_sides(frame, bearings)
        spans = (max(r.span for r in beams), longest)
        found += [*_beams(beams, longest, both), *_posts(frame.posts, post_heights, post_loads, spans)]
        found += _footing(job, *spans)
    return tuple(found)


def _bearings(frame: Frame) -> dict[Mark, list[float]]:
    """Return where each timber is borne, along it from its start [mm]."""
    found: dict[Mark, list[float]] = {}
    for joint in frame.joints:
        found.setdefault(joint.upper, []).append(joint.at_upper)
    return {mark: sorted(places) for mark, places in found.items()}


def _borne_on_both_sides(frame: Frame, bearings: Mapping[Mark, Sequence[float]]) -> frozenset[Mark]:
    """Return the beams that joists span to from both sides; the table knows one side, and an overhang past the beam."""
    both: set[Mark] = set()
    ended: set[tuple[Mark, int]] = set()
    for joint in frame.joints:
        places = bearings[joint.upper]
        if places[0] < joint.at_upper < places[-1]:
            both.add(joint.lower)
        place = (joint.lower, round(joint.at_lower / _SAME))
        if place in ended:
            both.add(joint.lower)
        ended.add(place)
    return frozenset(both)


def _reach(member: Member, places: Sequence[float]) -> Iterator[_Reach]:
    spans = [b - a for a, b in itertools.pairwise(places)]
    if not spans:
        return
    overhang, behind = max((places[0], spans[0]), (member.length - places[-1], spans[-1]))
    yield _Reach(member=member, span=max(spans), overhang=overhang if overhang > _LEAST else 0.0, behind=behind)


def _decking(job: Job, frame: Frame) -> list[Check]:
    board, apart = job.floor.board, _widest(frame)
    along = abs(board.direction_deg) if frame.joist_axis == "y" else 90.0 - abs(board.direction_deg)
    if apart is None or along > _DIAGONAL_DEG:
        return [_note("boards", "table-not-listed", size=f"{board.thickness / 25.4:.3g} in")]
    row = strength_us.decking_row(thickness=board.thickness, is_diagonal=along > _SQUARE_DEG)
    if row is None:
        return [_note("boards", "table-not-listed", size=f"{board.thickness / 25.4:.3g} in")]
    return [_against("table-decking", "boards", apart, row)]


def _joists(frame: Frame, reaches: Sequence[_Reach]) -> Iterator[Check]:
    apart = _widest(frame)
    for alike in _alike(reaches):
        first = alike[0].member
        stock, name = _stock(first, Part.JOIST)
        row = None
        if stock is not None and name is not None and stock.plies == 1 and apart is not None:
            row = strength_us.joist_rows(group=name.joist_group, size=stock.name, spacing=apart)
        if row is None:
            yield _note(str(first.mark), "table-not-listed", size=_section(first))
            continue
        longest = max(alike, key=lambda r: r.span)
        yield _against("table-joist-span", str(longest.member.mark), longest.span, row.span)
        out = max(alike, key=lambda r: r.overhang)
        if out.overhang > 0.0:
            quarter = out.behind / strength_us.factor("table.overhang-share").value
            is_quarter = quarter < row.overhang.limit
            cell = _cut_to(row.overhang, quarter) if is_quarter else row.overhang
            yield _against("table-joist-overhang", str(out.member.mark), out.overhang, cell)


def _beams(reaches: Sequence[_Reach], joist_span: float, both: frozenset[Mark]) -> Iterator[Check]:
    for alike in _alike(reaches):
        longest = max(alike, key=lambda r: r.span)
        stock, name = _stock(longest.member, Part.BEAM)
        row = None
        if stock is not None and name is not None and not any(r.member.mark in both for r in alike):
            row = strength_us.beam_row(group=name.beam_group, plies=stock.plies, size=stock.name, joist_span=joist_span)
        if row is None:
            yield _note(str(longest.member.mark), "table-not-listed", size=_section(longest.member))
        else:
            yield _against("table-beam-span", str(longest.member.mark), longest.span, row)


def _posts(
    posts: Sequence[PostPlace],
    heights: Mapping[Mark, float],
    post_loads: Sequence[PostLoad],
    spans: tuple[float, float],
) -> Iterator[Check]:
    """Compare the tallest post by the floor it carries: the force under people over 50 lb/ft2; 6x6 by the spans."""
    even = strength_us.factor("live.dwelling").value + strength_us.factor("dead.least").value
    force = {p.mark: p.force for p in post_loads if p.case == "live"}
    standing = [p for p in posts if heights[p.mark] > 0.0 and p.mark in force]
    if not standing:
        return
    tallest = max(standing, key=lambda p: heights[p.mark])
    piece = Piece(
        part=Part.POST,
        species=tallest.species,
        grade=tallest.strength_grade,
        width=tallest.width,
        depth=tallest.depth,
    )
    stock, name = _find(piece)
    area = max(force[p.mark] for p in standing) / even
    row = None
    if stock is not None and name is not None:
        if stock.name == "6x6":
            row = strength_us.big_post_row(species=name.species, beam_span=spans[0], joist_span=spans[1])
        else:
            row = strength_us.post_row(group=name.species, size=stock.name, area=area)
    if row is None:
        yield _note(str(tallest.mark), "table-not-listed", size=f"{tallest.width / 25.4:.3g} in")
    else:
        yield _against("table-post-height", str(tallest.mark), heights[tallest.mark], row)


def _footing(job: Job, beam_span: float, joist_span: float) -> Iterator[Check]:
    row = strength_us.footing_row(beam_span=beam_span, joist_span=joist_span)
    size = job.frame.footing.size
    if row is None:
        yield _note("footings", "table-not-listed", size=f"{size / 25.4:.3g} in")
        return
    is_within = size >= row.limit - 1.0
    yield Check(
        subject="footings",
        rule="table-footing",
        verdict=Verdict.OK if is_within else Verdict.OUTSIDE_RULE,
        demand=row.limit,
        capacity=size,
        ratio=row.limit / size,
        unit="mm",
        source=" ".join(row.sources),
        reason="" if is_within else "beyond-table",
        facts=(("row", row.row),),
        confirmed=row.is_confirmed,
    )


def _against(rule: str, subject: str, demand: float, row: strength_us.DeckRow) -> Check:
    is_within = demand <= row.limit + 1.0
    return Check(
        subject=subject,
        rule=rule,
        verdict=Verdict.OK if is_within else Verdict.OUTSIDE_RULE,
        demand=demand,
        capacity=row.limit,
        ratio=demand / row.limit,
        unit="mm",
        source=" ".join(row.sources),
        reason="" if is_within else "beyond-table",
        facts=(("row", row.row),),
        confirmed=row.is_confirmed,
    )


def _note(subject: str, rule: str, **facts: str) -> Check:
    known: tuple[Fact, ...] = tuple(facts.items())
    return Check(subject=subject, rule=rule, verdict=Verdict.OK, facts=known)


def _cut_to(row: strength_us.DeckRow, limit: float) -> strength_us.DeckRow:
    return strength_us.DeckRow(limit=limit, row=row.row, sources=row.sources, is_confirmed=row.is_confirmed)


def _alike(reaches: Sequence[_Reach]) -> list[list[_Reach]]:
    groups: dict[tuple[str, str, float, float], list[_Reach]] = {}
    for r in reaches:
        m = r.member
        groups.setdefault((m.species, m.strength_grade, m.width, m.depth), []).append(r)
    return list(groups.values())


def _stock(member: Member, part: Part) -> tuple[us_stock.Stock | None, strength_us.Name | None]:
    return _find(
        Piece(
            part=part,
            species=member.species,
            grade=member.strength_grade,
            width=member.width,
            depth=member.depth,
        )
    )


def _find(piece: Piece) -> tuple[us_stock.Stock | None, strength_us.Name | None]:
    try:
        return us_stock.find_stock(piece), strength_us.name_of(piece.species)
    except OutOfRangeError:
        return None, None


def _section(member: Member) -> str:
    return f"{member.width / 25.4:.3g} x {member.depth / 25.4:.3g} in"


def _widest(frame: Frame) -> float | None:
    places = sorted({m.start[0] if m.axis == "y" else m.start[1] for m in frame.members if m.role is Role.JOIST})
    return max((b - a for a, b in itertools.pairwise(places)), default=None)
