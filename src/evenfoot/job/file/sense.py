"""Whether the keys of one table agree with each other."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from evenfoot.errors import Fault
from evenfoot.job.file.outline import Corner, outline_faults
from evenfoot.job.kinds import Coating, Joint, Style

if TYPE_CHECKING:
    from evenfoot.job.file.common import StretchRow
    from evenfoot.job.file.floor_tables import BoardTable, FloorTable, FrameTable
    from evenfoot.job.file.site_tables import SiteTable
    from evenfoot.job.file.tables import ClimateTable, FinishTable, JobFile, LoadsTable, StockTable

SIZES = ("floor.width", "floor.depth", "floor.left", "floor.wall_gap", "floor.outline", "standard")
BOARDS = (*SIZES, "floor.board.width", "floor.board.gap", "floor.board.direction_deg")
SPACINGS = (*SIZES, *(f"frame.{timber}.spacing_max" for timber in ("beam", "joist", "post")))
NEEDS = {
    "gap-outside-range": ("floor.board.gap", "standard"),
    "gap-range-reversed": ("floor.board.gap", "standard"),
    "rip-over-board": ("floor.board.width", "standard"),
    "overhang-over-floor": (*SIZES, "floor.overhang"),
    "too-many-boards": BOARDS,
    "too-many-posts": SPACINGS,
    "too-many-joists": SPACINGS,
    "joint-not-for-style": ("frame.style", "standard"),
    "seat-too-deep": ("frame.joist.depth", "frame.beam.depth", "standard"),
    "coats-without-finish": ("finish.kind", "standard"),
    "finish-without-coats": ("finish.kind", "standard"),
    "snow-depth-missing": ("loads.heavy_snow_area", "standard"),
    "heavy-off-floor": (*SIZES, "loads.heavy"),
    "climate-reversed": ("climate.dry", "climate.wet", "standard"),
}
"""What a disagreement is worked out from: where one of these is itself at fault, it is not yet known to be one."""

SCALE_FREE = frozenset(
    {
        "coats-without-finish",
        "finish-without-coats",
        "joint-not-for-style",
        "key-missing",
        "length-part-too-large",
        "length-unit-unknown",
        "length-units-mixed",
        "length-unread",
        "name-twice",
        "not-a-figure",
        "not-finite",
        "outline-corner-twice",
        "outline-crosses",
        "readings-in-line",
        "readings-too-few",
        "shape-missing",
        "shape-twice",
        "too-few",
    }
)
"""What is wrong whatever the unit of the file may turn out to be."""

MOST_PIECES = 20_000
"""Board pieces, and supports, that one job may have; a 1,000 m2 boardwalk has about a quarter."""

TYPICAL_STICK = 4000
"""mm; only to estimate how many pieces a long row needs."""

JOINTS = {
    Style.FLUSH: (Joint.LAP_OVER, Joint.LAP_UNDER, Joint.HOUSING, Joint.BUTT),
    Style.STACKED: (Joint.BEARING,),
    Style.HUNG: (Joint.HANGER,),
}

Say = Callable[[Fraction], str]
"""Writes a length [mm] in the unit of the file."""


def board(table: BoardTable, say: Say) -> Iterator[Fault]:
    """Find a gap outside its range, and a rip wider than the board."""
    low, high = gap_range(table)
    if low > high:
        yield Fault(
            where="gap_min", code="gap-range-reversed", found=say(low), allowed=f"≤ {say(high)}", nearest=say(high)
        )
    elif not low <= table.gap <= high:
        nearest = low if table.gap < low else high
        yield Fault(
            where="gap",
            code="gap-outside-range",
            found=say(table.gap),
            allowed=f"{say(low)} … {say(high)}",
            nearest=say(nearest),
        )
    if table.rip_min is not None and table.rip_min > table.width:
        yield Fault(
            where="rip_min",
            code="rip-over-board",
            found=say(table.rip_min),
            allowed=f"≤ {say(table.width)}",
            nearest=say(table.width),
        )


def gap_range(table: BoardTable) -> tuple[Fraction, Fraction]:
    """Return the narrowest and widest gap allowed [mm], half and one and a half times the gap unless typed."""
    low = table.gap / 2 if table.gap_min is None else table.gap_min
    high = table.gap * 3 / 2 if table.gap_max is None else table.gap_max
    return low, high


def floor(table: FloorTable, say: Say) -> Iterator[Fault]:
    """Find a shape given twice or not at all, a bad outline, overhangs beyond it, and more boards than can be built."""
    sizes = [key for key in ("width", "depth") if getattr(table, key) is not None]
    if table.outline is not None:
        for key in ("width", "depth", "left", "wall_gap"):
            if key in table.model_fields_set:
                yield Fault(where=key, code="shape-twice", found=key, allowed="outline")
        corners = [(corner.x, corner.y) for corner in table.outline]
        faults = outline_faults(corners, say)
        yield from (_under("outline", fault) for fault in faults)
        if faults:
            return
    elif len(sizes) < 2:
        for key in ("width", "depth"):
            if key not in sizes:
                yield Fault(where="", code="shape-missing", allowed=key)
        return
    yield from _overhang(table, say)
    yield from _pieces(table)


def _under(key: str, fault: Fault) -> Fault:
    return replace(fault, where=f"{key}{fault.where}")


def corners_of(table: FloorTable) -> list[Corner]:
    """Return the corners of the floor [mm], as typed or of the rectangle."""
    if table.outline is not None:
        return [(corner.x, corner.y) for corner in table.outline]
    assert table.width is not None
    assert table.depth is not None
    x0, y0 = table.left, table.wall_gap
    x1, y1 = x0 + table.width, y0 + table.depth
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def spans(table: FloorTable) -> tuple[Fraction, Fraction]:
    """Return the greatest extent along and away from the wall [mm]."""
    xs, ys = zip(*corners_of(table), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def edges(table: FloorTable) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Return the left, right, near and far edge of the floor [mm]."""
    xs, ys = zip(*corners_of(table), strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _overhang(table: FloorTable, say: Say) -> Iterator[Fault]:
    width, depth = spans(table)
    for pair, span in ((("left", "right"), width), (("wall", "outer"), depth)):
        first, second = (getattr(table.overhang, key) for key in pair)
        if first + second >= span:
            worse = pair[0] if first > second else pair[1]
            yield Fault(
                where=f"overhang.{worse}",
                code="overhang-over-floor",
                found=say(max(first, second)),
                allowed=f"< {say(span - min(first, second))}",
            )


def _pieces(table: FloorTable) -> Iterator[Fault]:
    width, depth = spans(table)
    angle = math.radians(float(table.board.direction_deg))
    along = float(width) * abs(math.cos(angle)) + float(depth) * abs(math.sin(angle))
    across = float(width) * abs(math.sin(angle)) + float(depth) * abs(math.cos(angle))
    rows = math.ceil(across / float(table.board.width + gap_range(table.board)[0]))
    pieces = rows * math.ceil(along / TYPICAL_STICK)
    if pieces > MOST_PIECES:
        yield Fault(where="board.width", code="too-many-boards", found=str(pieces), allowed=str(MOST_PIECES))


def frame(table: FrameTable, say: Say) -> Iterator[Fault]:
    """Find joints that the style cannot have, and a seat that leaves no timber."""
    allowed = JOINTS[table.style]
    for key, joints in (
        ("joist", allowed),
        ("post_joist", tuple(j for j in allowed if j not in (Joint.HOUSING, Joint.BUTT))),
    ):
        joint = getattr(table.joints, key)
        if joint not in joints:
            words = ", ".join(joints)
            yield Fault(
                where=f"joints.{key}",
                code="joint-not-for-style",
                found=str(joint),
                allowed=words,
                nearest=str(joints[0]),
            )
    yield from _post_lines(table, say)
    seat, shallowest = table.joints.seat, min(table.joist.depth, table.beam.depth)
    if seat is not None and seat >= shallowest:
        yield Fault(where="joints.seat", code="seat-too-deep", found=say(seat), allowed=f"< {say(shallowest)}")


def _post_lines(table: FrameTable, say: Say) -> Iterator[Fault]:
    """Find lines of posts typed twice, or typed where every joist stands on posts anyway."""
    lines = table.post_lines or []
    if lines and table.style is Style.FLUSH and table.joints.joist is Joint.LAP_UNDER:
        yield Fault(where="post_lines", code="post-lines-every-joist", found=str(len(lines)))
    for index, line in enumerate(lines):
        if any(abs(line - other) < 1 for other in lines[:index]):
            yield Fault(where=f"post_lines[{index}]", code="post-line-twice", found=say(line))


def site(table: SiteTable, say: Say) -> Iterator[Fault]:
    """Find readings that give no surface, names used twice, and the wall of a house that is not there."""
    places = {(row.x, row.y) for row in table.levels}
    places |= {(row.x, row.y) for station in table.station for row in station.readings}
    if len(places) < 3:
        yield Fault(where="", code="readings-too-few", found=str(len(places)), allowed="3")
    elif _in_line(sorted(places)):
        yield Fault(where="", code="readings-in-line", found=str(len(places)))
    first: dict[str, str] = {}
    for where, name in _names(table):
        if name in first:
            yield Fault(where=where, code="name-twice", found=name, allowed=first[name])
        first.setdefault(name, where)
    if table.wall and not table.house:
        yield Fault(where="wall", code="no-house", found="house = false", allowed="house = true")
    walls: dict[Fraction, int] = {}
    for index, row in enumerate(table.wall):
        if row.x in walls:
            yield Fault(where=f"wall[{index}]", code="wall-twice", found=say(row.x), allowed=f"wall[{walls[row.x]}]")
        walls.setdefault(row.x, index)


def _names(table: SiteTable) -> Iterator[tuple[str, str]]:
    count = 0
    for s, station in enumerate(table.station):
        for r, row in enumerate(station.readings):
            count += 1
            yield f"station[{s}].readings[{r}]", row.name or f"r{count}"
    for index, level in enumerate(table.levels):
        yield f"levels[{index}]", level.name or f"p{index + 1}"


def _in_line(places: list[Corner]) -> bool:
    (x0, y0), (x1, y1) = places[0], places[-1]
    return all((x1 - x0) * (y - y0) == (y1 - y0) * (x - x0) for x, y in places)


def loads(table: LoadsTable, say: Say) -> Iterator[Fault]:
    """Find a heavy snow area without a snow depth."""
    if table.heavy_snow_area and table.snow_depth == 0:
        yield Fault(
            where="snow_depth", code="snow-depth-missing", found=say(table.snow_depth), allowed=f"> {say(Fraction(0))}"
        )


def finish(table: FinishTable) -> Iterator[Fault]:
    """Find coats without a finish, and a finish without coats."""
    if table.coats and table.kind is Coating.NONE:
        yield Fault(where="coats", code="coats-without-finish", found=str(table.coats), allowed="0", nearest="0")
    if table.coats == 0 and table.kind is not Coating.NONE:
        yield Fault(where="coats", code="finish-without-coats", found="0", allowed="≥ 1", nearest="2")


def climate(table: ClimateTable) -> Iterator[Fault]:
    """Find a dry season wetter than the wet one."""
    if table.dry > table.wet:
        dry, wet = (f"{float(value):g} %" for value in (table.dry, table.wet))
        yield Fault(where="dry", code="climate-reversed", found=dry, allowed=f"≤ {wet}", nearest=wet)


def job(table: JobFile, say: Say) -> Iterator[Fault]:
    """Find more supports than can be built, a ledger without a house, and a section of stock given twice."""
    width, depth = spans(table.floor)
    beams, posts, joists = (getattr(table.frame, key).spacing_max for key in ("beam", "post", "joist"))
    supports = max(
        (math.ceil(width / one) + 1) * (math.ceil(depth / other) + 1) for one, other in ((beams, posts), (posts, beams))
    )
    if supports > MOST_PIECES:
        yield Fault(
            where="frame.post.spacing_max", code="too-many-posts", found=str(supports), allowed=str(MOST_PIECES)
        )
    timbers = (math.ceil(max(width, depth) / joists) + 1) * math.ceil(min(width, depth) / TYPICAL_STICK)
    if timbers > MOST_PIECES:
        yield Fault(
            where="frame.joist.spacing_max", code="too-many-joists", found=str(timbers), allowed=str(MOST_PIECES)
        )
    if table.frame.ledger is not None and not table.site.house:
        yield Fault(where="frame.ledger", code="no-house", found="house = false", allowed="house = true")
    yield from stock(table.stock, say)


def stretches(rows: Sequence[StretchRow], key: str, length: Fraction, say: Say) -> Iterator[Fault]:
    """Find a stretch of a stick that ends before it begins, or beyond the stick."""
    for index, one in enumerate(rows):
        where = f"{key}[{index}]"
        if one.begin >= one.finish:
            found = f"[{say(one.begin)}, {say(one.finish)}]"
            yield Fault(
                where=where, code="range-reversed", found=found, nearest=f"[{say(one.finish)}, {say(one.begin)}]"
            )
        elif one.finish > length:
            yield Fault(
                where=where, code="too-large", found=say(one.finish), allowed=f"≤ {say(length)}", nearest=say(length)
            )


def stock(entries: Sequence[StockTable], say: Say) -> Iterator[Fault]:
    """Find a section given twice in the same wood, look and grade."""
    first: dict[tuple[object, ...], int] = {}
    for index, item in enumerate(entries):
        key = (item.species, item.look, item.strength_grade, frozenset((item.width, item.depth)))
        if key in first:
            found = f"{item.species} {say(item.width)} × {say(item.depth)}"
            yield Fault(where=f"stock[{index}]", code="stock-twice", found=found, allowed=f"stock[{first[key]}]")
        first.setdefault(key, index)
