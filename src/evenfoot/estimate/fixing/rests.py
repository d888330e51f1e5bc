"""What wood the boards rest on along every joist line, and beside it, where board screws can go."""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from evenfoot.frame import Frame, JointKind, Member, Role
from evenfoot.job import kinds
from evenfoot.layout import Axis, BoardPiece, Layout

_NEAR = 1.0
"""Timbers whose axes lie this near to a line lie on it [mm]."""


@dataclass(frozen=True, slots=True)
class Rest:
    """A stretch of wood under the boards on a joist line [mm]; a joist runs along the line, a beam across it."""

    low: float
    high: float
    is_along: bool


Pattern = tuple[Rest, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """The joist lines of a floor, each with what lies on it, and the blocks beside each."""

    axis: Axis
    places: tuple[float, ...]
    patterns: tuple[Pattern, ...]
    """One for each place; equal ones are the same object."""
    blocks: Mapping[tuple[int, int], tuple[tuple[float, float], ...]]
    """Stretches of blocks along a joist, by index of its line and side of it (-1, 1)."""
    beams: tuple[tuple[float, float], ...]
    """Stretches across the beams whose tops lie level with the joists."""

    def along(self, point: Sequence[float]) -> float:
        """Return the coordinate of a point along the joists [mm]."""
        return point[1] if self.axis is Axis.Y else point[0]

    def across(self, point: Sequence[float]) -> float:
        """Return the coordinate of a point across the joists [mm]."""
        return point[0] if self.axis is Axis.Y else point[1]

    def under(self, piece: BoardPiece) -> range:
        """Return the indices of the joist lines that a piece lies over, those that its ends share with others too."""
        low, high = sorted((self.across(piece.start), self.across(piece.end)))
        shared = [i for i in (piece.start_on_joist, piece.end_on_joist) if i is not None]
        first = min((bisect.bisect_left(self.places, low - _NEAR), *shared))
        return range(first, max((bisect.bisect_right(self.places, high + _NEAR), *(i + 1 for i in shared))))

    def has_block(self, line: int, side: int, at: float) -> bool:
        """Return whether a block stands beside a joist there."""
        return any(low <= at <= high for low, high in self.blocks.get((line, side), ()))

    def is_on_beam(self, at: float) -> bool:
        """Return whether this place along the joists lies on a beam."""
        return any(low <= at <= high for low, high in self.beams)


def find_lines(layout: Layout, frame: Frame) -> Lines:
    """Return what lies on and beside every joist line."""
    axis, places = layout.joist_axis, layout.joist_lines
    joists = _by_line([m for m in frame.members if m.role is Role.JOIST and m.axis is axis], places, axis)
    beams = [m for m in frame.members if m.role is Role.BEAM] if frame.style is not kinds.Style.STACKED else []
    over = _beams_on_top(frame)
    known: dict[Pattern, Pattern] = {}
    patterns = []
    for index, place in enumerate(places):
        crossing = [b for b in beams if _covers(b, place, axis)]
        pattern = _pattern(joists.get(index, ()), crossing, over, axis)
        patterns.append(known.setdefault(pattern, pattern))
    return Lines(
        axis=axis,
        places=places,
        patterns=tuple(patterns),
        blocks=_blocks(frame, places, axis),
        beams=tuple({_stretch_across(b, axis) for b in beams}),
    )


def _coordinate(point: Sequence[float], axis: Axis) -> float:
    return point[0] if axis is Axis.X else point[1]


def _other(axis: Axis) -> Axis:
    return Axis.X if axis is Axis.Y else Axis.Y


def _nearest(places: Sequence[float], value: float) -> int:
    index = bisect.bisect_left(places, value)
    return min((i for i in (index - 1, index) if 0 <= i < len(places)), key=lambda i: abs(places[i] - value), default=0)


def _by_line(joists: Iterable[Member], places: Sequence[float], axis: Axis) -> dict[int, tuple[Member, ...]]:
    out: dict[int, tuple[Member, ...]] = {}
    for joist in joists:
        place = _coordinate(joist.start, _other(axis))
        index = _nearest(places, place)
        if abs(places[index] - place) <= _NEAR:
            out[index] = (*out.get(index, ()), joist)
    return out


def _covers(beam: Member, place: float, axis: Axis) -> bool:
    ends = sorted((_coordinate(beam.start, _other(axis)), _coordinate(beam.end, _other(axis))))
    return ends[0] - _NEAR <= place <= ends[1] + _NEAR


def _stretch_across(beam: Member, axis: Axis) -> tuple[float, float]:
    middle = _coordinate(beam.start, axis)
    return round(middle - beam.width / 2, 3), round(middle + beam.width / 2, 3)


def _beams_on_top(frame: Frame) -> frozenset[tuple[str, str]]:
    """Return (joist, beam) of every crossing whose beam lies in the top of the joist."""
    return frozenset((j.lower, j.upper) for j in frame.joints if j.kind is JointKind.LAP_UNDER)


def _pattern(
    joists: Iterable[Member], beams: Iterable[Member], over: frozenset[tuple[str, str]], axis: Axis
) -> Pattern:
    rests: list[Rest] = []
    covered: list[tuple[float, float]] = []
    for joist in joists:
        ends = sorted((_coordinate(joist.start, axis), _coordinate(joist.end, axis)))
        low, high = round(ends[0], 3), round(ends[1], 3)
        covered.append((low, high))
        for begin, finish in sorted(_stretch_across(b, axis) for b in beams if (joist.mark, b.mark) in over):
            if begin - low > 0:
                rests.append(Rest(low, begin, is_along=True))
            rests.append(Rest(begin, finish, is_along=False))
            low = finish
        if high - low > 0:
            rests.append(Rest(low, high, is_along=True))
    for begin, finish in (_stretch_across(b, axis) for b in beams):
        middle = (begin + finish) / 2
        if not any(low <= middle <= high for low, high in covered):
            rests.append(Rest(begin, finish, is_along=False))
    return tuple(sorted(set(rests), key=lambda r: (r.low, r.high)))


def _blocks(
    frame: Frame, places: Sequence[float], axis: Axis
) -> dict[tuple[int, int], tuple[tuple[float, float], ...]]:
    out: dict[tuple[int, int], tuple[tuple[float, float], ...]] = {}
    for block in frame.members:
        if block.role is not Role.BLOCK or block.axis is not axis:
            continue
        place = _coordinate(block.start, _other(axis))
        index = _nearest(places, place)
        side = 1 if place > places[index] else -1
        ends = sorted((_coordinate(block.start, axis), _coordinate(block.end, axis)))
        out[index, side] = (*out.get((index, side), ()), (ends[0], ends[1]))
    return out
