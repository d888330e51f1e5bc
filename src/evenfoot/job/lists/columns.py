"""What a cell may hold, column by column, and how every fault of a list is found with its line and column."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.errors import EvenfootError, Fault, JobFileError, OutOfRangeError
from evenfoot.job.file.fields import nearest_word
from evenfoot.job.lists.grid import Cell, Row, rows_of
from evenfoot.units import format_exact, parse_length

LONGEST = 40
Read = Callable[[str, str], Any]
"""Reads a cell; the second text is the unit of a bare length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: how its cells are read, and what an empty one or a missing column stands for."""

    read: Read
    default: Any = None
    is_needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row, read: its values by column and the number of its line."""

    values: Mapping[str, Any]
    number: int

    def __getitem__(self, name: str) -> Any:  # noqa: ANN401 - a value of any column
        """Return the value of a column."""
        return self.values[name]


def read_table(text: str, columns: Mapping[str, Column], *, where: str, kind: str, unit: str) -> tuple[Line, ...]:
    """Return the rows of a list of a ``kind`` (pieces, sticks) under the columns that its first row names.

    Raises: JobFileError with every fault: unknown, missing and doubled columns, then every cell that cannot be read.
    """
    head, *body = rows_of(text, where=where)
    names = _names(head, columns, where=where, kind=kind)
    if not body:
        raise JobFileError(Fault(where=where, code="csv-empty", line=head[0].line, column=1))
    faults: list[Fault] = []
    lines = [_line(row, names, columns, (where, unit), faults) for row in body]
    if faults:
        raise JobFileError(*faults)
    return tuple(lines)


def _names(head: Row, columns: Mapping[str, Column], *, where: str, kind: str) -> list[str]:
    others = {other: name for name, other in _japanese()[kind].items()}
    faults: list[Fault] = []
    names: list[str] = []
    for cell in head:
        word = cell.text.strip().lower().replace(" ", "_").replace("-", "_")
        name = others.get(cell.text.strip(), word)
        if name not in columns:
            near = nearest_word(word, columns) if word else ""
            allowed = ", ".join(columns)
            faults.append(_fault(where, cell, Fault(where="", code="column-unknown", allowed=allowed, nearest=near)))
        elif name in names:
            faults.append(_fault(where, cell, Fault(where="", code="column-twice", found=name)))
        names.append(name)
    for name, column in columns.items():
        if column.is_needed and name not in names:
            close = difflib.get_close_matches(name, [n for n in names if n not in columns], n=1, cutoff=0.75)
            if not close:  # else the misspelt one is told already
                faults.append(_fault(where, head[0], Fault(where="", code="column-missing", allowed=name)))
    if faults:
        raise JobFileError(*faults)
    return names


def _line(
    row: Row, names: Sequence[str], columns: Mapping[str, Column], at: tuple[str, str], faults: list[Fault]
) -> Line:
    where, unit = at
    values = {name: column.default for name, column in columns.items()}
    for cell in row[len(names) :]:
        if cell.text:
            fault = Fault(where="", code="csv-row-long", allowed=str(len(names)))
            faults.append(_fault(where, cell, fault))
    found = dict(zip(names, row, strict=False))
    for name, column in columns.items():
        place = found.get(name) or Cell("", row[0].line, row[0].column)
        if not place.text:
            if column.is_needed:
                faults.append(_fault(f"{where}, {name}", place, Fault(where="", code="key-missing", allowed=name)))
            continue
        try:
            values[name] = column.read(place.text, unit)
        except EvenfootError as error:
            faults += [_fault(f"{where}, {name}", place, one) for one in error.faults]
    return Line(values=values, number=row[0].line)


def _fault(where: str, cell: Cell, fault: Fault) -> Fault:
    found = fault.found or cell.text[:60]
    return replace(fault, where=where, found=found, line=cell.line, column=cell.column)


@cache
def _japanese() -> Mapping[str, Mapping[str, str]]:
    text = (files("evenfoot.job") / "data" / "list-columns.toml").read_text(encoding="utf-8")
    names: Mapping[str, Mapping[str, str]] = tomllib.loads(text)
    return names


