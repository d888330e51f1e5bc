"""Laws of the schedule over any graph of steps."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.programme.activities import Activity
from evenfoot.programme.calendar import Calendar
from evenfoot.programme.schedule import schedule


@st.composite
def graphs(draw):
    count = draw(st.integers(1, 9))
    return [
        Activity(
            key=f"s{n}",
            step="frame",
            after=tuple(f"s{k}" for k in range(n) if draw(st.booleans())),
            hours=draw(st.sampled_from([0.0, 0.5, 3.0, 17.25])),
            wait=draw(st.sampled_from([0.0, 0.0, 24.0, 61.5])),
        )
        for n in range(count)
    ]


calendars = st.builds(
    Calendar,
    hours_a_day=st.sampled_from([1.0, 7.5, 8.0]),
    start=st.sampled_from([None, date(2026, 11, 27), date(2026, 11, 28)]),
)


@settings(max_examples=120)
@given(activities=graphs(), calendar=calendars, people=st.integers(1, 4))
def test_every_step_comes_once_after_what_it_rests_on_is_done_and_dry(activities, calendar, people):
    placed = schedule(activities, calendar=calendar, people=people)
    assert sorted(p.activity.key for p in placed) == sorted(a.key for a in activities)
    ends = {}
    for p in placed:
        for key in p.activity.after:
            assert calendar.clock(p.begin) >= ends[key] - 1e-6
        ends[p.activity.key] = calendar.clock(p.end) + p.activity.wait


@settings(max_examples=120)
@given(activities=graphs(), calendar=calendars, people=st.integers(1, 4))
def test_the_crew_does_one_step_at_a_time_in_working_hours(activities, calendar, people):
    placed = schedule(activities, calendar=calendar, people=people)
    for p in placed:
        assert 0.0 <= p.begin.hour <= calendar.hours_a_day + 1e-6
        assert 0.0 <= p.end.hour <= calendar.hours_a_day + 1e-6
        days = p.end.day - p.begin.day
        worked = days * calendar.hours_a_day + p.end.hour - p.begin.hour
        assert worked == pytest.approx(p.activity.hours / people, abs=1e-6)
    for before, after in pairwise(placed):
        assert calendar.clock(before.end) <= calendar.clock(after.begin) + 1e-6


@settings(max_examples=60)
@given(activities=graphs(), calendar=calendars)
def test_without_drying_the_crew_never_stands_still(activities, calendar):
    dry = [Activity(key=a.key, step=a.step, after=a.after, hours=a.hours) for a in activities]
    last = schedule(dry, calendar=calendar, people=1)[-1].end
    spent = last.day * calendar.hours_a_day + last.hour
    assert spent == pytest.approx(sum(a.hours for a in dry), abs=1e-6)


def test_a_ring_of_steps_is_a_broken_invariant():
    ring = [Activity(key=k, step="frame", after=(o,), hours=1.0) for k, o in (("a", "b"), ("b", "a"))]
    with pytest.raises(AssertionError):
        schedule(ring, calendar=Calendar(hours_a_day=8.0, start=None), people=1)
