"""A remedy that is taken over makes the very job that was tried, whatever unit the job is typed in."""

import pytest

from evenfoot.job import files, read_shop
from evenfoot.office import remedies, speaker_for
from evenfoot.office.desk import Desk, Texts, blank_job, change_job
from evenfoot.options import Part
from evenfoot.options.changes import changes_for
from evenfoot.plan import make_plan
from evenfoot.units import format_typed
from evenfoot.words import Language

JOBS = {
    "mm": blank_job("Yard", "japan", Language.ENGLISH).job,
    "shaku": blank_job("Yard", "japan", Language.ENGLISH).job.replace('unit = "mm"', 'unit = "shaku"'),
    "in": blank_job("Yard", "north-america", Language.ENGLISH).job,
    "m": blank_job("Yard", "europe", Language.ENGLISH).job,
}


def changes_of(text):
    job = files.parse_job(text)
    yard = make_plan(job, read_shop(None, job.standard), files.read_log(None)).yard
    for part in Part:
        yield from ((job, change) for change in changes_for(part, job, yard, wanted_base=417.3))


@pytest.mark.parametrize("unit", [unit for unit in JOBS if unit != "shaku"])
@pytest.mark.parametrize("style", ["flush", "stacked"])
def test_the_fields_of_a_change_make_the_job_that_was_tried(unit, style):
    text = change_job(JOBS[unit], {"frame.style": style})
    found = list(changes_of(text))
    assert {"closer-joists", "larger-footing"} <= {change.code for _, change in found}
    for job, change in found:
        typed = {
            key: value if isinstance(value, str) else format_typed(value, unit=job.unit) for key, value in change.keys
        }
        assert files.parse_job(change_job(text, typed)) == change.job, change.code


WEAK = {"frame.joist.spacing_max": "900", "frame.beam.spacing_max": "1800", "frame.post.spacing_max": "1800"}


@pytest.mark.slow
def test_what_is_told_of_a_remedy_cures_its_part_once_its_fields_are_typed():
    text = change_job(JOBS["mm"], {**WEAK, "frame.style": "stacked"})
    desk = Desk()
    plan = desk.plan(0, Texts(job=text))
    passing = [
        (one, tried)
        for one in remedies.remedies_for(plan, speaker_for(plan, Language.ENGLISH))
        for tried in one.tried
        if tried.passes
    ]
    assert passing
    for one, tried in passing:
        cured = desk.plan(0, Texts(job=change_job(text, tried.changes)))
        left = remedies.remedies_for(cured, speaker_for(cured, Language.ENGLISH))
        assert one.part not in {other.part for other in left}
        assert cured.estimate.total.high - plan.estimate.total.high == tried.extra_high