def length(*, low: float, high: float) -> Read:
    """Return the reader of a length from ``low`` to ``high`` [mm]."""

    def read(text: str, unit: str) -> float:
        mm = float(parse_length(text, unit=unit))
        if not low <= mm <= high:
            allowed = f"{_said(low, unit)} … {_said(high, unit)}"
            code, near = ("too-small", low) if mm < low else ("too-large", high)
            raise OutOfRangeError(Fault(where="", code=code, found=text, allowed=allowed, nearest=_said(near, unit)))
        return mm

    return read


def _said(mm: float, unit: str) -> str:
    return format_exact(Fraction(str(mm)), unit=unit)


def whole(*, low: int, high: int) -> Read:
    """Return the reader of a whole number."""

    def read(text: str, _: str) -> int:
        if not re.fullmatch(r"[+-]?\d{1,12}", text):
            raise OutOfRangeError(Fault(where="", code="not-whole", found=text))
        value = int(text)
        if not low <= value <= high:
            code, near = ("too-small", low) if value < low else ("too-large", high)
            raise OutOfRangeError(Fault(where="", code=code, found=text, allowed=f"{low} … {high}", nearest=str(near)))
        return value

    return read


def amount(text: str, _: str) -> Decimal:
    """Return a sum of money, thousands set apart with blanks or underscores."""
    try:
        value = Decimal(re.sub(r"[ _]", "", text))
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite():
        raise OutOfRangeError(Fault(where="", code="not-a-figure", found=text))
    if not 0 <= value <= 10**9:
        code, near = ("too-small", "0") if value < 0 else ("too-large", "1000000000")
        raise OutOfRangeError(Fault(where="", code=code, found=text, allowed="0 … 1000000000", nearest=near))
    return value


def word(*words: str) -> Read:
    """Return the reader of one word of a closed list."""

    def read(text: str, _: str) -> str:
        said = text.lower()
        if said not in words:
            near = nearest_word(said, words)
            raise OutOfRangeError(
                Fault(where="", code="not-a-choice", found=text, allowed=", ".join(words), nearest=near)
            )
        return said

    return read


def yes_no(text: str, _: str) -> bool:
    """Return whether a cell says yes."""
    return bool(word("yes", "no")(text, "") == "yes")


def label(text: str, _: str) -> str:
    """Return a short text on one line."""
    if len(text) > LONGEST or not text.isprintable():
        raise OutOfRangeError(Fault(where="", code="text-unfit", found=text[:60], allowed=f"1 … {LONGEST}"))
    return text


def labels(text: str, _: str) -> tuple[str, ...]:
    """Return several short texts from ``sugi | c24``."""
    return tuple(label(part.strip(), "") for part in text.split("|") if part.strip())


def stretches(text: str, unit: str) -> tuple[tuple[float, float], ...]:
    """Return stretches along a stick [mm] from ``800 .. 950 | 2100 .. 2160``."""
    made: list[tuple[float, float]] = []
    for part in text.split("|"):
        ends = [float(parse_length(end, unit=unit)) for end in part.split("..")] if ".." in part else []
        if len(ends) != 2:
            raise OutOfRangeError(
                Fault(where="", code="stretch-unread", found=text[:60], allowed="800 .. 950 | 2100 .. 2160")
            )
        if ends[0] >= ends[1] or ends[0] < 0:
            turned = f"{min(map(abs, ends)):g} .. {max(map(abs, ends)):g}"
            raise OutOfRangeError(Fault(where="", code="range-reversed", found=part.strip(), nearest=turned))
        made.append((ends[0], ends[1]))
    return tuple(sorted(made))


def lengths(text: str, unit: str) -> tuple[float, ...]:
    """Return places along a piece [mm] from ``0 | 1820 | 3640``."""
    return tuple(sorted(float(parse_length(part, unit=unit)) for part in text.split("|")))
