"""What a person can ask for, one function each; no carpentry here."""

from evenfoot.office import actions, answers, cutting, desk, record, remedies, setting, summary
from evenfoot.office.actions import Request, draw_sheets, reckon, sheet_files, speaker_for, start_job
from evenfoot.office.record import record_of

PARTS = actions.PARTS
plan_json = record.plan_json
plan_record = record.plan_record

__all__ = [
    "Request",
    "answers",
    "cutting",
    "desk",
    "draw_sheets",
    "reckon",
    "record_of",
    "remedies",
    "setting",
    "sheet_files",
    "speaker_for",
    "start_job",
    "summary",
]
