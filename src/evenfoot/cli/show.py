"""How an answer is shown: three lines first, detail after."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from evenfoot.words import Speaker

if TYPE_CHECKING:
    from evenfoot.office import answers, summary

SIGNS = {"fails": "×", "outside_rule": "△", "not_checked": "?", "ok": "○"}
"""The trade's own signs: a circle for good, a cross for bad, a triangle for in between."""
_MOST = 12
"""Findings listed after a plan; all of them are on the sheets and in ``check``."""


def plan_lines(
    brief: summary.Summary, findings: Sequence[answers.Finding], speaker: Speaker, folder: Path
) -> list[str]:
    """Return the answer to ``plan``: verdict, size and price; then what falls short; then where to look."""
    lines = [
        verdict_line(findings, speaker, name=brief.name),
        speaker.say(
            "cli.plan-size",
            rows=brief.rows,
            boards=brief.boards,
            timbers=brief.timbers,
            posts=brief.posts,
            shortest_mm=brief.shortest_post,
            longest_mm=brief.longest_post,
        ),
        speaker.say(
            "cli.plan-price",
            low=money(brief.price_low, brief.currency),
            high=money(brief.price_high, brief.currency),
            hours=f"{brief.hours:.0f}",
            days=brief.days,
            sticks=brief.sticks,
            proof_code="cli.cut-proved" if brief.is_cutting_proved else "cli.cut-not-proved",
        ),
    ]
    if brief.is_sample_price:
        lines.append(speaker.say("cli.sample-price"))
    grave = [f for f in findings if f.verdict != "ok"]
    lines += [finding_line(f, speaker) for f in grave[:_MOST]]
    if len(grave) > _MOST:
        lines.append(speaker.say("cli.more-findings", count=len(grave) - _MOST))
    lines.append(speaker.say("cli.look-at", place=str(folder)))
    return lines


def verdict_line(findings: Sequence[answers.Finding], speaker: Speaker, *, name: str) -> str:
    """Return the one sentence that says how a plan stands; what is not checked is said as plainly as what fails."""
    counts = {v: sum(f.verdict == v for f in findings) for v in SIGNS}
    if counts["fails"] or counts["outside_rule"]:
        code = "cli.verdict-short"
    elif counts["not_checked"]:
        code = "cli.verdict-unchecked"
    else:
        code = "cli.verdict-fine"
    return speaker.say(
        code,
        name=name,
        fails=counts["fails"],
        outside=counts["outside_rule"],
        unchecked=counts["not_checked"],
        ok=counts["ok"],
    )


def finding_line(finding: answers.Finding, speaker: Speaker) -> str:
    """Return one finding with its sign, how far it is used up, and its source."""
    parts = [SIGNS[finding.verdict], finding.text]
    if finding.ratio is not None:
        parts.append(f"{finding.ratio:.0%}")
    if finding.source:
        parts.append(f"[{finding.source}]")
    if not finding.is_confirmed:
        parts.append(speaker.say("cli.unconfirmed"))
    return " ".join(parts)


def money(amount: Decimal, currency: str) -> str:
    """Return an amount with its currency code, thousands apart."""
    return f"{currency} {amount:,}"
