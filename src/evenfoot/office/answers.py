"""What is told back: findings in words, gravest first, and whether the plan is fine."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfoot.checks import Check
from evenfoot.plan import Plan
from evenfoot.words import Speaker

SHORTFALLS = frozenset({"fails", "outside_rule"})
"""Verdicts that make a plan fall short. What is not checked is told, but asks for a person, not for another plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding as a sentence, with what stands behind it."""

    verdict: str
    subject: str
    rule: str
    text: str
    demand: float | None
    capacity: float | None
    ratio: float | None
    unit: str
    source: str
    case: str
    place: str
    is_confirmed: bool


def findings_of(plan: Plan, speaker: Speaker) -> tuple[Finding, ...]:
    """Return every finding of a plan in words, the gravest first, then by how far it is used up."""
    return findings_in(plan.checks, speaker)


def findings_in(checks: Iterable[Check], speaker: Speaker) -> tuple[Finding, ...]:
    """Return findings in words, in the same order."""
    return tuple(
        Finding(
            verdict=c.verdict.value,
            subject=c.subject,
            rule=c.rule,
            text=speaker.check(c),
            demand=c.demand,
            capacity=c.capacity,
            ratio=c.ratio,
            unit=c.unit,
            source=c.source,
            case=c.case,
            place=c.place,
            is_confirmed=c.confirmed,
        )
        for c in in_order(checks)
    )


def in_order(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return findings, the gravest first, then by how far they are used up."""
    return tuple(sorted(checks, key=lambda c: (c.verdict.order, -(c.ratio or 0.0))))


def falls_short(findings: Sequence[Finding]) -> bool:
    """Return whether any finding is a shortfall: something fails or lies outside its rule."""
    return any(f.verdict in SHORTFALLS for f in findings)
