"""What to order: sticks by section and length, boxes of fixings, litres, footings, hangers; each with its price."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check, Verdict
from evenfoot.cutting import told
from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.estimate.model import Built, CoatLine, Fixing, Money, OrderLine
from evenfoot.estimate.money import NOTHING, money
from evenfoot.frame import JointKind
from evenfoot.job import Job, Shop, kinds
from evenfoot.tables import fasteners

_HANGER = "hanger"


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What the order is made from."""

    job: Job
    shop: Shop
    built: Built
    fixings: tuple[Fixing, ...]
    coats: tuple[CoatLine, ...]


def order_lines(needs: Needs) -> tuple[OrderLine, ...]:
    """Return every line of the order: timber, rack, fixings, finish, footings, hangers."""
    return (
        *_timber(needs),
        *_fixing_lines(needs),
        *_finish(needs),
        *_footings(needs),
        *_hangers(needs),
    )


def price_checks(lines: Sequence[OrderLine]) -> tuple[Check, ...]:
    """Return one finding for every line that has no price: the total is too low by it."""
    return tuple(
        Check(
            subject=line.kind,
            rule="price-missing",
            verdict=Verdict.NOT_CHECKED,
            reason="no-price-on-record",
            remedy="write-price",
            facts=(("kind_code", f"order.{line.kind}"), ("label", f"{_name(line)} × {line.quantity:g}".strip())),
        )
        for line in lines
        if not line.is_priced
    )


def _name(line: OrderLine) -> str:
    """Return what the yard calls a line; nothing where its kind says it all."""
    if line.section is None:
        return line.label if line.kind == "fixing" else ""
    return line.label or "x".join(f"{side:g}" for side in line.section)


def _timber(needs: Needs) -> Iterator[OrderLine]:
    """Give the sticks, those in hand and from the rack first; a stick in hand at what its length costs new."""
    for line in told.bought(needs.built.cutting.sections):
        yield OrderLine(
            kind="timber" if line.kind == "yard" else line.kind,
            label=line.label,
            species=line.species,
            section=line.section,
            length=line.length,
            quantity=line.quantity,
            unit="piece",
            price=money(line.low, line.high, needs.shop.currency),
            look=line.look,
            is_priced=line.kind == "rack" or line.high > 0,
            planed=line.planed,
            sold_by=line.unit,
            amount=line.amount,
        )


def _fixing_lines(needs: Needs) -> Iterator[OrderLine]:
    counts: Counter[str] = Counter()
    for fixing in needs.fixings:
        counts[fixing.mark] += fixing.count
    order = [f.mark for f in fasteners.all_fasteners()]
    for mark in sorted((m for m, n in counts.items() if n), key=order.index):
        yield _boxed(needs.shop, mark, counts[mark], kind="fixing", label=mark)


def _hangers(needs: Needs) -> Iterator[OrderLine]:
    count = sum(1 for joint in needs.built.frame.joints if joint.kind is JointKind.HANGER)
    if count:
        yield _boxed(needs.shop, _HANGER, count, kind=_HANGER, label="order.hanger")


def _boxed(shop: Shop, mark: str, count: int, *, kind: str, label: str) -> OrderLine:
    """Return a line by the box; by the piece, and without a price, where the shop has none on record."""
    item = next((i for i in shop.fixings if i.mark == mark), None)
    if item is None:
        return _line(kind, label, (count, "piece"), NOTHING, is_priced=False)
    if item.per_box < 1:
        raise OutOfRangeError(
            Fault(where=f"{item.where}.per_box", code="box-of-none", found=str(item.per_box), allowed="1", nearest="1")
        )
    boxes = math.ceil(count / item.per_box)
    pieces = boxes * item.per_box if item.price.by is kinds.PriceBy.PIECE else boxes
    price = money(item.price.low * pieces, item.price.high * pieces, shop.currency)
    return _line(kind, label, (boxes, "box"), price, is_priced=price.high > 0)


def _finish(needs: Needs) -> Iterator[OrderLine]:
    """Give the line of finish: whole litres, enough for the thirstiest wood."""
    low = math.ceil(round(math.fsum(c.litres_low for c in needs.coats), 6))
    high = math.ceil(round(math.fsum(c.litres_high for c in needs.coats), 6))
    if high:
        litre = needs.shop.coating
        price = money(litre.low * low, litre.high * high, needs.shop.currency)
        label = f"finish.{needs.job.finish.kind}"
        yield _line("coating", label, (high, "litre"), price, is_priced=litre.high > 0)


def _footings(needs: Needs) -> Iterator[OrderLine]:
    count = sum(cut.is_cut for cut in needs.built.posts.cuts)
    if count:
        each = needs.shop.footing
        price = money(each.low * count, each.high * count, needs.shop.currency)
        label = f"footing.{needs.job.frame.footing.kind}"
        yield _line("footing", label, (count, "piece"), price, is_priced=each.high > Decimal(0))


def _line(kind: str, label: str, amount: tuple[int, str], price: Money, *, is_priced: bool) -> OrderLine:
    return OrderLine(
        kind=kind,
        label=label,
        species="",
        section=None,
        length=None,
        quantity=amount[0],
        unit=amount[1],
        price=price,
        is_priced=is_priced,
    )
