"""What gap to lay boards with whose moisture is not the one that was planned."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.rules.movement import MovingBoard, width_change
from evenfoot.tables import species


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """Moisture of the boards as planned on the day, in the driest and in the wettest weeks [% of dry mass]."""

    day: float
    dry: float
    wet: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MoistGap:
    """A gap laid today and what it becomes over the year [mm]; ``advised`` is the one that gives the planned year."""

    read: float
    """Mean of the readings [%]."""
    planned: float
    laid: float
    dry: float
    wet: float
    advised: float


def movement_of(species_id: str) -> tuple[float, float]:
    """Return how boards of a species move, as ``moist_gap`` reckons it.

    First the share of their width for each per cent of moisture [per %], then the fibre saturation above which wood
    does not move [%].
    """
    wood = species(species_id)
    return wood.c_tangential, wood.fsp


def moist_gap(  # noqa: PLR0913 - one keyword for each figure
    species_id: str, *, width: float, read: float, laid: float, planned_gap: float, year: Year
) -> MoistGap:
    """Return what a gap ``laid`` today becomes over the year when boards of a species read ``read`` [%].

    Source: as ``rules.movement.width_change``, each board at its species' tangential rate (the wider movement, as the
    plan's own seasons are reckoned); a gap grows by what one board shrinks.
    Args: width of a board at the planned moisture [mm]; laid, gap today, and planned_gap, gap at the planned moisture
    [mm]; read, moisture today [%].
    Raises: OutOfRangeError when a moisture is outside 0 to 250 %.
    """
    wood = species(species_id)
    board = MovingBoard(width=width, coefficient=wood.c_tangential, fsp=wood.fsp)
    return MoistGap(
        read=read,
        planned=year.day,
        laid=laid,
        dry=laid - width_change(board, start=read, finish=year.dry),
        wet=laid - width_change(board, start=read, finish=year.wet),
        advised=planned_gap - width_change(board, start=year.day, finish=read),
    )
