"""The price of a job and everything it is made of."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from evenfoot.errors import at
from evenfoot.estimate.coats import coat_lines
from evenfoot.estimate.faces import find_faces, total_faces
from evenfoot.estimate.fixing import choose_fixings
from evenfoot.estimate.model import Built, Estimate, Money, Work
from evenfoot.estimate.money import hours, money, share, total
from evenfoot.estimate.order import Needs, order_lines, price_checks
from evenfoot.estimate.work import Quantities, count_work
from evenfoot.job import Job, Shop
from evenfoot.tables import labour as labour_rates


def price_job(job: Job, shop: Shop, built: Built) -> Estimate:
    """Return the order, the fixings, the coats, the hours and the price of a job.

    The low end of every range is everything going well at the low price, the high end everything going badly at
    the high one. Every line and every sum is rounded to the currency, so that a total is the sum of what is printed.

    Raises: OutOfRangeError when the shop's currency is no ISO 4217 code or a box of fixings holds nothing.
    """
    with at("shop"):
        labour_rates.currency_decimals(shop.currency)
    chosen = choose_fixings(job, shop, built)
    coats = coat_lines(job, total_faces(find_faces(job, built)))
    needs = Needs(job=job, shop=shop, built=built, fixings=chosen.fixings, coats=coats)
    order = order_lines(needs)
    counted = count_work(Quantities(job=job, built=built, fixings=chosen.fixings, coats=coats), shop)
    material = total(line.price for line in order)
    labour = _labour(counted.work, shop)
    overhead = share(total((material, labour)), shop.overhead, shop.currency)
    tax = share(total((material, labour, overhead)), shop.tax, shop.currency)
    return Estimate(
        currency=shop.currency,
        order=order,
        fixings=chosen.fixings,
        coats=coats,
        work=counted.work,
        material=material,
        labour=labour,
        overhead=overhead,
        tax=tax,
        total=total((material, labour, overhead, tax)),
        checks=(*chosen.checks, *price_checks(order), *counted.checks),
    )


def _labour(work: Sequence[Work], shop: Shop) -> Money:
    low = sum((hours(one.low) for one in work), Decimal(0))
    high = sum((hours(one.high) for one in work), Decimal(0))
    return money(low * shop.hour.low, high * shop.hour.high, shop.currency)
