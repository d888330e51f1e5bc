"""What a plan comes to: what to buy in the yard's own count, what is wasted, and what the bound still leaves open."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from evenfoot.cutting.model import SectionPlan, Stick
from evenfoot.job import kinds

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Sticks of one length and where they come from; ``kind`` is yard, rack or hand. Prices are of all of them."""

    kind: str
    label: str
    species: str
    look: kinds.Look
    section: tuple[float, float]
    """As bought: sawn; of the rack and in hand as it is [mm]."""
    planed: tuple[float, float]
    length: float
    quantity: int
    unit: str
    """What the yard counts: piece, m or m3."""
    amount: float
    """How much of that unit."""
    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Whether a plan is the best there is, as a code of the catalogue and what that still leaves open."""

    code: str
    gap: Decimal
    percent: str
    sticks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What a plan, or a section of it, comes to. Lengths [mm]."""

    sticks: int
    """Sticks to buy."""
    net_length: float
    """All pieces end to end, what is sawn already too."""
    bought_length: float
    """All sticks end to end, those of the rack and in hand too."""
    kept_length: float
    """Offcuts that go to the rack."""
    price_low: Decimal
    price_high: Decimal
    """What is to be paid at the yard."""
    kept_worth: Decimal
    """What the kept offcuts count for in the plan."""
    waste_cost: Decimal
    """The low price of the length that is wasted: kerfs, trims, and ends that are not kept."""
    cost: Decimal
    bound: Decimal
    is_proved: bool
    cheapest: Decimal
    """Low price of the cheapest stick that is bought; nothing when none is."""

    @property
    def waste_length(self) -> float:
        """What is neither a piece nor kept [mm]."""
        return self.bought_length - self.net_length - self.kept_length

    @property
    def waste_share(self) -> float:
        """The same as a share of all sticks [-]."""
        return self.waste_length / self.bought_length if self.bought_length else 0.0

    @property
    def gap(self) -> Decimal:
        """What a cheaper plan could save at most."""
        return self.cost - self.bound

    @property
    def gap_sticks(self) -> int:
        """How many of the cheapest sticks that is, rounded down."""
        return int(self.gap // self.cheapest) if self.cheapest else 0


def proof_of(tally: Tally) -> Proof:
    """Return what is proved: the plan is the best, or a cheaper one saves at most so much, in cheapest sticks."""
    if tally.is_proved:
        return Proof(code="cut.proved-best", gap=Decimal(0), percent="0", sticks=0)
    share = tally.gap / tally.cost if tally.cost else Decimal(0)
    code = "cut.gap-sticks" if tally.gap_sticks else "cut.gap-under-a-stick"
    return Proof(code=code, gap=tally.gap, percent=f"{float(share) * 100:.2g}", sticks=tally.gap_sticks)


def tally(sections: Iterable[SectionPlan]) -> Tally:
    """Return what sections come to together; proved when each is."""
    told = tuple(sections)
    sticks = [stick for section in told for stick in section.sticks]
    new = [stick for stick in sticks if stick.source == "yard"]
    return Tally(
        sticks=len(new),
        net_length=math.fsum(stick.used for stick in sticks),
        bought_length=math.fsum(stick.length for stick in sticks),
        kept_length=math.fsum(stick.kept_length for stick in sticks),
        price_low=sum((stick.cost_low for stick in new), Decimal(0)),
        price_high=sum((stick.cost_high for stick in new), Decimal(0)),
        kept_worth=sum((stick.kept_worth for stick in sticks), Decimal(0)),
        waste_cost=sum((_wasted(stick) for stick in sticks), Decimal(0)).quantize(CENT, rounding=ROUND_HALF_EVEN),
        cost=sum((section.cost for section in told), Decimal(0)),
        bound=sum((section.bound for section in told), Decimal(0)),
        is_proved=all(section.is_proved for section in told),
        cheapest=min((stick.cost_low for stick in new), default=Decimal(0)),
    )


def _wasted(stick: Stick) -> Decimal:
    paid = stick.new_low if stick.source == "hand" else stick.cost_low
    share = (stick.length - stick.used - stick.kept_length) / stick.length
    return paid * Decimal(repr(share))


def bought(sections: Sequence[SectionPlan]) -> tuple[Bought, ...]:
    """Return what to take, section by section, sticks in hand first, then the rack, then what is to buy, short first.

    A stick in hand is told at what its length costs new.
    """
    lines: list[Bought] = []
    for section in sections:
        groups: dict[tuple[str, float], list[Stick]] = {}
        for stick in section.sticks:
            groups.setdefault((stick.source, stick.length), []).append(stick)
        for (source, _), sticks in sorted(groups.items(), key=lambda item: (_ORDER.index(item[0][0]), item[0][1])):
            lines.append(_line(section, sticks, source))
    return tuple(lines)


_ORDER = ("hand", "rack", "yard")


def _line(section: SectionPlan, sticks: Sequence[Stick], source: str) -> Bought:
    is_new = source == "yard"
    sawn, planed = (section.rough_width, section.rough_depth), (section.width, section.depth)
    length = sticks[0].length
    unit = section.sold_by if is_new else "piece"
    each = {"m": length / 1000.0, "m3": sawn[0] * sawn[1] * length / 1e9}.get(unit, 1.0)
    is_hand = source == "hand"
    return Bought(
        kind=source,
        label=section.label,
        species=section.species,
        look=section.look,
        section=sawn if is_new else planed,
        planed=planed,
        length=length,
        quantity=len(sticks),
        unit=unit,
        amount=each * len(sticks),
        low=sum((s.new_low if is_hand else s.cost_low for s in sticks), Decimal(0)),
        high=sum((s.new_high if is_hand else s.cost_high for s in sticks), Decimal(0)),
    )
