"""What a person can ask for, one function each; no carpentry here."""

from evenfoot.office import actions, cutting, record, remedies, setting
from evenfoot.office.actions import Request, draw_sheets, reckon, sheet_files, speaker_for, start_job
from evenfoot.office.answers import Finding, falls_short, findings_of
from evenfoot.office.record import record_of
from evenfoot.office.summary import Summary, summarise

PARTS = actions.PARTS
plan_json = record.plan_json
plan_record = record.plan_record

__all__ = [
    "Finding",
    "Request",
    "Summary",
    "cutting",
    "draw_sheets",
    "falls_short",
    "findings_of",
    "reckon",
    "record_of",
    "remedies",
    "setting",
    "sheet_files",
    "speaker_for",
    "start_job",
    "summarise",
]
