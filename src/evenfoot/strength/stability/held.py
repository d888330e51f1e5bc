"""What holds the floor in each of the two directions."""

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
