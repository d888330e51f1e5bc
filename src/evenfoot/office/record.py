"""The plan as plain data for ``plan.json``: every key of a measured number carries its unit."""

from __future__ import annotations

import dataclasses
import json
import tomllib
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.plan import Plan

FORMAT = 1


def plan_record(plan: Plan) -> dict[str, Any]:
    """Return the plan as dictionaries, lists, strings, numbers and None, keys with units (``length_mm``).

    Money is a string, so that no cent is lost.
    """
    return {"format": FORMAT, **record_of(plan), "verdict": plan.verdict.value}


def record_of(value: object) -> dict[str, Any]:
    """Return any frozen result as plain data, in the same manner as ``plan_record``."""
    record: dict[str, Any] = _plain(value)
    return record


def plan_json(plan: Plan) -> bytes:
    """Return ``plan_record`` as UTF-8 JSON; the same plan gives the same bytes."""
    return (json.dumps(plan_record(plan), ensure_ascii=False, indent=1) + "\n").encode()


@cache
def key_units() -> Mapping[str, str]:
    """Return the unit suffix of each field (``field`` or ``Class.field``) that holds a number."""
    text = (files("evenfoot.office") / "key_units.toml").read_text(encoding="utf-8")
    table: Mapping[str, list[str]] = tomllib.loads(text)
    return {name: suffix for suffix, names in table.items() for name in names}


def unit_of(owner: str, field: str) -> str:
    """Return the unit suffix of a field of the class ``owner``: empty when it carries none."""
    return key_units().get(f"{owner}.{field}", key_units().get(field, ""))


def _plain(value: Any) -> Any:  # noqa: ANN401, PLR0911 - any field of any room, one return per kind
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        out: dict[str, Any] = {}
        for field in dataclasses.fields(value):
            if field.name.startswith("_"):
                continue
            suffix = unit_of(type(value).__name__, field.name)
            out[f"{field.name}_{suffix}" if suffix else field.name] = _plain(getattr(value, field.name))
        return out
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list | frozenset | set):
        return [_plain(v) for v in value]
    return value
