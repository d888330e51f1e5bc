"""The sheets of paper that drawings may be made on, and the clear part of each."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError

WORD = 3.3
"""Smallest text [mm]: capitals 2.5 mm high."""
FIGURE = 4.0
"""Numbers are larger than words."""
HEAD = 5.0
TITLE = 7.0
MARGIN = 9.0
TOP = 22.0
"""Height of the title above the clear part."""
FOOT = 17.0
"""Height of the strip under the clear part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A rectangle on paper [mm], y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [mm]."""
        return self.bottom - self.top


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One size of paper, landscape [mm]."""

    name: str
    width: float
    height: float

    @property
    def body(self) -> Area:
        """The clear part between title and foot."""
        return Area(left=MARGIN, top=TOP, right=self.width - MARGIN, bottom=self.height - MARGIN - FOOT - 3.0)


SIZES = {
    paper.name.casefold(): paper
    for paper in (
        Paper(name="A3", width=420.0, height=297.0),
        Paper(name="A4", width=297.0, height=210.0),
        Paper(name="letter", width=279.4, height=215.9),
        Paper(name="tabloid", width=431.8, height=279.4),
    )
}
"""Source: ISO 216:2007 (A3, A4); ANSI/ASME Y14.1 (A = letter, B = tabloid)."""


def paper_named(name: str) -> Paper:
    """Return a size of paper; raises OutOfRangeError ``paper-unknown`` for any other name."""
    try:
        return SIZES[name.casefold()]
    except KeyError:
        allowed = ", ".join(p.name for p in SIZES.values())
        raise OutOfRangeError(
            Fault(where="paper", code="paper-unknown", found=name, allowed=allowed, nearest="A3")
        ) from None
