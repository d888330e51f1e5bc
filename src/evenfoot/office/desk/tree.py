"""What a job text holds at a place, and the place itself: a key with its indices, such as ``site.levels[3].z``."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import Any

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import files

LISTS = frozenset({files.KeyKind.TABLES, files.KeyKind.ROWS})
"""Kinds of keys that hold entries; an entry is named by its index."""

_INDEX = re.compile(r"\[\d+\]")
_PART = re.compile(r"([a-z0-9_]+)(?:\[(\d{1,5})\])?")


def fact_at(where: str) -> files.KeyFact:
    """Return the facts of the key at a place that may be typed into: a value, or one entry of a list.

    Raises: OutOfRangeError ``path-unknown`` for a place that no job file has, and for whole tables and lists.
    """
    facts, key, fact, has_index = files.key_facts(), "", None, False
    for part in where.split("."):
        found = _PART.fullmatch(part)
        key = f"{key}.{found[1]}" if found and key else found[1] if found else ""
        fact, has_index = facts.get(key), bool(found and found[2])
        if fact is None or has_index != (fact.kind in LISTS):
            raise unknown(where)
    if fact is None or fact.kind is files.KeyKind.TABLE:
        raise unknown(where)
    return fact


def unknown(where: str) -> OutOfRangeError:
    """Return the error of a place that leads nowhere."""
    return OutOfRangeError(Fault(where=where[:200], code="path-unknown", found=where[:200]))


@lru_cache(maxsize=64)
def tree_of(text: str) -> Mapping[str, Any]:
    """Return the values of a job text, to be read and not changed; nothing when it cannot be read at all."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (ValueError, RecursionError):  # no TOML, a figure without end, brackets without end
        return {}


def typed_at(text: str, where: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return the value at a place of the text, None when nothing is written there."""
    return value_at(tree_of(text), where)


def value_at(tree: Any, where: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return the value at a place of a tree, None when nothing is written there."""
    value = tree
    for part in re.findall(r"[^.\[\]]+", where):
        if isinstance(value, dict):
            value = value.get(part)
        elif isinstance(value, list) and part.isdigit():
            value = value[int(part)] if int(part) < len(value) else None
        elif isinstance(value, list):
            fact = files.key_facts().get(key_of(where).rpartition(".")[0])
            value = named(value, fact).get(part) if fact else None
        else:
            return None
    return value


def put_at(tree: dict[str, Any], where: str, value: Any) -> None:  # noqa: ANN401 - whatever the file holds
    """Set a place of a tree as ``files.edit_job`` sets it in the text; None takes it out.

    Raises: OutOfRangeError ``path-unknown`` where the text could not be set either.
    """
    holder: Any = tree
    parts: list[str | int] = [int(p) if p.isdigit() else p for p in re.findall(r"[^.\[\]]+", where)]
    for part, following in pairwise(parts):
        fresh: Any = [] if isinstance(following, int) else {}
        if isinstance(part, str) and isinstance(holder, dict):
            holder = holder.setdefault(part, fresh)
        elif isinstance(part, int) and isinstance(holder, list) and part <= len(holder):
            if part == len(holder):
                holder.append(fresh)
            holder = holder[part]
        else:
            raise unknown(where)
    _put(holder, parts[-1], value, where)


def _put(holder: Any, last: str | int, value: Any, where: str) -> None:  # noqa: ANN401 - whatever the file holds
    if isinstance(last, str) and isinstance(holder, dict):
        if value is None:
            holder.pop(last, None)
        else:
            holder[last] = value
    elif isinstance(last, int) and isinstance(holder, list) and last <= len(holder):
        holder[last : last + 1] = [] if value is None else [value]
    else:
        raise unknown(where)


def key_of(where: str) -> str:
    """Return the key of a place: the place without its indices."""
    return _INDEX.sub("", where)


def columns_of(fact: files.KeyFact) -> tuple[str, ...]:
    """Return the columns of a list that are typed in its rows: those that hold no list of entries themselves."""
    facts = files.key_facts()
    return tuple(name for name in fact.columns if facts[f"{fact.key}.{name}"].kind not in LISTS)


def named(entry: Any, fact: files.KeyFact) -> dict[str, Any]:  # noqa: ANN401 - whatever is written
    """Return the values of one entry of a list by column, whether it is written as a row or as a table."""
    if isinstance(entry, dict):
        return entry
    if not isinstance(entry, list):
        return {}
    columns = [name for name in fact.columns if name != "name" or len(entry) >= len(fact.columns)]
    return dict(zip(columns, entry, strict=False))


def as_typed(value: Any) -> str:  # noqa: ANN401 - whatever the file holds
    """Return a value of the file as a person would type it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return ", ".join(as_typed(one) for one in value)
    if isinstance(value, dict):
        return ", ".join(f"{key} = {as_typed(one)}" for key, one in value.items())
    return value.isoformat() if isinstance(value, date) else str(value)
