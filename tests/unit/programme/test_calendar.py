"""Working hours on the days of the calendar."""

from __future__ import annotations

from datetime import date

import pytest

from evenfoot.programme.calendar import Calendar, Moment

PLAIN = Calendar(hours_a_day=7.5, start=None)
FROM_THURSDAY = Calendar(hours_a_day=7.5, start=date(2026, 11, 26))


def test_without_a_start_every_day_is_a_working_day_and_has_no_date():
    assert PLAIN.clock(Moment(day=9, hour=1.5)) == 9 * 24 + 1.5
    assert PLAIN.date_of(9) is None


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (0, date(2026, 11, 26)),
        (1, date(2026, 11, 27)),
        (2, date(2026, 11, 30)),
        (6, date(2026, 12, 4)),
        (7, date(2026, 12, 7)),
        (12, date(2026, 12, 14)),
    ],
)
def test_crews_rest_at_the_weekend(day, expected):
    assert FROM_THURSDAY.date_of(day) == expected
    assert FROM_THURSDAY.date_of(day).weekday() < 5


@pytest.mark.parametrize("saturday_or_sunday", [28, 29])
def test_a_start_at_the_weekend_moves_to_monday(saturday_or_sunday):
    calendar = Calendar(hours_a_day=7.5, start=date(2026, 11, saturday_or_sunday))
    assert calendar.date_of(0) == date(2026, 11, 30)
    assert calendar.date_of(5) == date(2026, 12, 7)


@pytest.mark.parametrize(
    ("start", "hours", "begin", "end"),
    [
        (Moment(day=0, hour=0.0), 7.5, Moment(day=0, hour=0.0), Moment(day=0, hour=7.5)),
        (Moment(day=0, hour=7.5), 1.0, Moment(day=1, hour=0.0), Moment(day=1, hour=1.0)),
        (Moment(day=0, hour=6.5), 2.0, Moment(day=0, hour=6.5), Moment(day=1, hour=1.0)),
        (Moment(day=1, hour=3.0), 19.5, Moment(day=1, hour=3.0), Moment(day=3, hour=7.5)),
        (Moment(day=2, hour=7.5), 0.0, Moment(day=2, hour=7.5), Moment(day=2, hour=7.5)),
    ],
)
def test_work_runs_on_over_the_days(start, hours, begin, end):
    assert PLAIN.work(start, hours) == (begin, end)


@pytest.mark.parametrize("calendar", [PLAIN, FROM_THURSDAY, Calendar(hours_a_day=24.0, start=date(2026, 11, 25))])
def test_the_first_moment_after_a_clock_hour_is_the_first(calendar):
    """Against a walk over all days from the beginning."""
    for tenth in range(0, 6000, 7):
        clock = tenth / 10
        day = 0
        while calendar.clock(Moment(day=day, hour=calendar.hours_a_day)) < clock:
            day += 1
        expected = Moment(day=day, hour=max(0.0, clock - calendar.clock(Moment(day=day, hour=0.0))))
        assert calendar.moment(clock) == expected


def test_paint_dries_over_the_weekend():
    """Coated until Friday noon, 48 h of drying end on Sunday: Monday morning goes on."""
    friday = Moment(day=1, hour=4.0)
    assert FROM_THURSDAY.moment(FROM_THURSDAY.clock(friday) + 48.0) == Moment(day=2, hour=0.0)
    assert PLAIN.moment(PLAIN.clock(friday) + 48.0) == Moment(day=3, hour=4.0)
