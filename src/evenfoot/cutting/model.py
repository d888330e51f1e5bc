"""What to cut from which stick, and the proof that no cheaper plan exists."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.job import kinds


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece wanted: finished section and length as cut from the stick [mm]; ``use`` is a code (board, joist)."""

    mark: str
    use: str
    species: str
    look: kinds.Look
    strength_grade: str
    width: float
    depth: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """A piece on its stick, between running dimensions from the cleaner end [mm] (trim and kerfs included)."""

    mark: str
    begin: float
    finish: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One stick and what is cut from it, longest first from the cleaner end. ``source`` is ``yard`` or ``rack``."""

    source: str
    length: float
    cuts: tuple[PlacedCut, ...]
    left_over: float
    """Length left after the last kerf, end trim taken off [mm]; 0 when nothing usable."""
    is_kept: bool
    """Whether what is left is long enough to go to the rack."""
    cost_low: Decimal
    cost_high: Decimal
    where: str = ""
    """The yard's section or the offcut in the shop or job file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPlan:
    """The plan for one section of one species, as bought in one look. Cost in the shop's currency at the low price.

    Pieces of one species, finished section and strength grade are planned together, since a better look may stand
    in for a lesser one. Where such a plan buys more than one look (or rough section), it is told in several
    ``SectionPlan``; ``is_proved`` and ``bound`` then hold for them together (their bounds add up to the bound of all).
    """

    species: str
    width: float
    depth: float
    rough_width: float
    rough_depth: float
    look: kinds.Look
    label: str
    sticks: tuple[Stick, ...]
    cost: Decimal
    bound: Decimal
    """No plan costs less than this."""
    is_proved: bool
    net_length: float
    """All pieces end to end [mm]."""
    bought_length: float
    """All sticks end to end, those from the rack too [mm]."""
    strength_grade: str = "ungraded"


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """All sections; ``checks`` name pieces that no stock can give, with the nearest design change.

    ``pieces`` are all that were asked for; ``left_out`` those among them that stand on no stick.
    """

    pieces: tuple[Piece, ...]
    sections: tuple[SectionPlan, ...]
    checks: tuple[Check, ...]
    left_out: tuple[Piece, ...] = ()
