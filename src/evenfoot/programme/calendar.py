"""How working hours lie on the days of the calendar: crews rest at night and at the week's end, paint does not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

_WORKING_WEEK = 5
_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Moment:
    """A working moment: ``hour`` hours into working day ``day``, counted from 0."""

    day: int
    hour: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """Working days of ``hours_a_day`` hours; Monday to Friday from ``start``, every day where no start is known.

    Clock hours count from the beginning of the first working day, nights and weekends included.
    """

    hours_a_day: float
    start: date | None

    def date_of(self, day: int) -> date | None:
        """Return the date of a working day; None where no start is known. A start on a weekend moves to Monday."""
        if self.start is None:
            return None
        return self._first(self.start) + timedelta(days=self._offset(day))

    def clock(self, moment: Moment) -> float:
        """Return the clock hours that have passed at a working moment."""
        return 24.0 * self._offset(moment.day) + moment.hour

    def moment(self, clock: float) -> Moment:
        """Return the first working moment at or after ``clock`` hours."""
        passed = int(clock // 24.0)
        day = max(0, passed * _WORKING_WEEK // 7 - 2 if self.start is not None else passed - 1)
        while 24.0 * self._offset(day) + self.hours_a_day < clock - _NEAR:
            day += 1
        return Moment(day=day, hour=max(0.0, clock - 24.0 * self._offset(day)))

    def work(self, start: Moment, hours: float) -> tuple[Moment, Moment]:
        """Return when ``hours`` of the whole crew's work really begin and end, from ``start`` on."""
        if hours <= _NEAR:
            return start, start
        begin = start
        if self.hours_a_day - start.hour <= _NEAR:
            begin = Moment(day=start.day + 1, hour=0.0)
        spent = begin.hour + hours
        days = int((spent - _NEAR) // self.hours_a_day)
        return begin, Moment(day=begin.day + days, hour=spent - days * self.hours_a_day)

    def _offset(self, day: int) -> int:
        """Return how many calendar days after the first working day this one is."""
        if self.start is None:
            return day
        weekday = self._first(self.start).weekday() + day
        return day + 2 * (weekday // _WORKING_WEEK)

    @staticmethod
    def _first(start: date) -> date:
        late = start.weekday() - _WORKING_WEEK
        return start if late < 0 else start + timedelta(days=2 - late)
