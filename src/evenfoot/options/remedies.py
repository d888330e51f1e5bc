"""Tries changes of a job one at a time, and tells which first make a part pass and what each costs (note 099)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.errors import EvenfootError
from evenfoot.options.changes import Change, changes_for
from evenfoot.options.parts import Part, Shortfall, roles_of, shortfalls
from evenfoot.plan import Memory, Plan, frame_only, make_plan

MOST_TRIALS = 60
"""Frames that are tried in one search."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One change tried. ``left`` counts findings of its part that still fall short, ``elsewhere`` those that it adds.

    ``extra_low`` and ``extra_high`` are what it costs besides, in the shop's currency; None where it does not pass, or
    the job cannot be built so (``fault`` is then the code of the first fault).
    """

    change: Change
    left: int
    elsewhere: int
    extra_low: Decimal | None = None
    extra_high: Decimal | None = None
    fault: str = ""

    @property
    def passes(self) -> bool:
        """Whether its part passes with it and nothing else falls short that did not before."""
        return not self.fault and self.left == 0 and self.elsewhere == 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedies:
    """What was tried for one part that falls short, in order; ``first`` and ``cheapest`` pass, if any does."""

    shortfall: Shortfall
    trials: tuple[Trial, ...]

    @property
    def first(self) -> Trial | None:
        """The first that passes."""
        return next((t for t in self.trials if t.passes), None)

    @property
    def cheapest(self) -> Trial | None:
        """The one that passes at the least price; the first of equals."""
        passing = [t for t in self.trials if t.passes]
        return min(passing, key=lambda t: (t.extra_high or Decimal(0), t.extra_low or Decimal(0)), default=None)


def find_remedies(
    plan: Plan, *, memory: Memory | None = None, on_trial: Callable[[], None] | None = None
) -> tuple[Remedies, ...]:
    """Return for each part that falls short in strength what was tried, in order, each by itself on the whole job.

    Each way (a larger section, closer timbers, another joint ...) is followed until it passes or its steps end. The
    same plan gives the same answer; at most ``MOST_TRIALS`` frames are tried. ``on_trial`` is called before each.
    """
    search = _Search(plan, memory or Memory(), on_trial or _silent)
    return tuple(search.remedies(short) for short in search.before)


def _silent() -> None:
    """Tell nobody."""


class _Search:
    """One search: the plan it starts from, what falls short in it, and how many trials are left."""

    def __init__(self, plan: Plan, memory: Memory, on_trial: Callable[[], None]) -> None:
        self._plan = plan
        self._memory = memory
        self._tell = on_trial
        self._left = MOST_TRIALS
        self.before = shortfalls(plan.strength.checks, roles_of(plan))
        self._counts = _counts(self.before)

    def remedies(self, short: Shortfall) -> Remedies:
        """Return what was tried for one part."""
        done: set[str] = set()
        trials: list[Trial] = []
        changes = changes_for(short.part, self._plan.job, self._plan.yard, wanted_base=_wanted(short.checks))
        for change in changes:
            if change.kind in done or self._left <= 0:
                continue
            self._left -= 1
            self._tell()
            trial = self._try(short.part, change)
            trials.append(trial)
            if trial.passes:
                done.add(change.kind)
        return Remedies(shortfall=short, trials=tuple(trials))

    def _try(self, part: Part, change: Change) -> Trial:
        plan = self._plan
        try:
            framed = frame_only(change.job, plan.shop, plan.log, memory=self._memory)
            counts = _counts(shortfalls(framed.strength.checks, roles_of(framed)))
            others = sum(max(0, n - self._counts.get(p, 0)) for p, n in counts.items() if p is not part)
            trial = Trial(change=change, left=counts.get(part, 0), elsewhere=others)
            if not trial.passes:
                return trial
            total = make_plan(change.job, plan.shop, plan.log, memory=self._memory).estimate.total
        except EvenfootError as error:
            return Trial(change=change, left=0, elsewhere=0, fault=error.fault.code)
        was = plan.estimate.total
        return Trial(
            change=change, left=0, elsewhere=0, extra_low=total.low - was.low, extra_high=total.high - was.high
        )


def _counts(found: tuple[Shortfall, ...]) -> Mapping[Part, int]:
    return {short.part: len(short.checks) for short in found}


def _wanted(checks: tuple[Check, ...]) -> float | None:
    """Return the widest base that the findings of footings name [mm]."""
    sizes = [value for c in checks for name, value in c.facts if name == "wanted_mm" and isinstance(value, float)]
    return max(sizes, default=None)
