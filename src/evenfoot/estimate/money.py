"""Sums of money as ranges, rounded openly."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from evenfoot.estimate.model import Money
from evenfoot.tables import labour

NOTHING = Money(low=Decimal(0), high=Decimal(0))
_HOUR_STEP = Decimal("0.001")


def rounded(amount: Decimal, currency: str) -> Decimal:
    """Return an amount rounded to the currency's smallest unit, halves up.

    Raises: OutOfRangeError (``currency-unknown``) when the currency is no ISO 4217 code.
    """
    return amount.quantize(Decimal(1).scaleb(-labour.currency_decimals(currency)), rounding=ROUND_HALF_UP)


def money(low: Decimal, high: Decimal, currency: str) -> Money:
    """Return a range with both ends rounded."""
    return Money(low=rounded(low, currency), high=rounded(high, currency))


def total(parts: Iterable[Money]) -> Money:
    """Return the exact sum of ranges, end by end."""
    whole = tuple(parts)
    return Money(low=sum((p.low for p in whole), Decimal(0)), high=sum((p.high for p in whole), Decimal(0)))


def share(base: Money, part: Decimal, currency: str) -> Money:
    """Return a share of a range, rounded."""
    return money(base.low * part, base.high * part, currency)


def hours(value: float) -> Decimal:
    """Return hours as an exact decimal, to a thousandth of an hour."""
    return Decimal(str(value)).quantize(_HOUR_STEP, rounding=ROUND_HALF_UP)
