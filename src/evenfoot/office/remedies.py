"""What would make a plan pass, in words: each change that was tried, whether it passes, and what it costs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.options import Remedies, Trial, find_remedies
from evenfoot.plan import Memory, Plan
from evenfoot.units import format_typed
from evenfoot.words import Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One change that was tried; ``extra_low`` and ``extra_high`` are its price besides, None unless it passes.

    ``changes`` are the keys of the job file that make it so, as they are typed.
    """

    code: str
    changes: Mapping[str, str]
    text: str
    passes: bool
    is_first: bool
    is_cheapest: bool
    extra_low: Decimal | None
    extra_high: Decimal | None
    currency: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """What was tried for one part of the floor that falls short, in order."""

    part: str
    findings: int
    worst: str
    text: str
    tried: tuple[Tried, ...]


def remedies_for(plan: Plan, speaker: Speaker, *, on_trial: Callable[[], None] | None = None) -> tuple[Remedy, ...]:
    """Return for each part that falls short in strength what was tried and what it comes to."""
    found = find_remedies(plan, memory=Memory(), on_trial=on_trial)
    return tuple(_remedy(one, plan, speaker) for one in found)


def _remedy(found: Remedies, plan: Plan, speaker: Speaker) -> Remedy:
    short = found.shortfall
    part = f"option-part.{short.part}"
    return Remedy(
        part=short.part.value,
        findings=len(short.checks),
        worst=short.worst.subject,
        text=speaker.say(
            "option.heading", part_code=part, findings=len(short.checks), worst=speaker.mark(short.worst.subject)
        ),
        tried=tuple(_tried(trial, found, plan, speaker) for trial in found.trials),
    )


def _tried(trial: Trial, found: Remedies, plan: Plan, speaker: Speaker) -> Tried:
    what = speaker.say(f"option.{trial.change.code}", **dict(trial.change.facts))
    if trial.passes:
        end = speaker.say("option.passes")
    elif trial.fault:
        end = speaker.say("option.cannot-be-built")
    elif trial.left:
        end = speaker.say("option.left", left=trial.left)
    else:
        end = speaker.say("option.elsewhere", elsewhere=trial.elsewhere)
    return Tried(
        code=trial.change.code,
        changes={key: _typed(value, plan.job.unit) for key, value in trial.change.keys},
        text=speaker.say("option.line", what=what, end=end),
        passes=trial.passes,
        is_first=trial is found.first,
        is_cheapest=trial is found.cheapest,
        extra_low=trial.extra_low,
        extra_high=trial.extra_high,
        currency=plan.estimate.currency,
    )


def _typed(value: float | str, unit: str) -> str:
    return value if isinstance(value, str) else format_typed(value, unit=unit)
