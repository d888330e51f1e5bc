"""Every row of every table names a source that is on record, and says whether it was read there."""

from __future__ import annotations

import csv
import tomllib
from functools import cache
from pathlib import Path

import pytest

DATA = Path(__file__).parents[2] / "src" / "evenfoot" / "tables" / "data"


@cache
def sources() -> frozenset[str]:
    known: set[str] = set()
    for path in (DATA / "sources").glob("*.toml"):
        for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
            assert entry.get("title") or entry.get("what"), f"{path.name}: {key} has no title"
            known.add(key)
    return frozenset(known)


@pytest.mark.parametrize("path", sorted(DATA.glob("*.csv")), ids=lambda p: p.name)
def test_every_row_has_a_source_and_a_flag(path):
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    for number, row in enumerate(rows, start=2):
        named = (row.get("source") or row.get("sources") or "").split()
        assert named, f"{path.name}:{number} names no source"
        assert set(named) <= sources(), f"{path.name}:{number} {set(named) - sources()}"
        flags = [v for k, v in row.items() if k and (k == "confirmed" or k.endswith(("_conf", "_confirmed")))]
        assert flags, f"{path.name}:{number} says nothing of confirmed"
        assert set(flags) <= {"true", "false", "partial", ""}, f"{path.name}:{number}"
        assert row.get("confirmed", "true"), f"{path.name}:{number}"


def named_sources(table: object) -> set[str]:
    found: set[str] = set()
    if isinstance(table, dict):
        for key, value in table.items():
            if key in {"source", "sources"} or key.endswith("_sources"):
                found |= set(value if isinstance(value, list) else value.split())
            else:
                found |= named_sources(value)
    elif isinstance(table, list):
        for value in table:
            found |= named_sources(value)
    return found


@pytest.mark.parametrize("path", sorted(DATA.glob("*.toml")), ids=lambda p: p.name)
def test_sources_named_in_toml_are_on_record(path):
    named = named_sources(tomllib.loads(path.read_text(encoding="utf-8")))
    assert named
    assert named <= sources()
