"""What is known of a frame's shape: the readings, where its corners lie, what to do, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.setting.slips import Slip

Point = tuple[float, float]
Pair = tuple[int, int]
"""Two corners by their index; corner 0 is called 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """How sure a distance is, 19 times in 20: ``reading`` [+- mm] each time anew, ``scale`` [+- mm per mm] of the tape.

    The tape's own error is the same in every reading: it makes a frame larger or smaller, never out of square.
    """

    reading: float
    scale: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance:
    """One distance as read between two corners [mm]; ``accuracy`` (+- mm, 19 times in 20) where it has its own."""

    pair: Pair
    value: float
    accuracy: float | None = None
    where: str = ""


class Shape(StrEnum):
    """What a frame of four corners looks like; a frame of more corners is square or crooked."""

    SQUARE = "square"
    LEANING = "leaning"
    """Opposite sides equal, corners not right: pushed over."""
    TRAPEZOID = "trapezoid"
    """One side longer than the one opposite and the diagonals equal: no push mends that."""
    CROOKED = "crooked"
    """Both, or neither pair of sides equal."""
    OPEN = "open"
    """Not enough was measured to tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A side as it is and as it should be [mm]; ``excess`` is how much too long it is, ``sure`` its +-, 19 in 20."""

    pair: Pair
    length: float
    target: float
    excess: float
    sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """A diagonal as it is and what it must read when the frame is square [mm]; ``sure`` is +-, 19 times in 20."""

    pair: Pair
    length: float
    target: float
    sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner: where it lies [mm], how far its angle is off [rad, positive = too wide], +- 19 times in 20."""

    index: int
    at: Point
    angle_error: float
    angle_sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """Move a corner by (dx, dy) [mm]: x to the right along the house, y away from it; ``sure`` is +-, 19 in 20."""

    corner: int
    dx: float
    dy: float
    sure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A distance that does not agree with the others: what they expect in its place [mm], a slip that explains it."""

    pair: Pair
    found: float
    expected: float
    sure: float
    slip: Slip | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Squareness:
    """The answer: what shape, what to do, what must be read then."""

    shape: Shape
    sides: tuple[Side, ...]
    diagonals: tuple[Diagonal, ...]
    corners: tuple[Corner, ...]
    lean: float
    """Four corners: how far the outer side stands to the right of where it belongs [mm]."""
    lean_sure: float
    """+- mm, 19 times in 20."""
    pushes: tuple[Push, ...]
    """What mends the shape as far as pushing can, the first corner on the house held where it is."""
    suspects: tuple[Suspect, ...]
    """One = the misread; several = one of these; none = the distances agree."""
    missing: tuple[Pair, ...]
    """Distances that must still be measured before anything can be said."""
    spare: int
    """How many distances are measured beyond what fixes the shape; without one a misread cannot show."""
    within: float
    """How far the shape may be off [mm]."""

    @property
    def is_square(self) -> bool:
        """Whether the shape is right within the tolerance, by readings that agree."""
        return self.shape is Shape.SQUARE and not self.suspects

    @property
    def is_proved(self) -> bool:
        """Whether it is right even where the readings err as far as they may."""
        wide = max((s.sure for s in self.sides), default=0.0)
        return self.is_square and abs(self.lean) + self.lean_sure <= self.within and wide <= self.within
