"""A table with dates as a calendar file (iCalendar, RFC 5545) of whole days."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import date, timedelta

from evenfoot.ink import Table

_FOLD = 75
"""Longest line [octets] (RFC 5545, 3.1)."""


def calendar_of(table: Table, *, title: str) -> bytes:
    """Return one entry per row: from its first date to its last; its first text is the name, the rest the note.

    Rows without a date are left out. Equal tables give equal bytes: stamps come from the dates in the table.
    """
    dated = [k for k, c in enumerate(table.columns) if c.kind == "date"]
    assert dated, f"{table.code}: a calendar needs a column of dates"
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Evenfoot//Evenfoot//EN", f"X-WR-CALNAME:{_escape(title)}"]
    for row in table.rows:
        days = [str(row[k]) for k in dated if row[k]]
        if days:
            lines += _entry(table, row, days, title)
    lines.append("END:VCALENDAR")
    return "".join(part for line in lines for part in _folded(line)).encode()


def _entry(table: Table, row: tuple[str | float | None, ...], days: list[str], title: str) -> list[str]:
    first, last = date.fromisoformat(days[0]), date.fromisoformat(days[-1])
    assert first <= last, f"{table.code}: an entry ends before it begins"
    texts = [
        (column.title, cell)
        for column, cell in zip(table.columns, row, strict=True)
        if column.kind != "date" and cell not in {None, ""}
    ]
    name = next((str(cell) for _, cell in texts if isinstance(cell, str)), table.title)
    note = "\n".join(f"{head}: {cell}" for head, cell in texts if cell != name)
    identity = hashlib.sha256(repr((table.code, title, row)).encode()).hexdigest()[:32]
    return [
        "BEGIN:VEVENT",
        f"UID:{identity}@evenfoot",
        f"DTSTAMP:{first:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{last + timedelta(days=1):%Y%m%d}",
        f"SUMMARY:{_escape(name)}",
        f"DESCRIPTION:{_escape(note)}",
        "END:VEVENT",
    ]


def _escape(text: str) -> str:
    """Return a text as RFC 5545, 3.3.11 writes it."""
    for plain, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, written)
    return text


def _folded(line: str) -> Iterator[str]:
    """Yield a line in parts of at most 75 octets, never inside a character; later parts start with a space."""
    part, size = "", 0
    for character in line:
        width = len(character.encode())
        if size + width > _FOLD:
            yield part + "\r\n"
            part, size = " ", 1
        part += character
        size += width
    yield part + "\r\n"
