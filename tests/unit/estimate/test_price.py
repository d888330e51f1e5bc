"""Money: every total is the sum of its lines, rounded openly."""

from __future__ import annotations

import sys
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import make_built, make_job, make_shop, price, section, stick

from evenfoot.errors import OutOfRangeError
from evenfoot.estimate import price_job
from evenfoot.estimate.money import hours, rounded


def priced(**changes):
    job = make_job()
    sticks = section(stick(4000.0, "3333.335", 1200.0), stick(3000.0, "2100.5", 2900.0, high="2199.25"))
    return price_job(job, make_shop(**changes), make_built(job, sticks))


@pytest.mark.parametrize("currency", ["JPY", "EUR"])
def test_totals_are_the_sum_of_their_lines(currency):
    e = priced(currency=currency)
    for end in ("low", "high"):
        assert sum(getattr(line.price, end) for line in e.order) == getattr(e.material, end)
        parts = (getattr(part, end) for part in (e.material, e.labour, e.overhead, e.tax))
        assert sum(parts) == getattr(e.total, end)


@pytest.mark.parametrize(("currency", "step"), [("JPY", Decimal(1)), ("EUR", Decimal("0.01"))])
def test_no_amount_is_finer_than_the_currency(currency, step):
    e = priced(currency=currency)
    for amount in (*(line.price for line in e.order), e.material, e.labour, e.overhead, e.tax, e.total):
        assert amount.low % step == 0
        assert amount.high % step == 0
        assert amount.low <= amount.high


def test_overhead_and_tax_are_reckoned_on_what_stands_before_them():
    e = priced()
    for end in ("low", "high"):
        before = getattr(e.material, end) + getattr(e.labour, end)
        overhead = (before * Decimal("0.15")).quantize(Decimal(1), rounding=ROUND_HALF_UP)
        tax = ((before + overhead) * Decimal("0.10")).quantize(Decimal(1), rounding=ROUND_HALF_UP)
        assert (getattr(e.overhead, end), getattr(e.tax, end)) == (overhead, tax)


def test_labour_is_hours_times_the_price_of_an_hour():
    e = priced(hour=price("3111", "3777", "hour"))
    low = sum(Decimal(str(w.low)).quantize(Decimal("0.001"), rounding=ROUND_HALF_UP) for w in e.work)
    high = sum(Decimal(str(w.high)).quantize(Decimal("0.001"), rounding=ROUND_HALF_UP) for w in e.work)
    assert e.labour.low == (low * 3111).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    assert e.labour.high == (high * 3777).quantize(Decimal(1), rounding=ROUND_HALF_UP)


def test_halves_are_rounded_up():
    assert rounded(Decimal("0.5"), "JPY") == 1
    assert rounded(Decimal("2.5"), "JPY") == 3
    assert rounded(Decimal("2.4999"), "JPY") == 2
    assert rounded(Decimal("1.005"), "EUR") == Decimal("1.01")
    assert hours(0.0125) == Decimal("0.013")


def test_a_currency_that_is_none_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        priced(currency="yen")
    assert (caught.value.fault.where, caught.value.fault.code, caught.value.fault.found) == (
        "shop.currency",
        "currency-unknown",
        "yen",
    )


def test_the_same_job_gives_the_same_estimate():
    assert priced() == priced()
