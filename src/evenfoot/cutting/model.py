"""What to cut from which stick, and the proof that no cheaper plan exists."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.job import kinds

Stretch = tuple[float, float]
"""From where to where along a stick [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece wanted: planed section of its stick, length as cut from it [mm]; ``use`` is a code (board, joist)."""

    mark: str
    use: str
    species: str
    look: kinds.Look
    strength_grade: str
    width: float
    depth: float
    length: float
    rip_width: float | None = None
    """Finished width where it is ripped narrower than its stick [mm]."""
    place: str = ""
    """Where it goes, as a row of boards or a line of joists; pieces for one place may be wanted from one stick."""
    is_clear: bool = False
    """Whether a face of it is seen, so that it must lie clear of flaws."""
    is_spare: bool = False
    supports: tuple[tuple[float, str], ...] = ()
    """What it rests on: distance from its named end [mm] and mark."""
    halves: tuple[Piece, ...] = ()
    """The two pieces that are ripped from this length, where it stands for two; the plan sets it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rip:
    """A piece sawn along the grain from its length of stick [mm]."""

    mark: str
    length: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """A piece on its stick, between running dimensions from the cleaner end [mm] (trim and kerfs included).

    ``rips`` are the one or two pieces that are ripped from this length; the first has its mark.
    """

    mark: str
    begin: float
    finish: float
    rips: tuple[Rip, ...] = ()
    is_done: bool = False
    """Whether it is sawn already."""

    @property
    def marks(self) -> tuple[str, ...]:
        """The marks of all pieces that come from this length."""
        return tuple(rip.mark for rip in self.rips) or (self.mark,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One stick and what is cut from it, in the order of the saw from the cleaner end.

    ``source`` is ``yard`` (to buy), ``rack`` (an offcut) or ``hand`` (delivered and measured).
    """

    source: str
    length: float
    cuts: tuple[PlacedCut, ...]
    left_over: float
    """Longest clear length left after the last kerf, end trim taken off [mm]; 0 when nothing usable."""
    is_kept: bool
    """Whether what is left is long enough to go to the rack."""
    cost_low: Decimal
    cost_high: Decimal
    where: str = ""
    """The yard's section or the offcut in the shop or job file."""
    name: str = ""
    """What is written on a stick that was measured."""
    bad: tuple[Stretch, ...] = ()
    flaws: tuple[Stretch, ...] = ()
    rests: tuple[Stretch, ...] = ()
    """All clear lengths that are left [mm]."""
    kept: tuple[Stretch, ...] = ()
    """Those of them that go to the rack [mm]."""
    kept_worth: Decimal = Decimal(0)
    """What the kept offcuts count for; taken off the cost of the plan, not off the order."""
    new_low: Decimal = Decimal(0)
    """What the same length costs new, for a stick that is not bought now."""
    new_high: Decimal = Decimal(0)

    @property
    def used(self) -> float:
        """All pieces on it end to end, kerfs left out [mm]."""
        return math.fsum(cut.finish - cut.begin for cut in self.cuts)

    @property
    def kept_length(self) -> float:
        """All that goes to the rack, end to end [mm]."""
        return math.fsum(b - a for a, b in self.kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPlan:
    """The plan for one section of one species, as bought in one look. Cost in the shop's currency at the low price.

    Pieces of one species, planed section and strength grade are planned together, since a better look may stand
    in for a lesser one. Where such a plan buys more than one look (or sawn section), it is told in several
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
    """What is paid, less what the kept offcuts count for."""
    bound: Decimal
    """No plan costs less than this."""
    is_proved: bool
    net_length: float
    """All pieces end to end [mm]."""
    bought_length: float
    """All sticks end to end, those from the rack too [mm]."""
    strength_grade: str = "ungraded"
    sold_by: str = "piece"
    """What the yard counts: piece, m or m3."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DonePiece:
    """A piece that is sawn already, as it was measured [mm]."""

    mark: str
    length: float
    stick: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """All sections; ``checks`` name pieces that no stock can give, with the nearest design change.

    ``pieces`` are all that were asked for; ``left_out`` those among them that stand on no stick, ``done`` those that
    are sawn already. ``idle`` are sticks in hand that nothing more is cut from.
    """

    pieces: tuple[Piece, ...]
    sections: tuple[SectionPlan, ...]
    checks: tuple[Check, ...]
    left_out: tuple[Piece, ...] = ()
    done: tuple[DonePiece, ...] = ()
    idle: tuple[Stick, ...] = ()
