"""Whether a ledger's fixings stand close enough by the published table, and how many that makes (note 097)."""

from __future__ import annotations

from collections.abc import Iterable

from evenfoot.checks import Check, Verdict, compare
from evenfoot.errors import OutOfRangeError
from evenfoot.job import Job, kinds
from evenfoot.rules import ledgers
from evenfoot.tables import safety

_SUBJECT = "ledger"


def check_ledger(job: Job, *, length: float, joist_spans: Iterable[float]) -> tuple[Check, ...]:
    """Return the check of a ledger's spacing, nothing where the job has no ledger.

    The table is a prescriptive one of North America; elsewhere, and beyond its spans, nothing is claimed.

    Args: length, of the ledger [mm]; joist_spans, of the joists that rest on it [mm].
    """
    ledger = job.frame.ledger
    if ledger is None:
        return ()
    span = max(joist_spans, default=0.0)
    facts = (
        ("fixing_code", f"ledger-fixing.{ledger.fixing}"),
        ("joist_span_mm", span),
        ("typed_mm", ledger.spacing),
        ("length_mm", length),
    )
    if job.standard is not kinds.Standard.NORTH_AMERICA:
        return (_open("ledger-table-elsewhere", ledger.where, facts),)
    row = safety.ledger_row(fixing=ledger.fixing, joist_span=span)
    if row is None:
        longest = max(safety.ledger_spans())
        return (_open("ledger-span-unknown", ledger.where, (*facts, ("longest_mm", longest))),)
    try:
        count, even = ledgers.fixings_in(length=length, end=ledger.end, apart=min(ledger.spacing, row.spacing))
    except OutOfRangeError:
        return (_open("ledger-too-short", ledger.where, facts),)
    return (
        compare(
            subject=_SUBJECT,
            rule="ledger-spacing",
            demand=ledger.spacing,
            capacity=row.spacing,
            unit="mm",
            source=row.source,
            remedy="closer-fixings",
            facts=(*facts, ("count", count), ("even_mm", even), ("end_mm", ledger.end)),
            confirmed=row.is_confirmed,
        ),
    )


def _open(reason: str, source: str, facts: tuple[tuple[str, str | float], ...]) -> Check:
    return Check(
        subject=_SUBJECT, rule="ledger", verdict=Verdict.NOT_CHECKED, source=source, reason=reason, facts=facts
    )
