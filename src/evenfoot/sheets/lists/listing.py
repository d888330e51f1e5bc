"""A list of things, once: the same rows go onto the sheets and into the workbook."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from evenfoot.checks import Verdict
from evenfoot.ink import Column, Table
from evenfoot.sheets.figures import Figures

Value = str | float | int | Decimal | Verdict | None
SHAPES = {
    Verdict.OK: "○",
    Verdict.FAILS: "▲",
    Verdict.OUTSIDE_RULE: "◇",
    Verdict.NOT_CHECKED: "□",
}
"""Verdicts differ by shape and word before they differ by colour."""


class Kind(StrEnum):
    """What a column holds, and so how it is written and lined up."""

    TEXT = "text"
    MARK = "mark"
    LENGTH = "length"
    CUT = "cut"
    KEY = "key"
    """A length to cut that the list is for; written boldly."""
    COUNT = "count"
    NUMBER = "number"
    MONEY = "money"
    VERDICT = "verdict"


LENGTHS = frozenset({Kind.LENGTH, Kind.CUT, Kind.KEY})
NUMERIC = frozenset({Kind.LENGTH, Kind.CUT, Kind.KEY, Kind.COUNT, Kind.NUMBER, Kind.MONEY})


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One column: the code of its heading and what it holds; lengths are mm. ``most`` is its widest on paper [mm]."""

    code: str
    kind: Kind = Kind.TEXT
    most: float = 150.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """Rows under fields. ``code`` names it; its title is ``sheet-table.<code>``."""

    code: str
    fields: tuple[Field, ...]
    rows: tuple[tuple[Value, ...], ...]

    def title(self, figures: Figures) -> str:
        """Return its title in words."""
        return figures.speaker.say(f"sheet-table.{self.code}")

    def headings(self, figures: Figures) -> tuple[str, ...]:
        """Return the headings of the columns as they stand on a sheet."""
        return tuple(figures.speaker.say(f"sheet-field.{f.code}") for f in self.fields)

    def cells(self, row: tuple[Value, ...], figures: Figures) -> tuple[str, ...]:
        """Return one row as it is written on a sheet."""
        return tuple(written(value, f.kind, figures) for value, f in zip(row, self.fields, strict=True))

    def trimmed(self) -> Listing:
        """Return the same list without columns that hold nothing; the first always stays."""
        kept = [
            index
            for index in range(len(self.fields))
            if index == 0 or any(row[index] not in {None, ""} for row in self.rows)
        ]
        return Listing(
            code=self.code,
            fields=tuple(self.fields[i] for i in kept),
            rows=tuple(tuple(row[i] for i in kept) for row in self.rows),
        )

    def table(self, figures: Figures) -> Table:
        """Return the rows for the workbook: lengths as numbers in mm, and in the job's unit where that is another."""
        columns: list[Column] = []
        picks: list[tuple[int, str]] = []
        for index, (field, heading) in enumerate(zip(self.fields, self.headings(figures), strict=True)):
            is_length = field.kind in LENGTHS
            if is_length and figures.speaker.unit != "mm":
                columns.append(Column(title=heading))
                picks.append((index, "said"))
            columns.append(Column(title=f"{heading} mm" if is_length else heading, kind=_column_kind(field.kind)))
            picks.append((index, "value"))
        rows = tuple(tuple(self._value(row, index, how, figures) for index, how in picks) for row in self.rows)
        return Table(code=self.code, title=self.title(figures), columns=tuple(columns), rows=rows)

    def _value(self, row: tuple[Value, ...], index: int, how: str, figures: Figures) -> str | float | None:
        value, kind = row[index], self.fields[index].kind
        if value is None:
            return None
        if how == "said" or isinstance(value, str | Verdict):
            return written(value, kind, figures)
        return float(value)


def written(value: Value, kind: Kind, figures: Figures) -> str:
    """Return one value as it is written on a sheet."""
    if value is None:
        return "–"
    if isinstance(value, Verdict):
        return f"{SHAPES[value]} {figures.speaker.say(f'verdict.{value.value}')}"
    if isinstance(value, str):
        return figures.mark(value) if kind is Kind.MARK else value
    return _figure(value, kind, figures)


def _figure(value: float | Decimal, kind: Kind, figures: Figures) -> str:
    """Return a number; money is rounded to its currency's smallest coin and keeps all its places."""
    if isinstance(value, Decimal):
        return f"{value:,f}"
    if kind is Kind.LENGTH:
        return figures.length(value)
    if kind in {Kind.CUT, Kind.KEY}:
        return figures.cut(value)
    return figures.number(value, 2)


def _column_kind(kind: Kind) -> str:
    names = {Kind.COUNT: "count", Kind.NUMBER: "number", Kind.MONEY: "money"}
    return "length" if kind in LENGTHS else names.get(kind, "text")
