"""What each key of a job file may be, as facts: for forms that a person fills in."""

from __future__ import annotations

import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from evenfoot.job.file.defaults import defaults
from evenfoot.job.file.faults import table_in
from evenfoot.job.file.fields import Choice, Field, Figure, Length, Spelled, Text, Whole
from evenfoot.job.file.places import ROWS
from evenfoot.job.file.tables import JobFile
from evenfoot.job.kinds import Standard


class KeyKind(StrEnum):
    """What a value is, as far as typing it goes."""

    TABLE = "table"
    TABLES = "tables"
    """A list of tables, such as obstacles."""
    ROWS = "rows"
    """A list whose entries may be typed as rows, such as levels."""
    LENGTH = "length"
    FIGURE = "figure"
    WHOLE = "whole"
    SLOPE = "slope"
    FORCE = "force"
    PRESSURE = "pressure"
    TEMPERATURE = "temperature"
    CHOICE = "choice"
    YES_NO = "yes-no"
    DAY = "day"
    PRICE = "price"
    TEXT = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyFact:
    """One key: its dotted path, what it is, the words it may be, its unit, whether it is a list of such values."""

    key: str
    kind: KeyKind
    choices: tuple[str, ...] = ()
    unit: str = ""
    is_many: bool = False
    columns: tuple[str, ...] = ()
    """Keys of one entry of a list."""


@cache
def key_facts() -> Mapping[str, KeyFact]:
    """Return the facts of every key of a job file by its dotted path, in the order of the manual."""
    return MappingProxyType({fact.key: fact for fact in _facts(JobFile, "")})


def default_of(key: str, standard: Standard) -> str:
    """Return what a standard takes for a key that is left out, as a person would type it; empty when nothing."""
    ours = defaults(standard)
    for tree in (ours["job"], ours["each"]):
        value: Any = tree
        for part in key.split("."):
            value = value.get(part) if isinstance(value, dict) else None
        if value is not None and not isinstance(value, dict):
            return str(value).lower() if isinstance(value, bool) else str(value)
    return ""


def _facts(table: type[BaseModel], prefix: str) -> Iterator[KeyFact]:
    for name, field in table.model_fields.items():
        key = f"{prefix}{name}"
        inner = table_in(field.annotation)
        if inner is None:
            yield _value(key, field.annotation, tuple(field.metadata))
            continue
        kind = KeyKind.TABLE
        if _is_list(field.annotation):
            kind = KeyKind.ROWS if name in ROWS else KeyKind.TABLES
        columns = () if kind is KeyKind.TABLE else tuple(inner.model_fields)
        yield KeyFact(key=key, kind=kind, columns=columns)
        yield from _facts(inner, f"{key}.")


def _value(key: str, annotation: Any, metadata: tuple[Any, ...]) -> KeyFact:  # noqa: ANN401 - a type of any shape
    said = (*metadata, *_marks(annotation))
    field = next((mark for mark in said if isinstance(mark, Field)), None)
    kind, choices, unit = _told(field) if field is not None else (_plain(annotation), (), "")
    return KeyFact(key=key, kind=kind, choices=choices, unit=unit, is_many=_is_list(annotation))


def _told(field: Field) -> tuple[KeyKind, tuple[str, ...], str]:
    if isinstance(field, Choice):
        return KeyKind.CHOICE, tuple(str(word) for word in field.kind), ""
    if isinstance(field, Text):
        words = field.words() if field.words else ()
        return (KeyKind.CHOICE if words else KeyKind.TEXT), words, ""
    if isinstance(field, Spelled):
        return KeyKind(field.quantity), (), field.unit
    if isinstance(field, Figure):
        return KeyKind.FIGURE, (), field.unit
    assert isinstance(field, Length | Whole), f"a kind of field that no form knows: {field}"
    return (KeyKind.LENGTH if isinstance(field, Length) else KeyKind.WHOLE), (), ""


def _plain(annotation: Any) -> KeyKind:  # noqa: ANN401 - a type of any shape
    leaves = set(_leaves(annotation))
    if bool in leaves:
        return KeyKind.YES_NO
    return KeyKind.DAY if date in leaves else KeyKind.PRICE


def _marks(annotation: Any) -> Iterator[Any]:  # noqa: ANN401 - a type of any shape
    yield from getattr(annotation, "__metadata__", ())
    for inner in typing.get_args(annotation):
        yield from _marks(inner)


def _leaves(annotation: Any) -> Iterator[Any]:  # noqa: ANN401 - a type of any shape
    inside = typing.get_args(annotation)
    if not inside:
        yield annotation
    for inner in inside:
        yield from _leaves(inner)


def _is_list(annotation: Any) -> bool:  # noqa: ANN401 - a type of any shape
    if typing.get_origin(annotation) is list:
        return True
    return any(_is_list(inner) for inner in typing.get_args(annotation))
