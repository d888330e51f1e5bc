"""Published and hand-worked figures of North American practice against the public rules, as printed."""

from __future__ import annotations

import csv
import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from us_quantities import QUANTITIES

HERE = Path(__file__).parent


def rows(name):
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_last_digit(printed: str) -> float:
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0 ** min(exponent, 0) * (1.0 + 1e-7)


def number_or_text(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


@pytest.mark.parametrize("row", rows("worked.csv"), ids=lambda r: f"{r['id']}:{r['quantity']}:{r['expected']}")
def test_the_rules_give_the_printed_figure(row):
    inputs = {k: number_or_text(v) for k, v in (pair.split("=") for pair in row["inputs"].split())}
    found = QUANTITIES[row["quantity"]](inputs)
    tolerance = float(row["tolerance"]) if row["tolerance"] else half_last_digit(row["expected"])
    if row["tolerance"]:
        assert row["note"], "a wider tolerance needs its reason"
    assert abs(found - float(row["expected"])) <= tolerance
