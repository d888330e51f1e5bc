"""What a person can ask for, one function each; no carpentry here."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any

from evenfoot.office import actions, answers, cutting, pack, record, remedies, setting, summary
from evenfoot.office.actions import Request, draw_sheets, reckon, sheet_files, speaker_for, start_job
from evenfoot.office.record import record_of

if TYPE_CHECKING:
    from evenfoot.office import desk, people

PARTS = actions.PARTS
plan_json = record.plan_json
plan_record = record.plan_record

__all__ = [
    "Request",
    "answers",
    "cutting",
    "desk",
    "draw_sheets",
    "pack",
    "people",
    "reckon",
    "record_of",
    "remedies",
    "setting",
    "sheet_files",
    "speaker_for",
    "start_job",
    "summary",
]

_LATE = frozenset({"desk", "people"})
"""Doors behind which stands the store: half a second that a command without one does not wait for."""


def __getattr__(name: str) -> Any:  # noqa: ANN401 - a module
    """Open a late door when it is first asked for."""
    if name in _LATE:
        return import_module(f"{__name__}.{name}")
    return object.__getattribute__(sys.modules[__name__], name)
