"""What to order, what to coat, how long it takes and what it costs, as ranges where the inputs are ranges."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.cutting import CuttingPlan
from evenfoot.frame import Frame
from evenfoot.joints import Joinery
from evenfoot.layout import Layout
from evenfoot.posts import Posts
from evenfoot.timber import Timber


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """A range of money in the shop's currency."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line for the supplier. ``kind`` is timber, fixing, coating, footing or hanger; ``label`` as the yard says it."""

    kind: str
    label: str
    species: str
    section: tuple[float, float] | None
    length: float | None
    quantity: float
    unit: str
    price: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """One kind of connection and its nails or screws [mm]."""

    use: str
    """Code of the connection: board-joist, lap, post-head, block, hanger."""
    mark: str
    kind: str
    length: float
    shank: float
    per_crossing: int
    crossings: int
    count: int
    pilot: float
    """Diameter of the pilot hole [mm]; 0 = none."""
    end_distance: float
    edge_distance: float
    spacing: float
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatLine:
    """Area and finish for one group of faces and one coat. Litres as a range."""

    face: str
    """Code: hidden, seen, end-grain."""
    coat: int
    area: float
    """m2."""
    litres_low: float
    litres_high: float
    when: str
    """Code: before-assembly or after-laying."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Hours for one kind of work (person-hours): low, typical, high."""

    task: str
    quantity: float
    unit: str
    low: float
    typical: float
    high: float
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """The price and what it is made of."""

    currency: str
    order: tuple[OrderLine, ...]
    fixings: tuple[Fixing, ...]
    coats: tuple[CoatLine, ...]
    work: tuple[Work, ...]
    material: Money
    labour: Money
    overhead: Money
    tax: Money
    total: Money
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """What the rooms before this one have settled, handed over together."""

    layout: Layout
    frame: Frame
    joinery: Joinery
    posts: Posts
    timber: Timber
    cutting: CuttingPlan
