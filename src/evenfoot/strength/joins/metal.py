"""Whether hangers, butt joints and hold-downs bear what comes on them, by the values that makers give (note 097)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from evenfoot.checks import Check, Verdict, compare
from evenfoot.job import Job


def enter_makers(job: Job, checks: Iterable[Check]) -> Iterator[Check]:
    """Yield the checks, those left open for want of a maker's value checked against it where the job has one."""
    for check in checks:
        yield _entered(job, check) if check.verdict is Verdict.NOT_CHECKED else check


def _entered(job: Job, check: Check) -> Check:
    makers = job.makers
    known = {
        "hangers": (makers.hanger, "hangers-bear", "stronger-hanger"),
        "butt-joints": (makers.butt, "butt-joints-bear", "stronger-butt"),
        "tipping": (makers.hold_down, "hold-down-bears", "hold-down"),
    }
    may, rule, remedy = known.get(check.rule, (None, "", ""))
    if not may or check.demand is None:
        return check
    found = compare(
        subject=check.subject,
        rule=rule,
        demand=check.demand,
        capacity=may,
        unit="N",
        source=makers.where,
        remedy=remedy,
    )
    facts = (*check.facts, ("demand_n", float(round(check.demand))), ("capacity_n", may))
    return replace(found, case=check.case, place=check.place, facts=facts, confirmed=check.confirmed)
