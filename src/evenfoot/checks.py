"""What a finding is: one check of one thing, with what it asked, what it can bear, and the verdict."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

Fact = tuple[str, str | float]


class Verdict(StrEnum):
    """How a check ended, the gravest first. Silence is never ``ok``."""

    FAILS = "fails"
    OUTSIDE_RULE = "outside_rule"
    NOT_CHECKED = "not_checked"
    OK = "ok"

    @property
    def order(self) -> int:
        """Return 0 for the gravest verdict, counting up to ``ok``."""
        return list(Verdict).index(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One finding as data; ``words`` turns it into a sentence.

    ``subject`` is the mark of a timber, post, joint or board, or a place such as ``site``.
    ``rule`` is a code (``check.<rule>`` in the catalogue); ``reason`` and ``remedy`` are codes too.
    ``demand`` and ``capacity`` carry ``unit``; ``ratio`` is demand over capacity, None where it has no meaning.
    ``facts`` are the placeholders of the sentence. ``confirmed`` is False where a value behind it is unconfirmed.
    """

    subject: str
    rule: str
    verdict: Verdict
    demand: float | None = None
    capacity: float | None = None
    ratio: float | None = None
    unit: str = ""
    source: str = ""
    case: str = ""
    place: str = ""
    reason: str = ""
    remedy: str = ""
    facts: tuple[Fact, ...] = ()
    confirmed: bool = True

    def fact(self, name: str) -> str | float:
        """Return one fact by name; raises KeyError when the check does not hold it."""
        return dict(self.facts)[name]


def compare(  # noqa: PLR0913 - a check is its facts; every one is keyword-only
    *,
    subject: str,
    rule: str,
    demand: float,
    capacity: float,
    unit: str,
    source: str,
    case: str = "",
    place: str = "",
    reason: str = "",
    remedy: str = "",
    facts: tuple[Fact, ...] = (),
    confirmed: bool = True,
) -> Check:
    """Return a check that is ``ok`` when demand does not exceed capacity (both in ``unit``), else ``fails``."""
    assert capacity > 0, "a capacity of nothing is an outside_rule, not a ratio"
    ratio = demand / capacity
    verdict = Verdict.OK if ratio <= 1.0 else Verdict.FAILS
    return Check(
        subject=subject,
        rule=rule,
        verdict=verdict,
        demand=demand,
        capacity=capacity,
        ratio=ratio,
        unit=unit,
        source=source,
        case=case,
        place=place,
        reason=reason,
        remedy=remedy if verdict is Verdict.FAILS else "",
        facts=facts,
        confirmed=confirmed,
    )


def worst(checks: Iterable[Check]) -> Verdict:
    """Return the gravest verdict: fails, then outside_rule, then not_checked, then ok (also for no checks)."""
    return min((c.verdict for c in checks), key=lambda v: v.order, default=Verdict.OK)
