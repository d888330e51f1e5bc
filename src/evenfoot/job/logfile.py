"""The reader of a job's log: one JSON object a line, added to and never rewritten."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from pydantic import ValidationError

from evenfoot.errors import Fault, JobFileError
from evenfoot.job.file.faults import faults_of
from evenfoot.job.file.log_tables import LogRow
from evenfoot.job.file.text import LARGEST_FILE, read_text
from evenfoot.job.shop import Log, LogLine


def read_log(path: Path | str | None) -> Log:
    """Return the log in the file at ``path``; without a path, or before the first line is written, an empty one.

    A last line without a line end that is no whole object was cut off while writing; it is passed over with a note.
    Raises: JobFileError with every fault of every other line.
    """
    if path is None or not Path(path).exists():
        return Log(lines=())
    return parse_log(read_text(Path(path), may_be_torn=True))


def parse_log(text: str) -> Log:
    """Return the log in a text of JSON lines.

    Raises: JobFileError with every fault of every line but a torn last one.
    """
    if len(text.encode("utf-8", "surrogatepass")) > LARGEST_FILE:
        raise JobFileError(
            Fault(
                where="log",
                code="file-too-large",
                found=f"> {LARGEST_FILE / 1e6:.0f} MB",
                allowed=f"{LARGEST_FILE / 1e6:.0f} MB",
            )
        )
    rows = text.split("\n")
    lines: list[LogLine] = []
    faults: list[Fault] = []
    notes: list[Fault] = []
    for number, row in enumerate(rows, start=1):
        if not row.strip():
            continue
        line, wrong = _line(row, number)
        if line is not None:
            lines.append(line)
        elif number == len(rows) and wrong[0].code == "json-syntax":
            notes.append(Fault(where=f"lines[{number}]", code="log-line-torn", found=row[:60], line=number))
        else:
            faults.extend(wrong)
    if faults:
        raise JobFileError(*faults)
    return Log(lines=tuple(lines), notes=tuple(notes))


def _line(row: str, number: int) -> tuple[LogLine | None, list[Fault]]:
    where = f"lines[{number}]"
    try:
        value = json.loads(row, parse_float=Decimal, parse_constant=Decimal)
    except json.JSONDecodeError as error:
        return None, [Fault(where=where, code="json-syntax", found=row.strip()[:60], line=number, column=error.colno)]
    except (RecursionError, ValueError):  # deeper, or a longer figure, than Python reads
        return None, [Fault(where=where, code="json-syntax", found=row.strip()[:60], line=number)]
    if not isinstance(value, dict):
        return None, [Fault(where=where, code="not-a-table", found=row.strip()[:60], line=number)]
    try:
        return _built(LogRow.model_validate(value, context={"unit": "mm"}), where), []
    except ValidationError as error:
        return None, [_placed(fault, where, number) for fault in faults_of(error, LogRow)]


def _placed(fault: Fault, where: str, number: int) -> Fault:

    return replace(fault, where=f"{where}.{fault.where}".strip("."), line=number)


def _built(row: LogRow, where: str) -> LogLine:
    return LogLine(
        time=row.time,
        what=row.what,
        mark=row.mark,
        x=None if row.x_mm is None else float(row.x_mm),
        y=None if row.y_mm is None else float(row.y_mm),
        value=float(row.value_mm),
        accuracy=None if row.accuracy_mm is None else float(row.accuracy_mm),
        where=where,
    )
