"""Is the frame square, what shape is it if not, and which corner goes which way how far."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.setting.square.doubt import suspects_among
from evenfoot.setting.square.figures import angle, difference, laid, lean, place, reach
from evenfoot.setting.square.model import (
    Corner,
    Diagonal,
    Distance,
    Pair,
    Point,
    Push,
    Shape,
    Side,
    Squareness,
    Tape,
)
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY
from evenfoot.solvers import network

Array = NDArray[np.float64]
_CUT_ALIKE = 3.0
"""Opposite sides of a frame are cut alike to +- this [mm, 19 in 20]; used only to tell which reading is the misread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """The frame as it should be: its corners in order, counter-clockwise, the first two on the house [mm].

    ``is_size_known`` is False when only its being square is asked for: then its sizes are those of the readings.
    ``same`` are pairs of sides that were found alike without being measured.
    """

    corners: tuple[Point, ...]
    is_size_known: bool
    within: float
    same: tuple[tuple[Pair, Pair], ...] = ()

    @property
    def sides(self) -> tuple[Pair, ...]:
        """The sides in order, the one on the house first."""
        count = len(self.corners)
        return tuple((i, (i + 1) % count) for i in range(count))


def square_up(wanted: Wanted, distances: Sequence[Distance], tape: Tape) -> Squareness:
    """Return what shape the distances give the frame, and what to do about it.

    All distances are fitted together, each by its own accuracy, over one scale of the tape. Without enough of them the
    answer says which are missing.
    Raises: OutOfRangeError (``corners-too-few``) for fewer than three corners; (``distance-unfit``) for a distance that
    is not positive, or between corners that there are not.
    """
    _check(wanted, distances)
    start = np.array(wanted.corners, dtype=np.float64)
    spans = [network.Span(pair=d.pair, value=d.value, sigma=_sigma(d, tape)) for d in distances]
    ties = [network.Tie(first=a, second=b, value=0.0, sigma=_reading(tape) * math.sqrt(2)) for a, b in wanted.same]
    missing = network.missing_distances(start, [span.pair for span in spans], ties=ties)
    if missing:
        return _open(wanted, missing)
    scale = tape.scale / NINETEEN_IN_TWENTY
    fitted = network.fit_distances(start, spans, ties=ties, scale_sigma=scale)
    suspects = suspects_among(fitted, spans, start=start, likely=[*ties, *_likely(wanted)], scale_sigma=scale)
    figure = _Figure(fitted=fitted, wanted=wanted)
    shape = figure.shape()
    return Squareness(
        shape=shape,
        sides=figure.sides(),
        diagonals=figure.diagonals(),
        corners=figure.corners(),
        lean=figure.lean,
        lean_sure=figure.sure(lean) if len(start) == 4 else 0.0,
        pushes=() if shape is Shape.SQUARE else figure.pushes(),
        suspects=suspects,
        missing=(),
        spare=fitted.fit.freedom,
        within=wanted.within,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Figure:
    """A fitted frame, read against the one that is wanted."""

    fitted: network.Network
    wanted: Wanted

    @property
    def is_box(self) -> bool:
        return len(self.wanted.corners) == 4

    @property
    def lean(self) -> float:
        return lean(self.fitted.points) if self.is_box else 0.0

    def sure(self, figure: Callable[[Array], float]) -> float:
        """Return +- of a figure of the points, 19 times in 20."""
        return NINETEEN_IN_TWENTY * self.fitted.sigma_of(figure)

    def targets(self) -> tuple[float, ...]:
        """Return how long each side should be [mm]."""
        lengths = [reach(pair)(self.fitted.points) for pair in self.wanted.sides]
        if self.wanted.is_size_known or not self.is_box:
            corners = np.array(self.wanted.corners)
            return tuple(reach(pair)(corners) for pair in self.wanted.sides)
        return tuple(self._alike(lengths[i], lengths[(i + 2) % 4], i) for i in range(4))

    def _alike(self, own: float, other: float, side: int) -> float:
        """Return the size of two opposite sides: their mean when alike, else the shorter, which can be cut to."""
        slack = max(self.wanted.within, self.sure(difference(side)))
        return (own + other) / 2 if abs(own - other) <= slack else min(own, other)

    def shape(self) -> Shape:
        """Return the shape in one word; what the readings cannot tell from right counts as right."""
        within = self.wanted.within
        if not self.is_box:
            worst = max((math.hypot(p.dx, p.dy) for p in self.pushes()), default=0.0)
            return Shape.SQUARE if worst <= within else Shape.CROOKED
        unequal = [abs(difference(i)(self.fitted.points)) > within for i in (0, 1)]
        off_size = self.wanted.is_size_known and any(abs(s.excess) > within for s in self.sides())
        leans = abs(self.lean) > within
        if not any(unequal):
            return Shape.LEANING if leans else Shape.CROOKED if off_size else Shape.SQUARE
        return Shape.TRAPEZOID if not leans and sum(unequal) == 1 else Shape.CROOKED

    def sides(self) -> tuple[Side, ...]:
        points, targets = self.fitted.points, self.targets()
        out = []
        for number, (pair, target) in enumerate(zip(self.wanted.sides, targets, strict=True)):
            length = reach(pair)(points)
            against = not self.wanted.is_size_known and self.is_box
            sure = self.sure(difference(number) if against else reach(pair))
            out.append(Side(pair=pair, length=length, target=target, excess=length - target, sure=sure))
        return tuple(out)

    def diagonals(self) -> tuple[Diagonal, ...]:
        points = self.fitted.points
        if self.is_box:
            targets = self.targets()
            aim = math.hypot(targets[0], targets[1])
            pairs: dict[Pair, float] = {(0, 2): aim, (1, 3): aim}
        else:
            corners, sides = np.array(self.wanted.corners), {frozenset(s) for s in self.wanted.sides}
            count = len(corners)
            every = [(i, j) for i in range(count) for j in range(i + 1, count) if frozenset((i, j)) not in sides]
            pairs = {pair: reach(pair)(corners) for pair in every}
        return tuple(
            Diagonal(
                pair=pair,
                length=reach(pair)(points),
                target=aim,
                sure=self.sure(reach(pair)),
            )
            for pair, aim in pairs.items()
        )

    def corners(self) -> tuple[Corner, ...]:
        want, points = np.array(self.wanted.corners), self.fitted.points
        return tuple(
            Corner(
                index=i,
                at=(float(points[i, 0]), float(points[i, 1])),
                angle_error=angle(i)(points) - (math.pi / 2 if self.is_box else angle(i)(want)),
                angle_sure=self.sure(angle(i)),
            )
            for i in range(len(points))
        )

    def pushes(self) -> tuple[Push, ...]:
        """Return how each corner must move, the first held and the side on the house kept in its line.

        A frame of four corners is pushed as one that keeps its sides: the outer ones slide along the house together.
        """
        if self.is_box:
            sure = self.sure(lean)
            by = -self.lean
            return tuple(Push(corner=i, dx=by, dy=0.0, sure=sure) for i in (2, 3)) if by else ()
        placed = laid(np.array(self.wanted.corners))
        out = []
        for i, (now, aim) in enumerate(zip(self.fitted.points, placed, strict=True)):
            dx, dy = (float(v) for v in aim - now)
            wide = max(self.sure(place(i, 0)), self.sure(place(i, 1)))
            out.append(Push(corner=i, dx=dx, dy=dy, sure=wide))
        return tuple(push for push in out if math.hypot(push.dx, push.dy) > 1e-9)


def _open(wanted: Wanted, missing: tuple[Pair, ...]) -> Squareness:
    return Squareness(
        shape=Shape.OPEN,
        sides=(),
        diagonals=(),
        corners=(),
        lean=0.0,
        lean_sure=0.0,
        pushes=(),
        suspects=(),
        missing=missing,
        spare=0,
        within=wanted.within,
    )


def _likely(wanted: Wanted) -> list[network.Tie]:
    """Return what is known of a frame of four corners before it is measured: opposite sides were cut alike."""
    if len(wanted.corners) != 4:
        return []
    sides, sigma = wanted.sides, _CUT_ALIKE / NINETEEN_IN_TWENTY
    return [network.Tie(first=sides[i], second=sides[i + 2], value=0.0, sigma=sigma) for i in (0, 1)]


def _check(wanted: Wanted, distances: Sequence[Distance]) -> None:
    count = len(wanted.corners)
    if count < 3:
        raise OutOfRangeError(Fault(where="corners", code="corners-too-few", found=str(count), allowed=">= 3"))
    for d in distances:
        if not (0 <= min(d.pair) < max(d.pair) < count and d.value > 0):
            found = f"{d.pair[0] + 1}-{d.pair[1] + 1}: {d.value:g} mm"
            raise OutOfRangeError(
                Fault(where=d.where, code="distance-unfit", found=found, allowed=f"1-2 … {count - 1}-{count}, > 0 mm")
            )


def _reading(tape: Tape) -> float:
    return tape.reading / NINETEEN_IN_TWENTY


def _sigma(distance: Distance, tape: Tape) -> float:
    return _reading(tape) if distance.accuracy is None else distance.accuracy / NINETEEN_IN_TWENTY
