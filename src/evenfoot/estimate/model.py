"""What to order, what to coat, how long it takes and what it costs, as ranges where the inputs are ranges."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.cutting import CuttingPlan
from evenfoot.frame import Frame
from evenfoot.job import kinds
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
    """One line of what the job takes. ``kind``: timber, fixing, coating, footing, hanger, rack and hand (not ordered).

    ``label`` is the yard's or maker's own name of timber and fixings, a code of the catalogue for everything else.
    ``section`` is what is bought, ``length`` one stick [mm]. A line that ``is_priced`` False has no price on record:
    its money is nothing and a check says so.
    """

    kind: str
    label: str
    species: str
    section: tuple[float, float] | None
    length: float | None
    quantity: float
    unit: str
    price: Money
    look: kinds.Look | None = None
    is_priced: bool = True
    planed: tuple[float, float] | None = None
    """Section once it is planed; the same as ``section`` where it is bought so [mm]."""
    sold_by: str = ""
    """What the yard counts sticks in: piece, m or m3."""
    amount: float = 0.0
    """How much of that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """One kind of connection and its nails or screws [mm]; the distances are the least to keep."""

    use: str
    """Code of the connection: board-joist, lap, bearing, housing, butt, post-head, block."""
    mark: str
    kind: str
    length: float
    shank: float
    per_crossing: int
    crossings: int
    count: int
    pilot: float
    """Diameter of the pilot hole at every place [mm]; 0 = only near ends and edges."""
    end_distance: float
    edge_distance: float
    spacing: float
    """Least distance to the next one along the grain [mm]."""
    source: str
    is_confirmed: bool
    pilot_near: float = 0.0
    """Diameter of the pilot hole near an end or edge [mm]."""
    metal: str = ""
    """Code: stainless or steel."""
    set_in: float = 0.0
    """Board screws: where they go, from the edge of a whole board [mm]; 0 for everything else."""


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
