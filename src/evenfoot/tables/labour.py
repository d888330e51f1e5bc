"""What is on record about work: hours for one unit of each task, as a range; and how money is rounded."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Person-hours for one ``unit`` of a task; ``hardwood`` multiplies them in dense wood [-].

    ``is_confirmed`` speaks for the typical value; the low and high ends are ours.
    """

    task: str
    unit: str
    low: float
    typical: float
    high: float
    hardwood: float
    source: str
    is_confirmed: bool


@cache
def rates() -> tuple[Rate, ...]:
    """Return every rate on record, in the order of the table."""
    return tuple(
        Rate(
            task=row["task"],
            unit=row["unit"],
            low=float(row["hours_low"]),
            typical=float(row["hours_typical"]),
            high=float(row["hours_high"]),
            hardwood=float(row["hardwood_factor"]),
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in csv.DictReader(_text("labour.csv").splitlines())
    )


@cache
def rate(task: str) -> Rate:
    """Return the rate of a task.

    Raises: OutOfRangeError (``task-unknown``) when it is not on record; the fault lists the tasks.
    """
    for one in rates():
        if one.task == task:
            return one
    raise OutOfRangeError(
        Fault(where="task", code="task-unknown", found=task, allowed=", ".join(r.task for r in rates()))
    )


@cache
def currency_decimals(currency: str) -> int:
    """Return how many decimals an amount in this currency (ISO 4217 code) is rounded to; 2 unless the table says else.

    Raises: OutOfRangeError (``currency-unknown``) when the code is not three capital letters.
    """
    if not (len(currency) == 3 and currency.isascii() and currency.isalpha() and currency.isupper()):
        raise OutOfRangeError(
            Fault(where="currency", code="currency-unknown", found=currency, allowed="ISO 4217", nearest="JPY")
        )
    decimals = {row["currency"]: int(row["decimals"]) for row in csv.DictReader(_text("currency.csv").splitlines())}
    return decimals.get(currency, 2)


def _text(name: str) -> str:
    return (files("evenfoot.tables") / "data" / name).read_text(encoding="utf-8")
