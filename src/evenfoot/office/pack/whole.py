"""The whole pack of one plan as plain data, in both languages."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from typing import Any

from evenfoot.job import Log, files
from evenfoot.office.actions import speaker_for
from evenfoot.office.pack.floor import posts_record
from evenfoot.office.pack.spoken import words_record
from evenfoot.office.pack.stations import boards_record, level_record, square_record
from evenfoot.office.pack.work import drawings_record, steps_record, timbers_record
from evenfoot.plan import Plan, make_plan
from evenfoot.sheets import revision_of
from evenfoot.words import Language

FORMAT = 1


def pack_record(plan: Plan, *, log_url: str = "") -> dict[str, Any]:
    """Return all that the phone needs: words, drawings, targets, the floor, steps, and the log so far.

    Keys carry their units. ``log_url`` is where readings are sent when the pack was opened from the running program.
    """
    speakers = {language: speaker_for(plan, language) for language in Language}
    ground = _before_gaps(plan)
    return {
        "format": FORMAT,
        "job": {
            "name": plan.job.name,
            "key": sha256(plan.job.name.encode()).hexdigest()[:10],
            "revision": revision_of(plan),
            "date": plan.job.date.isoformat() if plan.job.date else "",
            "unit": plan.job.unit.value,
            "verdict": plan.verdict.value,
        },
        "log_url": log_url,
        "words": words_record(speakers[Language.ENGLISH].instead),
        "drawings": drawings_record(plan, speakers),
        "square": square_record(plan),
        "level": level_record(ground),
        "posts": posts_record(ground),
        "boards": boards_record(plan),
        "timbers": timbers_record(plan),
        "steps": steps_record(plan, speakers),
        "log": [{"id": line.id, **files.line_row(line)} for line in plan.log.lines],
    }


def _before_gaps(plan: Plan) -> Plan:
    """Return the plan with its posts by the ground alone, so that the phone can take a gap back and measure it anew."""
    kept = tuple(line for line in plan.log.standing if line.what != "post-gap")
    if len(kept) == len(plan.log.standing):
        return plan
    return make_plan(plan.job, plan.shop, replace(plan.log, lines=kept) if kept else Log(lines=()))
