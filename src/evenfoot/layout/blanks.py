"""What each row of boards covers before it is cut to length: the outline, row by row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from evenfoot.geom import Point, as_upright_box, box_of, clip_to_bands, signed_area
from evenfoot.layout.closing import ClosedRun
from evenfoot.layout.model import Row

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
    """Return what every row covers of ``outline`` (u, v); row edges count down from its greatest v."""
    box = box_of(outline)
    lows = [*(box.y1 - row.far for row in rows[:-1]), box.y0]
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
