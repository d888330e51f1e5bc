"""What every piece of board is: the outline row by row, cut to length on its joists, with ends and supports."""

from __future__ import annotations

import bisect
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from evenfoot.geom import Heading, Point, as_upright_box, box_of, clip_each, clip_to_bands, signed_area
from evenfoot.layout.closing import EPS, ClosedRun
from evenfoot.layout.model import BoardPiece, Row
from evenfoot.layout.setting_out import Crossings

SLIVER_AREA = 5.0
"""A scrap smaller than this is nothing that can be cut or fixed [mm2]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One unbroken stretch of a row within the outline, corners (u, v) counter-clockwise [mm]."""

    corners: tuple[Point, ...]
    u0: float
    u1: float
    v0: float
    v1: float
    is_upright: bool
    """True for a plain rectangle along the boards."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankRows:
    """The blanks of every row, and the scraps that were left out."""

    rows: tuple[tuple[Blank, ...], ...]
    scraps: tuple[float, ...]
    """Areas of the pieces left out [mm2]."""


def number_rows(run: ClosedRun) -> tuple[Row, ...]:
    """Return the rows of a run, numbered from the starting edge, with their edges measured from there [mm]."""
    pitches = accumulate((width + run.gap for width in run.widths), initial=0.0)
    rows = [
        Row(number=number, width=width, near=near, far=near + width)
        for number, (width, near) in enumerate(zip(run.widths, pitches, strict=False), start=1)
    ]
    last = rows[-1]
    rows[-1] = Row(number=last.number, width=last.width, near=last.near, far=run.extent)
    return tuple(rows)


def cut_rows(outline: Sequence[Point], rows: Sequence[Row]) -> BlankRows:
    """Return what every row covers of ``outline`` (u, v); row edges count down from its greatest v.

    A run that closes ends on the outline exactly; one that ends at a corner may leave less than a gap of its tip.
    """
    box = box_of(outline)
    is_closed = abs(rows[-1].far - box.height) <= EPS
    lows = [*(box.y1 - row.far for row in rows[:-1]), box.y0 if is_closed else box.y1 - rows[-1].far]
    bands = [(low, box.y1 - row.near) for low, row in zip(lows, rows, strict=True)]
    if as_upright_box(outline) is not None:
        return BlankRows(rows=tuple((_strip(box.x0, box.x1, *band),) for band in bands), scraps=())
    scraps: list[float] = []
    out: list[tuple[Blank, ...]] = []
    for parts in clip_to_bands(outline, bands):
        areas = [signed_area(part) for part in parts]
        scraps += [area for area in areas if area < SLIVER_AREA]
        kept = [_shape(part) for part, area in zip(parts, areas, strict=True) if area >= SLIVER_AREA]
        out.append(tuple(sorted(kept, key=lambda blank: (blank.u0, blank.v0))))
    return BlankRows(rows=tuple(out), scraps=tuple(scraps))


def _strip(u0: float, u1: float, v0: float, v1: float) -> Blank:
    corners = ((u0, v0), (u1, v0), (u1, v1), (u0, v1))
    return Blank(corners=corners, u0=u0, u1=u1, v0=v0, v1=v1, is_upright=True)


def _shape(corners: tuple[Point, ...]) -> Blank:
    box = box_of(corners)
    if as_upright_box(corners) is not None:
        return _strip(box.x0, box.x1, box.y0, box.y1)
    return Blank(corners=corners, u0=box.x0, u1=box.x1, v0=box.y0, v1=box.y1, is_upright=False)


Ends = tuple[int | None, int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One piece in (u, v), with the joists (in order along the boards) that its ends share with other pieces."""

    corners: tuple[Point, ...]
    ends: Ends
    is_upright: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPieces:
    """All pieces, and over how many joists each lies."""

    pieces: tuple[BoardPiece, ...]
    crossed: tuple[int, ...]


def cut_blanks(
    rows: Sequence[Sequence[Blank]], joints: Sequence[Sequence[tuple[int, ...]]], *, cross: Crossings, end_gap: float
) -> tuple[tuple[Cut, ...], ...]:
    """Return the pieces of every row, in order along it, with ``end_gap`` [mm] centred on every joint's joist."""
    half = end_gap / (2.0 * cross.skew)
    out: list[list[Cut]] = []
    slanted: list[tuple[int, Blank, tuple[int, ...]]] = []
    for number, (row, splits) in enumerate(zip(rows, joints, strict=True)):
        out.append([])
        for blank, split in zip(row, splits, strict=True):
            if not split:
                out[number].append(Cut(corners=blank.corners, ends=(None, None), is_upright=blank.is_upright))
            elif blank.is_upright and cross.slant == 0.0:
                out[number] += _square_cuts(blank, split, cross, half)
            else:
                slanted.append((number, blank, split))
    _cut_slanted(out, slanted, cross, half)
    return tuple(tuple(sorted(cuts, key=lambda cut: min(cut.corners))) for cuts in out)


def _square_cuts(blank: Blank, split: tuple[int, ...], cross: Crossings, half: float) -> list[Cut]:
    starts = (blank.u0, *(cross.bases[j] + half for j in split))
    ends = (*(cross.bases[j] - half for j in split), blank.u1)
    low, high = blank.v0, blank.v1
    return [
        Cut(corners=((a, low), (b, low), (b, high), (a, high)), ends=shared, is_upright=True)
        for a, b, shared in zip(starts, ends, _shared_ends(split), strict=True)
    ]


