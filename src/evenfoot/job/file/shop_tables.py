"""What each table of a shop file holds, key by key, as it is read before the shop is made."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema

from evenfoot.errors import Fault
from evenfoot.job import kinds
from evenfoot.job.file import sense
from evenfoot.job.file.common import Amount, Day, Grade, PriceSpan, Section, Species, StretchRow, Table, YesNo, row
from evenfoot.job.file.fields import Choice, Figure, Length, Text, Whole, fault
from evenfoot.job.file.tables import StockTable
from evenfoot.job.shop import GOALS

_CURRENCY = re.compile(r"[A-Z]{3}")


def _currency(value: Any) -> str:  # noqa: ANN401 - whatever the file holds
    if not isinstance(value, str) or not _CURRENCY.fullmatch(value):
        raise fault("not-a-currency", found=value, allowed="JPY, EUR, USD, CAD …")
    return value


def _share(value: Any) -> Decimal:  # noqa: ANN401 - whatever the file holds
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise fault("not-a-figure", found=value)
    if not Decimal(value).is_finite():
        raise fault("not-finite", found=value)
    if not 0 <= value <= 1:
        if value < 0:
            raise fault("too-small", found=value, allowed="0 … 1", nearest="0")
        nearest = str(Decimal(value) / 100) if value <= 100 else "1"  # 10 is meant as ten percent
        raise fault("too-large", found=value, allowed="0 … 1", nearest=nearest)
    return Decimal(value)


Currency = Annotated[str, BeforeValidator(_currency), WithJsonSchema({"type": "string", "pattern": "^[A-Z]{3}$"})]
Share = Annotated[Decimal, BeforeValidator(_share), WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1})]


MOST_WORTH = Decimal("0.9")
"""An offcut that counted for all of its price would make buying too much cost nothing."""


class SawTable(Table):
    """What the saw takes."""

    kerf: Annotated[Fraction, Length(low=0, high=20)] = Field(description="width of a cut")
    end_trim: Annotated[Fraction, Length(low=0, high=500)] = Field(description="cut off each end of a stick")
    keep: Annotated[Fraction, Length(low=0, high=10_000)] = Field(description="shortest offcut worth keeping")
    keep_worth: Share = Field(Decimal(0), description="what it counts for, as a share of its length bought new")
    goals: list[Annotated[kinds.CutGoal, Choice(kinds.CutGoal)]] = Field(
        list(GOALS), max_length=4, description="what decides between plans of one price, first to last"
    )

    def faults(self, say: sense.Say) -> Iterable[Fault]:  # noqa: ARG002
        """Return the goals that are given twice, and an offcut that counts for nearly as much as new timber."""
        if self.keep_worth > MOST_WORTH:
            allowed = f"0 … {MOST_WORTH}"
            found, near = str(self.keep_worth), str(MOST_WORTH)
            yield Fault(where="keep_worth", code="too-large", found=found, allowed=allowed, nearest=near)
        for index, goal in enumerate(self.goals):
            if goal in self.goals[:index]:
                first = f"goals[{self.goals.index(goal)}]"
                yield Fault(where=f"goals[{index}]", code="name-twice", found=str(goal), allowed=first)


class PriceTable(Table):
    """Prices of what is not timber."""

    hour: PriceSpan = Field(description="one person-hour")
    coating: PriceSpan = Field(description="one litre of finish")
    footing: PriceSpan = Field(description="one footing")


class RackTable(Table):
    """One offcut in the rack."""

    species: Species = Field(description="wood")
    look: Annotated[kinds.Look, Choice(kinds.Look)] = Field(description="appearance grade")
    strength_grade: Grade = Field("ungraded", description="strength grade, or ungraded")
    width: Section = Field(description="finished width")
    depth: Section = Field(description="finished depth")
    length: Annotated[Fraction, Length(above=0, high=30_000)] = Field(description="length")
    count: Annotated[int, Whole(low=1, high=10_000)] = Field(1, description="how many alike")
    clean_ends: Annotated[int, Whole(low=0, high=2)] = Field(0, description="ends that are square and clean")
    value: Amount = Field(Decimal(0), description="what using one costs")
    bad: list[Annotated[StretchRow, row("bad")]] = Field(
        [], max_length=50, description="rows [begin, finish] that nothing is cut from, from the cleaner end"
    )
    flaws: list[Annotated[StretchRow, row("flaws")]] = Field(
        [], max_length=50, description="rows [begin, finish] that must not show on a clear face"
    )

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return the stretches that are reversed or lie beyond the offcut."""
        for key in ("bad", "flaws"):
            yield from sense.stretches(getattr(self, key), key, self.length, say)


class FixingTable(Table):
    """One kind of nail or screw."""

    mark: Annotated[str, Text(longest=24)] = Field(description="mark in the table of nails and screws")
    per_box: Annotated[int, Whole(low=1, high=100_000)] = Field(description="pieces in a box")
    price: PriceSpan = Field(description="one box")
    asked_on: Day | None = Field(None, description="day that the price was asked")


class ShopFile(Table):
    """The whole shop file."""

    unit: Annotated[kinds.Unit, Choice(kinds.Unit)] = Field(description="unit of every bare length in this file")
    currency: Currency = Field(description="three letters of ISO 4217")
    tax: Share = Field(description="tax on the whole price, 0.10 is ten percent")
    overhead: Share = Field(description="overheads on material and labour")
    asked_on: Day | None = Field(None, description="day that prices without a day of their own were asked")
    sample: YesNo = Field(False, description="true when nobody was asked for these prices")  # noqa: FBT003
    saw: SawTable = Field(description="what the saw takes")
    price: PriceTable = Field(description="prices of what is not timber")
    stock: list[StockTable] = Field([], max_length=2000, description="timber that the yard sells")
    rack: list[RackTable] = Field([], max_length=2000, description="offcuts in the rack")
    fixing: list[FixingTable] = Field([], max_length=500, description="nails and screws")
    rates: dict[Annotated[str, Text(longest=60)], Annotated[Fraction, Figure(above=0, high=1000, unit="h")]] = Field(
        {}, description="learned hours per unit by task"
    )

    def faults(self, say: sense.Say) -> Iterable[Fault]:
        """Return where the keys disagree."""
        yield from sense.stock(self.stock, say)
        first: dict[str, int] = {}
        for index, item in enumerate(self.fixing):
            if item.mark in first:
                allowed = f"fixing[{first[item.mark]}]"
                yield Fault(where=f"fixing[{index}].mark", code="name-twice", found=item.mark, allowed=allowed)
            first.setdefault(item.mark, index)
