"""When each step falls: one crew, one step at a time, and never before what it rests on is done and dry."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.programme.activities import Activity
from evenfoot.programme.calendar import Calendar, Moment

_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An activity and when it begins and ends."""

    activity: Activity
    begin: Moment
    end: Moment


def schedule(activities: Sequence[Activity], *, calendar: Calendar, people: int) -> tuple[Placed, ...]:
    """Return the activities in the order in which the crew does them.

    The crew takes the first step, in the order given, whose predecessors are done and dry; while everything that is
    left still dries it waits. ``activities`` must hold every predecessor before its successor.
    """
    placed: dict[str, Placed] = {}
    left = list(activities)
    now = Moment(day=0, hour=0.0)
    while left:
        ready = {a.key: _ready(a, placed, calendar) for a in left}
        waiting = [(clock, a) for a in left if (clock := ready[a.key]) is not None]
        assert waiting, "steps that wait for each other"
        free = [a for clock, a in waiting if clock <= calendar.clock(now) + _NEAR]
        if free:
            chosen = free[0]
        else:
            clock, chosen = min(waiting, key=lambda pair: pair[0])
            now = max(now, calendar.moment(clock))
        begin, end = calendar.work(now, chosen.hours / people)
        placed[chosen.key] = Placed(activity=chosen, begin=begin, end=end)
        now = end
        left.remove(chosen)
    return tuple(placed.values())


def _ready(activity: Activity, placed: dict[str, Placed], calendar: Calendar) -> float | None:
    """Return the clock hour from which an activity may begin; None while a predecessor has no place yet."""
    before = [placed.get(key) for key in activity.after]
    if any(p is None for p in before):
        return None
    return max((calendar.clock(p.end) + p.activity.wait for p in before if p is not None), default=0.0)