def _shared_ends(split: tuple[int, ...]) -> list[Ends]:
    return list(zip((None, *split), (*split, None), strict=True))


def _cut_slanted(
    out: list[list[Cut]], jobs: Sequence[tuple[int, Blank, tuple[int, ...]]], cross: Crossings, half: float
) -> None:
    """Cut shaped blanks, or blanks that cross their joists at an angle, along the joist axes."""
    shapes: list[tuple[Point, ...]] = []
    cutters: list[tuple[Point, ...]] = []
    owners: list[tuple[int, Ends]] = []
    for number, blank, split in jobs:
        for shared in _shared_ends(split):
            shapes.append(blank.corners)
            cutters.append(_cutter(blank, shared, cross, half))
            owners.append((number, shared))
    if not shapes:
        return
    for (number, shared), parts in zip(owners, clip_each(shapes, cutters), strict=True):
        for part in parts:
            ends = _true_ends(part, shared, cross, half)
            out[number].append(Cut(corners=part, ends=ends, is_upright=_is_upright(part)))


def _cutter(blank: Blank, shared: Ends, cross: Crossings, half: float) -> tuple[Point, ...]:
    low, high = blank.v0 - 1.0, blank.v1 + 1.0
    clear = 1.0 + abs(cross.slant) * (high - low)

    def edge(joist: int | None, v: float, free: float, off: float) -> Point:
        return (free if joist is None else cross.bases[joist] + cross.slant * v + off, v)

    first, last = shared
    left, right = blank.u0 - clear, blank.u1 + clear
    return (
        edge(first, low, left, half),
        edge(last, low, right, -half),
        edge(last, high, right, -half),
        edge(first, high, left, half),
    )


def _true_ends(part: Sequence[Point], shared: Ends, cross: Crossings, half: float) -> Ends:
    """Return the joists that this part really ends on: a stray part of a shaped board may reach neither cut."""

    def touches(joist: int | None, off: float) -> bool:
        return joist is not None and any(abs(u - cross.bases[joist] - cross.slant * v - off) <= EPS for u, v in part)

    return (shared[0] if touches(shared[0], half) else None, shared[1] if touches(shared[1], -half) else None)


def _is_upright(corners: Sequence[Point]) -> bool:
    edges = zip(corners, (*corners[1:], corners[0]), strict=True)
    return len(corners) == 4 and all(abs(a[0] - b[0]) <= EPS or abs(a[1] - b[1]) <= EPS for a, b in edges)


def lay_pieces(
    cuts: Sequence[Sequence[Cut]], rows: Sequence[Row], *, board_width: float, cross: Crossings, heading: Heading
) -> LaidPieces:
    """Return every piece in plan, marked ``b<row>.<place>``, and over how many joists it lies."""
    pieces: list[BoardPiece] = []
    crossed: list[int] = []
    top = max((v for row in cuts for cut in row for _, v in cut.corners), default=0.0)
    for row, places in zip(rows, cuts, strict=True):
        for index, cut in enumerate(places, start=1):
            box = box_of(cut.corners)
            middle = (box.y0 + box.y1) / 2.0
            ends = (box.x0, box.x1) if cut.is_upright else _along(cut.corners, middle)
            start, end = heading.plan(((ends[0], middle), (ends[1], middle)))
            on = [None if joist is None else cross.index(joist) for joist in cut.ends]
            pieces.append(
                BoardPiece(
                    mark=f"b{row.number}.{index}",
                    row=row.number,
                    index=index,
                    outline=heading.plan(cut.corners),
                    start=start,
                    end=end,
                    length=box.width,
                    width=box.height,
                    is_ripped=_is_ripped(cut, (top - row.far, top - row.near), is_whole=row.width >= board_width - EPS),
                    is_shaped=not cut.is_upright,
                    start_on_joist=on[0],
                    end_on_joist=on[1],
                )
            )
            crossed.append(_count_crossed(ends, middle, cut.ends, cross))
    return LaidPieces(pieces=tuple(pieces), crossed=tuple(crossed))


def _along(corners: Sequence[Point], v: float) -> tuple[float, float]:
    """Return the first and last u at which the outline meets the line at ``v``."""
    met = [
        a[0] + (b[0] - a[0]) * (v - a[1]) / (b[1] - a[1])
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        if min(a[1], b[1]) <= v <= max(a[1], b[1]) and a[1] != b[1]
    ]
    return min(met), max(met)


def _is_ripped(cut: Cut, edges: tuple[float, float], *, is_whole: bool) -> bool:
    """Return whether the piece is sawn along its length: an edge along the board that is no edge of a whole board."""
    sides = zip(cut.corners, (*cut.corners[1:], cut.corners[0]), strict=True)
    along = [a[1] for a, b in sides if abs(a[1] - b[1]) <= EPS]
    on_edge = [any(abs(v - edge) <= EPS for v in along) for edge in edges]
    strays = any(min(abs(v - edge) for edge in edges) > EPS for v in along)
    return strays or (not is_whole and all(on_edge))


def _count_crossed(ends: tuple[float, float], v: float, shared: Ends, cross: Crossings) -> int:
    """Return over how many joist axes the middle of a piece runs, joists that it shares at a joint included."""
    off = cross.slant * v
    first = bisect.bisect_left(cross.bases, ends[0] - off - EPS)
    last = bisect.bisect_right(cross.bases, ends[1] - off + EPS)
    inner = range(first, last)
    return len(inner) + sum(joist is not None and joist not in inner for joist in shared)
