"""A comma-separated text as rows of cells, each of which knows its line and column (RFC 4180)."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.errors import Fault, JobFileError

SEPARATORS = ",;\t"
"""What may stand between cells: the one that the first line has most of."""
MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class Cell:
    """The text between two separators, and where it begins; lines and columns count from 1."""

    text: str
    line: int
    column: int


Row = tuple[Cell, ...]


def rows_of(text: str, *, where: str) -> tuple[Row, ...]:
    """Return the rows that hold anything, cells without the blanks around them; a row never runs over a line's end.

    A line that begins with ``#`` is a remark.
    Raises: JobFileError ``csv-empty``, ``csv-quote-open``, ``csv-too-many-rows``; all faults of the text.
    """
    lines = text.lstrip("\ufeff").splitlines()
    written = [(n, line) for n, line in enumerate(lines, start=1) if line.strip() and not line.lstrip().startswith("#")]
    if not written:
        raise JobFileError(Fault(where=where, code="csv-empty", line=1, column=1))
    if len(written) > MOST_ROWS:
        raise JobFileError(
            Fault(where=where, code="csv-too-many-rows", found=str(len(written)), allowed=str(MOST_ROWS))
        )
    separator = max(SEPARATORS, key=written[0][1].count)
    faults: list[Fault] = []
    rows: list[Row] = []
    for number, line in written:
        cells, at_fault = _cells(line, number, separator)
        if at_fault:
            faults.append(Fault(where=where, code="csv-quote-open", found=line[:60], line=number, column=at_fault))
        elif any(cell.text for cell in cells):
            rows.append(cells)
    if faults:
        raise JobFileError(*faults)
    return tuple(rows)


def _cells(line: str, number: int, separator: str) -> tuple[Row, int]:
    """Return the cells of one line, and the column of a quote that is never closed (0 when all are)."""
    cells: list[Cell] = []
    at = 0
    while True:
        start = at + len(line[at:]) - len(line[at:].lstrip(" "))
        if line[start : start + 1] == '"':
            text, at = _quoted(line, start)
            if at < 0:
                return (), start + 1
            end = line.find(separator, at)
        else:
            end = line.find(separator, at)
            text = line[at : end if end >= 0 else len(line)]
        cells.append(Cell(text.strip(), number, start + 1))
        if end < 0:
            return tuple(cells), 0
        at = end + 1


def _quoted(line: str, start: int) -> tuple[str, int]:
    """Return the text between quotes, a doubled one standing for itself, and the place behind; -1 when left open."""
    text, at = "", start + 1
    while True:
        end = line.find('"', at)
        if end < 0:
            return "", -1
        text += line[at:end]
        if line[end + 1 : end + 2] != '"':
            return text, end + 1
        text += '"'
        at = end + 2
