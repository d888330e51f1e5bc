"""A job's log as a file: one JSON object a line, added to and never rewritten."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from evenfoot.errors import Fault, JobFileError, StoreError
from evenfoot.job.file.common import stretches_of
from evenfoot.job.file.faults import faults_of
from evenfoot.job.file.log_kinds import LOG_KINDS
from evenfoot.job.file.log_tables import LogRow
from evenfoot.job.file.text import LARGEST_FILE, read_text
from evenfoot.job.log import CameStick, Log, LogLine


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
    return Log(lines=tuple(lines), notes=(*notes, *_undone_in_vain(lines)))


def append_log(path: Path, lines: Iterable[LogLine]) -> tuple[LogLine, ...]:
    """Add facts to the end of the log at ``path``, begun when it is not there, and return them as they now read.

    All go to the disk in one write. A last line that was torn by a power cut is no fact: it makes way.
    Raises: JobFileError when a line is not a fact that a log may hold, or the log has a fault: nothing is written then;
    StoreError (``cannot-write``) when the disk refuses.
    """
    added = "".join(f"{_written(line)}\n" for line in lines)
    parse_log(added)
    before = read_text(path, may_be_torn=True) if path.exists() else ""
    old = parse_log(before)
    torn = any(note.code == "log-line-torn" for note in old.notes)
    whole = before[: before.rfind("\n") + 1] if torn else before
    joint = "\n" if whole and not whole.endswith("\n") else ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("r+b" if path.exists() else "wb") as file:
            file.seek(_size(path, whole) if torn else 0, os.SEEK_SET if torn else os.SEEK_END)
            file.write((joint + added).encode())
            file.truncate()
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        raise StoreError(Fault(where=str(path), code="cannot-write", found=error.strerror or "")) from error
    return read_log(path).lines[len(old.lines) :]


def _size(path: Path, whole: str) -> int:
    """Return where the whole lines end in the file [bytes], a byte order mark at its head counted."""
    has_mark = path.read_bytes().startswith(b"\xef\xbb\xbf")
    return len(whole.encode()) + (3 if has_mark else 0)


def line_row(line: LogLine) -> dict[str, Any]:
    """Return a fact as the keys and values of its line, in the order that they are written: only what it says."""
    value = LOG_KINDS[line.what].value if line.what in LOG_KINDS else "value_mm"
    row = {
        "time": line.time,
        "what": line.what,
        "mark": line.mark,
        "x_mm": line.x,
        "y_mm": line.y,
        value: line.value,
        "accuracy_mm": line.accuracy,
        "stand": line.stand,
        "away_mm": line.away,
        "instrument": line.instrument,
        "who": line.who,
        "of": line.of,
        "stick": line.stick,
        "at_mm": line.at,
        **_came_row(line),
    }
    return {key: one for key, one in row.items() if key and one is not None and one != ""}


def _written(line: LogLine) -> str:
    """Return a fact as one line of JSON, figures to a tenth of a micrometre."""
    return json.dumps({key: _tidy(one) for key, one in line_row(line).items()}, ensure_ascii=False)


def _came_row(line: LogLine) -> dict[str, Any]:
    """Return what a stick that came is, as it stands in its line."""
    came = line.came
    if came is None:
        return {}
    return {
        "species": came.species,
        "look": came.look.value,
        "strength_grade": came.strength_grade,
        "width_mm": came.width,
        "depth_mm": came.depth,
        "clean_ends": came.clean_ends,
        "bad_mm": [list(stretch) for stretch in came.bad] or None,
        "flaws_mm": [list(stretch) for stretch in came.flaws] or None,
    }


def _tidy(value: Any) -> Any:  # noqa: ANN401 - text, a figure, or rows of figures
    if isinstance(value, str):
        return value
    if isinstance(value, list):
        return [_tidy(one) for one in value]
    rounded = round(value, 4)
    return int(rounded) if rounded == int(rounded) else rounded


def _undone_in_vain(lines: list[LogLine]) -> Iterable[Fault]:
    """Yield a note for each undo of a line that is not in this log."""
    known = {line.id for line in lines}
    for line in lines:
        if line.what == "undo" and line.of not in known:
            yield Fault(where=line.where, code="log-undo-unknown", found=line.of)


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
        built = _built(LogRow.model_validate(value, context={"unit": "mm"}), where)
        return replace(built, id=_id(value)), []
    except ValidationError as error:
        return None, [_placed(fault, where, number) for fault in faults_of(error, LogRow)]


def _id(value: dict[str, object]) -> str:
    """Return a short hash of what a line says, whatever the order of its keys and the blanks between them."""
    canonical = json.dumps(value, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(canonical.encode("utf-8", "surrogatepass")).hexdigest()[:10]


def _placed(fault: Fault, where: str, number: int) -> Fault:
    return replace(fault, where=f"{where}.{fault.where}".strip("."), line=number)


def _built(row: LogRow, where: str) -> LogLine:
    value = getattr(row, LOG_KINDS[row.what].value, None)
    return LogLine(
        time=row.time,
        what=row.what,
        mark=row.mark,
        x=_optional(row.x_mm),
        y=_optional(row.y_mm),
        value=0.0 if value is None else float(value),
        accuracy=_optional(row.accuracy_mm),
        where=where,
        stand=row.stand,
        away=_optional(row.away_mm),
        instrument=row.instrument,
        who=row.who,
        of=row.of,
        came=_came(row),
        stick=row.stick,
        at=_optional(row.at_mm),
    )


def _came(row: LogRow) -> CameStick | None:
    if row.what != "stick" or row.species is None or row.width_mm is None or row.depth_mm is None:
        return None
    return CameStick(
        species=row.species,
        look=row.look,
        strength_grade=row.strength_grade,
        width=float(row.width_mm),
        depth=float(row.depth_mm),
        clean_ends=row.clean_ends,
        bad=stretches_of(row.bad_mm),
        flaws=stretches_of(row.flaws_mm),
    )


def _optional(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
