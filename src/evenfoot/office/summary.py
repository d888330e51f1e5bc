"""The plan in a few numbers: what a carpenter wants to hear first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.cutting import told
from evenfoot.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """Counts, post lengths [mm], money in ``currency`` and time of one plan."""

    name: str
    verdict: str
    rows: int
    boards: int
    timbers: int
    posts: int
    shortest_post: float
    longest_post: float
    sticks: int
    is_cutting_proved: bool
    currency: str
    price_low: Decimal
    price_high: Decimal
    is_sample_price: bool
    """True while the prices are the shipped samples, not asked from a yard."""
    hours: float
    days: int
    findings: Mapping[str, int]
    """Number of findings by verdict."""


def summarise(plan: Plan) -> Summary:
    """Return the plan in a few numbers."""
    lengths = [c.length for c in plan.posts.cuts if c.is_cut]
    counts: dict[str, int] = {}
    for check in plan.checks:
        counts[check.verdict.value] = counts.get(check.verdict.value, 0) + 1
    return Summary(
        name=plan.job.name,
        verdict=plan.verdict.value,
        rows=len(plan.layout.rows),
        boards=len(plan.layout.pieces),
        timbers=len(plan.frame.members),
        posts=len(lengths),
        shortest_post=min(lengths, default=0.0),
        longest_post=max(lengths, default=0.0),
        sticks=told.tally(plan.cutting.sections).sticks,
        is_cutting_proved=all(s.is_proved for s in plan.cutting.sections),
        currency=plan.estimate.currency,
        price_low=plan.estimate.total.low,
        price_high=plan.estimate.total.high,
        is_sample_price=plan.shop.is_sample,
        hours=sum(w.typical for w in plan.estimate.work),
        days=plan.programme.days,
        findings=counts,
    )
