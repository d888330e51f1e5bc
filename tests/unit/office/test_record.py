"""plan.json: every number says its unit."""

from __future__ import annotations

import dataclasses
import sys
import types
import typing
from datetime import date
from decimal import Decimal

import pytest

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Member
from evenfoot.office.answers import Finding
from evenfoot.office.record import _plain, key_units, unit_of
from evenfoot.office.summary import Summary
from evenfoot.plan import Plan


def hints_of(cls: type) -> dict[str, object]:
    """Annotations of a class read in its module: a field named like its type must not hide the type."""
    return {k: eval(v, vars(sys.modules[cls.__module__])) for k, v in cls.__annotations__.items()}


def classes_in(hint: object) -> set[type]:
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        return {hint}
    return {c for inner in typing.get_args(hint) for c in classes_in(inner)}


def holds_float(hint: object) -> bool:
    return hint is float or any(holds_float(inner) for inner in typing.get_args(hint))


def reachable(root: type) -> list[type]:
    found: list[type] = []
    waiting = [root]
    while waiting:
        cls = waiting.pop()
        if cls in found:
            continue
        found.append(cls)
        for hint in hints_of(cls).values():
            waiting += classes_in(hint)
    return found


CLASSES = sorted([*reachable(Plan), Summary, Finding], key=lambda c: c.__name__)


@pytest.mark.parametrize("cls", CLASSES, ids=lambda c: c.__name__)
def test_every_number_of_the_plan_has_a_unit_on_record(cls):
    known = set(key_units())
    hints = hints_of(cls)
    for field in dataclasses.fields(cls):
        if not field.name.startswith("_") and holds_float(hints[field.name]):
            assert field.name in known or f"{cls.__name__}.{field.name}" in known, f"{cls.__name__}.{field.name}"


def test_units_on_record_name_real_fields():
    fields = {f.name for c in CLASSES for f in dataclasses.fields(c)}
    full = {f"{c.__name__}.{f.name}" for c in CLASSES for f in dataclasses.fields(c)}
    assert {n for n in key_units() if n not in fields and n not in full} == set()


def test_keys_carry_units_and_money_keeps_its_cents():
    check = Check(subject="A1", rule="x", verdict=Verdict.OK, demand=1.5, unit="N/mm2", facts=(("a_mm", 3.0),))
    assert _plain(check)["verdict"] == "ok"
    assert _plain(check)["facts"] == [["a_mm", 3.0]]
    assert _plain(Decimal("10.10")) == "10.10"
    assert _plain(date(2026, 5, 1)) == "2026-05-01"
    assert unit_of("Member", "length") == "mm"
    assert unit_of("SiteSpec", "ground") == ""
    assert unit_of("PostCut", "ground") == "mm"
    assert isinstance(Member, type)
    assert isinstance(_plain(types.MappingProxyType({"a": 1})), dict)
