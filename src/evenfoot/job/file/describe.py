"""What keys a job file may have: for editors as a JSON Schema, for the manual as a list."""

from __future__ import annotations

import typing
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from evenfoot.job.file.defaults import defaults
from evenfoot.job.file.faults import table_in
from evenfoot.job.file.log_kinds import LOG_KINDS
from evenfoot.job.file.log_tables import LogRow
from evenfoot.job.file.shop_tables import ShopFile
from evenfoot.job.file.tables import JobFile
from evenfoot.job.kinds import Standard

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NEEDED = ("unit", "standard", "site", "floor")
"""Keys of the top table that have no default anywhere."""


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file, for editors; a length is a number in the file's unit, or text."""
    schema = JobFile.model_json_schema()
    for table in [schema, *schema["$defs"].values()]:
        needed = [key for key in table.get("required", []) if key in _needed(table["title"])]
        table.pop("required", None)
        if needed:
            table["required"] = needed
        for key in table.get("properties", {}).values():
            key.pop("title", None)
            key.pop("default", None)
    return {"$schema": DIALECT, **schema, "title": "Evenfoot job"}


def log_keys() -> tuple[str, ...]:
    """Return the keys that a line of a log may have."""
    return tuple(LogRow.model_fields)


def log_kinds() -> tuple[str, ...]:
    """Return the kinds of fact that a log may hold."""
    return tuple(LOG_KINDS)


def _needed(title: str) -> frozenset[str]:
    """Return the keys that a table asks for in every standard."""
    if title == JobFile.__name__:
        return frozenset(NEEDED)
    table, path = _tables()[title]
    ours = defaults(Standard.JAPAN)
    given = set(_under(ours["job"], path)) | set(_under(ours["each"], path))
    return frozenset(name for name, field in table.model_fields.items() if field.is_required() and name not in given)


def _under(tree: Any, path: tuple[str, ...]) -> dict[str, Any]:  # noqa: ANN401 - values of any kind lie below
    for part in path:
        tree = tree.get(part, {})
    assert isinstance(tree, dict)
    return tree


def _tables() -> dict[str, tuple[type[BaseModel], tuple[str, ...]]]:
    """Return each table's class with one path at which it stands."""
    found: dict[str, tuple[type[BaseModel], tuple[str, ...]]] = {}
    for path, table in _walk(JobFile, ()):
        found.setdefault(table.__name__, (table, path))
    return found


def _walk(table: type[BaseModel], path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], type[BaseModel]]]:
    yield path, table
    for name, field in table.model_fields.items():
        inner = table_in(field.annotation)
        if inner is not None:
            yield from _walk(inner, (*path, name))


def job_keys() -> tuple[str, ...]:
    """Return every key that a job file may have, dotted, in the order of the manual."""
    return tuple(key for key, _, _ in described(JobFile))


def shop_keys() -> tuple[str, ...]:
    """Return every key that a shop file may have, dotted, in the order of the manual."""
    return tuple(key for key, _, _ in described(ShopFile))


def described(file: type[BaseModel]) -> Iterator[tuple[str, str, tuple[object, ...]]]:
    """Yield each dotted key of a file with what it means and the fields that say what it may be."""
    for path, table in _walk(file, ()):
        for name, field in table.model_fields.items():
            inside = (part for option in typing.get_args(field.annotation) for part in typing.get_args(option)[1:])
            yield ".".join((*path, name)), field.description or "", (*field.metadata, *inside)
