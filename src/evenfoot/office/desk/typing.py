"""What was typed into a field, as the value that a job file holds, and back."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.job import files

Typed = str | Sequence[str] | None
"""A field's text, a row of texts, or None for a row or table that is taken out."""

_FIGURE = re.compile(r"[-+]?\d+(\.\d+)?")
_KINDS = files.KeyKind
_NUMBERS = {_KINDS.LENGTH, _KINDS.FIGURE, _KINDS.WHOLE, _KINDS.SLOPE, _KINDS.FORCE, _KINDS.PRESSURE, _KINDS.TEMPERATURE}
_INDEX = re.compile(r"\[\d+\]")
MOST_CHANGES = 2000


def change_job(text: str, changes: Mapping[str, Typed]) -> str:
    """Return the job text with each place set to what was typed; an empty field takes its key out.

    A place is a key with its indices (``site.obstacle[0].x``) or one row of a list (``site.levels[3]``), typed as a
    row of texts in the order of its columns.
    Raises: OutOfRangeError ``path-unknown``, ``too-many``; JobFileError when the text is not TOML.
    """
    if len(changes) > MOST_CHANGES:
        raise OutOfRangeError(
            Fault(where="changes", code="too-many", found=str(len(changes)), allowed=str(MOST_CHANGES))
        )
    for where, typed in changes.items():
        fact = files.key_facts().get(_INDEX.sub("", where))
        if fact is None:
            raise OutOfRangeError(Fault(where=where, code="path-unknown", found=where))
        text = _changed(text, where, fact, typed)
    return text


def _changed(text: str, where: str, fact: files.KeyFact, typed: Typed) -> str:
    if isinstance(typed, str):
        value = value_of(typed, fact)
    elif typed is None:
        value = None
    else:
        value = _row(typed, fact)
        holder = where.rpartition("[")[0]
        stood = typed_at(text, holder)
        if fact.kind is _KINDS.ROWS and not stood:
            return files.edit_job(text, {holder: [value]})
        if fact.kind is _KINDS.ROWS and isinstance(stood, list) and isinstance(stood[0], dict):
            value = _table(typed, fact)
    if value is None and not is_written(text, where):
        return text
    return files.edit_job(text, {where: value})


def is_written(text: str, where: str) -> bool:
    """Return whether the text holds a value at ``where``."""
    return typed_at(text, where) is not None


def typed_at(text: str, where: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return the value at a place of the text, None when nothing is written there."""
    value: Any = tomllib.loads(text, parse_float=Decimal)
    for part in re.findall(r"[^.\[\]]+", where):
        if isinstance(value, dict):
            value = value.get(part)
        elif isinstance(value, list) and part.isdigit():
            value = value[int(part)] if int(part) < len(value) else None
        elif isinstance(value, list):
            value = _in_row(value, part, where)
        else:
            return None
    return value


def _in_row(row: list[Any], column: str, where: str) -> Any:  # noqa: ANN401 - whatever the file holds
    fact = files.key_facts().get(_INDEX.sub("", where).rpartition(".")[0])
    columns = [c for c in fact.columns if c != "name" or len(row) == len(fact.columns)] if fact else []
    place = columns.index(column) if column in columns else len(row)
    return row[place] if place < len(row) else None


def value_of(typed: str, fact: files.KeyFact) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what a typed text means for a key: a figure where it is one, else the text as it stands.

    A text that is no such value is kept as it is, so that nothing typed is lost; reading the job names the fault.
    """
    plain = unicodedata.normalize("NFKC", typed).strip()
    if not plain:
        return None
    if fact.is_many:
        parts = [value_of(part, _single(fact)) for part in re.split(r"[,、;]", plain)]
        return [part for part in parts if part is not None]
    if fact.kind is _KINDS.TEXT:
        return typed.strip()
    return _READERS.get(fact.kind, str)(plain)


def _single(fact: files.KeyFact) -> files.KeyFact:
    return files.KeyFact(key=fact.key, kind=fact.kind, choices=fact.choices, unit=fact.unit)


def _figure(plain: str) -> int | Decimal:
    return Decimal(plain) if "." in plain else int(plain)


def _number(plain: str) -> int | Decimal | str:
    return _figure(plain) if _FIGURE.fullmatch(plain) else plain


def _yes_no(plain: str) -> bool | str:
    return plain == "true" if plain in {"true", "false"} else plain


def _day(plain: str) -> date | str:
    try:
        return date.fromisoformat(plain)
    except ValueError:
        return plain


def _price(plain: str) -> Any:  # noqa: ANN401 - a figure, a span, or the text as typed
    parts = [part.strip() for part in re.split(r"\.\.|…|~|-", plain)]
    if all(_FIGURE.fullmatch(part) for part in parts) and len(parts) <= 2:
        figures = [_figure(part) for part in parts]
        return figures if len(figures) == 2 else figures[0]
    return plain


_READERS: Mapping[files.KeyKind, Callable[[str], Any]] = {
    **dict.fromkeys(_NUMBERS, _number),
    _KINDS.YES_NO: _yes_no,
    _KINDS.DAY: _day,
    _KINDS.PRICE: _price,
}


def _table(typed: Sequence[str], fact: files.KeyFact) -> dict[str, Any]:
    facts = files.key_facts()
    pairs = (
        (name, value_of(str(one), facts[f"{fact.key}.{name}"])) for name, one in zip(fact.columns, typed, strict=True)
    )
    return {name: value for name, value in pairs if value is not None}


def _row(typed: Sequence[str], fact: files.KeyFact) -> Any:  # noqa: ANN401 - a row or a table
    if not fact.columns or len(typed) != len(fact.columns):
        raise OutOfRangeError(
            Fault(where=fact.key, code="row-length", found=", ".join(map(str, typed)), allowed=", ".join(fact.columns))
        )
    table = _table(typed, fact)
    if fact.kind is _KINDS.TABLES:
        return table
    return [table.get(name, "") for name in fact.columns if name != "name" or name in table]


def as_typed(value: Any) -> str:  # noqa: ANN401 - whatever the file holds
    """Return a value of the file as a person would type it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return ", ".join(as_typed(one) for one in value)
    return value.isoformat() if isinstance(value, date) else str(value)


def faults_of(text: str) -> tuple[Fault, ...]:
    """Return every fault of a job text, each with its place; none when it reads well."""
    try:
        files.parse_job(text)
    except EvenfootError as error:
        return error.faults
    return ()
