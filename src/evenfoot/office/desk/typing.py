"""What was typed into a field, as the value that a job file holds."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.job import files
from evenfoot.office.desk.tree import LISTS, columns_of, fact_at, named, put_at, unknown, value_at

Typed = str | Sequence[str] | None
"""A field's text, a row of texts, or None for a row or table that is taken out."""

_FIGURE = re.compile(r"[-+]?\d{1,300}(\.\d{1,300})?", re.ASCII)
_KINDS = files.KeyKind
_NUMBERS = {_KINDS.LENGTH, _KINDS.FIGURE, _KINDS.WHOLE, _KINDS.SLOPE, _KINDS.FORCE, _KINDS.PRESSURE, _KINDS.TEMPERATURE}
MOST_CHANGES = 2000


def change_job(text: str, changes: Mapping[str, Typed]) -> str:
    """Return the job text with each place set to what was typed; an empty field takes its key out.

    A place is a key with its indices (``site.obstacle[0].x``) or one row of a list (``site.levels[3]``), typed as a
    row of texts in the order of its columns; a row one past the end adds to the list.
    Raises: OutOfRangeError ``path-unknown``, ``row-length``, ``too-many``; JobFileError when the text is not TOML or
    has become too large.
    """
    if len(changes) > MOST_CHANGES:
        raise OutOfRangeError(
            Fault(where="changes", code="too-many", found=str(len(changes)), allowed=str(MOST_CHANGES))
        )
    editing = _Editing(text)
    for where, typed in changes.items():
        editing.change(where, typed)
    return editing.text()


class _Editing:
    """Collects edits, so that the text is gone through once for all of them and not once for each."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._tree = files.read_tree(text, where="job")
        self._edits: dict[str, Any] = {}
        self._holders: set[str] = set()

    def text(self) -> str:
        """Return the text with every edit."""
        if self._edits:
            self._text = files.edit_job(self._text, self._edits)
            self._edits, self._holders = {}, set()
        return self._text

    def change(self, where: str, typed: Typed) -> None:
        """Set one place to what was typed."""
        fact = fact_at(where)
        if fact.kind in LISTS:
            if typed is None:
                self._set(where, None)
            else:
                self._set_entry(where, _row(typed, fact, where), fact)
            return
        if not isinstance(typed, str | None):
            raise _row_length(typed, "1", where)
        value = None if typed is None else value_of(typed, fact)
        holder = where.rpartition(".")[0]
        entry = value_at(self._tree, holder)
        around = files.key_facts().get(fact.key.rpartition(".")[0])
        if around is not None and around.kind is _KINDS.ROWS and not isinstance(entry, dict):
            self._set_cell(holder, entry, {fact.key.rpartition(".")[2]: value}, around)
        else:
            self._set(where, value)

    def _set_cell(self, where: str, entry: Any, cell: dict[str, Any], fact: files.KeyFact) -> None:  # noqa: ANN401
        """Set one figure of a row; the others keep their places, an emptied one leaves an empty place."""
        values = {**named(entry, fact), **cell}
        if all(value is None for value in values.values()):
            return
        extra = entry[len(fact.columns) :] if isinstance(entry, list) else []
        self._set_entry(where, values, fact, extra)

    def _set_entry(self, where: str, values: Mapping[str, Any], fact: files.KeyFact, extra: Sequence[Any] = ()) -> None:
        """Set or add one entry, in the manner in which the list is written."""
        holder = where.rpartition("[")[0]
        stood = value_at(self._tree, holder)
        table = {name: value for name, value in values.items() if value is not None}
        if fact.kind is _KINDS.TABLES or (isinstance(stood, list) and stood and isinstance(stood[0], dict)):
            self._set(where, table)
            return
        row = [*(table.get(name, "") for name in fact.columns if name != "name" or name in table), *extra]
        if stood:
            self._set(where, row)
        elif where == f"{holder}[0]":
            self._set(holder, [row])
        else:
            raise unknown(where)

    def _set(self, where: str, value: Any) -> None:  # noqa: ANN401 - whatever the file holds
        if value is None and value_at(self._tree, where) is None:
            return
        around = _around(where)
        if where in self._edits or where in self._holders or any(place in self._edits for place in around):
            self.text()
        put_at(self._tree, where, value)
        self._edits[where] = value
        self._holders.update(around)


def _around(where: str) -> list[str]:
    """Return the places that hold a place: ``site``, ``site.levels`` and ``site.levels[3]`` hold its ``z``."""
    return [where[: found.start()] for found in re.finditer(r"[.\[]", where)]


def value_of(typed: str, fact: files.KeyFact) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what a typed text means for a key: a figure where it is one, else the text as it stands.

    A text that is no such value is kept as it is, so that nothing typed is lost; reading the job names the fault.
    """
    plain = unicodedata.normalize("NFKC", typed).strip()
    if not plain:
        return None
    if fact.is_many:
        parts = [value_of(part, _single(fact)) for part in re.split(r"[,、;]", plain)]
        return [part for part in parts if part is not None] or None
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
    parts = [part.strip() for part in re.split(r"\.\.\.?|[,、…~〜–-]", plain)]
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


def _row(typed: Typed, fact: files.KeyFact, where: str) -> dict[str, Any]:
    """Return the values of a row by column, None where nothing was typed."""
    facts, columns = files.key_facts(), columns_of(fact)
    if isinstance(typed, str) or typed is None or len(typed) != len(columns):
        raise _row_length(typed, ", ".join(columns), where)
    return {name: value_of(str(one), facts[f"{fact.key}.{name}"]) for name, one in zip(columns, typed, strict=True)}


def _row_length(typed: Typed, allowed: str, where: str) -> OutOfRangeError:
    found = typed if isinstance(typed, str) else ", ".join(map(str, typed or ()))
    return OutOfRangeError(Fault(where=where, code="row-length", found=found[:200], allowed=allowed))


def faults_of(text: str) -> tuple[Fault, ...]:
    """Return every fault of a job text, each with its place; none when it reads well."""
    try:
        files.parse_job(text)
    except EvenfootError as error:
        return error.faults
    return ()
