"""What holds the floor in each of the two directions, and whether its posts are held at their heads."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.job import Job, kinds


class Direction(StrEnum):
    """Ways in which a floor may sway."""

    ALONG = "along"
    """Along the wall."""
    OUT = "out"
    """Outward from the wall, and back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One direction, what holds the floor in it, and how many pieces share the push; None = not said."""

    direction: Direction
    holding: kinds.Holding | None
    pieces: int | None


def ways(job: Job) -> tuple[Way, Way]:
    """Return both directions with what the job says of them."""
    held = job.frame.held
    return (
        Way(direction=Direction.ALONG, holding=held.along, pieces=held.pieces_along),
        Way(direction=Direction.OUT, holding=held.out, pieces=held.pieces_out),
    )


def is_held_both_ways(job: Job) -> bool:
    """Return whether the floor is tied or braced both ways, so that posts are held at their heads as well.

    Low rails hold the feet, and posts in concrete sway with the floor: neither holds the heads.
    """
    firm = {kinds.Holding.BUILDING, kinds.Holding.BRACES}
    return all(way.holding in firm for way in ways(job))
