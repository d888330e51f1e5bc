"""The programme of one job: the steps in order with their days, the upkeep after, and what stands against it."""

from __future__ import annotations

from evenfoot.checks import Check, Verdict
from evenfoot.estimate import Built, Estimate
from evenfoot.job import Job
from evenfoot.programme.activities import greatest_fall, list_activities
from evenfoot.programme.air import coating_checks, is_coated
from evenfoot.programme.calendar import Calendar
from evenfoot.programme.model import Programme, Upkeep, WorkStep
from evenfoot.programme.schedule import Placed, schedule
from evenfoot.tables import wood


def order_work(job: Job, built: Built, estimate: Estimate) -> Programme:
    """Return the steps in the order of the trade, spread over the crew's days, and the upkeep (note 062)."""
    calendar = Calendar(hours_a_day=job.crew.hours_a_day, start=job.crew.start)
    placed = schedule(list_activities(job, built, estimate), calendar=calendar, people=job.crew.people)
    numbers = {p.activity.key: number for number, p in enumerate(placed, start=1)}
    work = tuple(_step(p, numbers, calendar) for p in placed)
    return Programme(
        steps=work,
        days=max(s.day_to for s in work),
        upkeep=_upkeep(job),
        checks=(*coating_checks(job), *_guard(job, built)),
    )


def _step(placed: Placed, numbers: dict[str, int], calendar: Calendar) -> WorkStep:
    activity = placed.activity
    return WorkStep(
        number=numbers[activity.key],
        step=activity.step,
        marks=activity.marks,
        hours=activity.hours,
        wait_hours=activity.wait,
        day_from=placed.begin.day + 1,
        day_to=placed.end.day + 1,
        date_from=calendar.date_of(placed.begin.day),
        date_to=calendar.date_of(placed.end.day),
        after=tuple(sorted(numbers[key] for key in activity.after)),
        cautions=activity.cautions,
        how=activity.how,
    )


def _upkeep(job: Job) -> tuple[Upkeep, ...]:
    low, high = wood.sweep_years()
    sweep = Upkeep(what="clear-gaps", years_low=low, years_high=high)
    if not is_coated(job):
        return (sweep,)
    life = wood.coat_life(job.finish.kind)
    return (
        sweep,
        Upkeep(what="recoat-first", years_low=life.first[0], years_high=life.first[1]),
        Upkeep(what="recoat-later", years_low=life.later[0], years_high=life.later[1]),
    )


def _guard(job: Job, built: Built) -> tuple[Check, ...]:
    """Return whether a guard is asked at the edge; none is part of a plan, so a call for one stays unchecked."""
    rule = wood.guard(job.standard)
    if rule.fall is None:
        return ()
    height = greatest_fall(job, built)
    is_low = height <= rule.fall
    return (
        Check(
            subject="floor",
            rule="guard",
            verdict=Verdict.OK if is_low else Verdict.NOT_CHECKED,
            demand=height,
            capacity=rule.fall,
            ratio=height / rule.fall,
            unit="mm",
            source=rule.source,
            reason="" if is_low else "guard-not-planned",
            facts=(("guard_mm", rule.height),),
            confirmed=rule.is_confirmed,
        ),
    )
