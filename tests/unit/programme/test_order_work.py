"""The programme: nothing rests on air, no hour is lost, and paint gets its time."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from programme_factory import HOURS, coat, make_built, make_estimate, make_job, with_crew

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.programme import order_work
from evenfoot.tables import labour, steps
from evenfoot.words import Language, Speaker, catalogue


def order(job=None, estimate=None, *, kind=JointKind.LAP_OVER, ground=-400.0):
    job = make_job() if job is None else job
    return order_work(job, make_built(job, kind=kind, ground=ground), make_estimate() if estimate is None else estimate)


def names(programme):
    return [s.step for s in programme.steps]


def bare(job=None):
    job = make_job() if job is None else job
    return replace(job, finish=replace(job.finish, kind=kinds.Coating.NONE, coats=0))


KINDS = [JointKind.LAP_OVER, JointKind.HANGER, JointKind.BEARING]
JOBS = {
    "coated": make_job(),
    "bare": bare(),
    "alone": with_crew(make_job(), people=1, hours_a_day=5.0),
    "dated": with_crew(make_job(), start=date(2026, 11, 27)),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_nothing_rests_on_air(job, kind):
    programme = order(job, kind=kind)
    done: dict[int, object] = {}
    for number, step in enumerate(programme.steps, start=1):
        assert step.number == number
        for before in step.after:
            assert before in done, f"{step.step} before what it rests on"
            assert done[before].day_to <= step.day_from
        done[number] = step
    first = [s.step for s in programme.steps if not s.after]
    assert first == ["set-out"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_the_trades_order_of_what_bears_what_is_kept(job, kind):
    """Whatever falls away, footings come before the frame, posts after it is square, boards after the posts."""
    programme = order(job, kind=kind)
    reached: dict[int, set[int]] = {}
    for s in programme.steps:
        reached[s.number] = set(s.after).union(*(reached[n] for n in s.after))
    by_name = {s.step: s.number for s in programme.steps}
    chain = ["set-out", "footings", "frame", "square", "cut-posts", "set-posts", "boards", "hand-over"]
    for before, after in pairwise(chain):
        assert by_name[before] in reached[by_name[after]], (before, after)
    for step in programme.steps:
        if step.step != "hand-over":
            assert step.number in reached[by_name["hand-over"]]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_the_hours_of_the_steps_are_the_hours_of_the_estimate(job, kind):
    estimate = make_estimate()
    programme = order(job, estimate, kind=kind)
    assert sum(s.hours for s in programme.steps) == pytest.approx(sum(w.typical for w in estimate.work), abs=1e-9)


@pytest.mark.parametrize("task", [rate.task for rate in labour.rates()])
def test_each_task_of_the_labour_table_is_in_one_step_and_not_among_the_rest(task):
    programme = order(estimate=make_estimate({task: 3.7}), kind=JointKind.HANGER if task == "hanger" else KINDS[0])
    at = {s.step for s in programme.steps if s.hours > 0}
    assert len(at) == 1
    assert at != {"other"}
    assert sum(s.hours for s in programme.steps) == pytest.approx(3.7, abs=1e-12)


def test_a_task_that_no_step_knows_goes_to_other_work():
    programme = order(estimate=make_estimate({"boards-of-lead": 4.2, "set-out": 2.0}))
    assert [s.hours for s in programme.steps if s.step == "other"] == [4.2]
    assert "other" not in names(order())


def test_a_coating_task_without_its_own_step_is_not_lost():
    """Hidden faces are not coated first here, yet the estimate holds such work: it is done with the last coat."""
    job = make_job()
    job = replace(job, finish=replace(job.finish, hidden_first=False))
    estimate = make_estimate({"coat-before": 2.0, "seal-end": 0.5}, coats=(coat(1, 5.0, "after-laying"),))
    programme = order(job, estimate)
    assert [(s.step, s.hours) for s in programme.steps if s.hours] == [("last-coat", 2.5)]
    programme = order(bare(), make_estimate({"coat-before": 2.0}, coats=()))
    assert [(s.step, s.hours) for s in programme.steps if s.hours] == [("other", 2.0)]


def test_steps_follow_style_and_finish():
    lapped = names(order())
    assert "cut-joints" in lapped
    assert "hangers" not in lapped
    hung = names(order(kind=JointKind.HANGER))
    assert "hangers" in hung
    assert "cut-joints" not in hung
    plain = names(order(bare()))
    assert not {"coat-hidden", "last-coat"} & set(plain)


def test_the_frame_goes_together_in_the_order_of_the_joinery():
    frame = [s for s in order().steps if s.step == "frame"]
    assert [(s.how, s.marks) for s in frame] == [
        ("set-on-feet", ("1A-C", "2A-C")),
        ("lower-into-laps", ("A1-2", "B1-2", "C1-2")),
    ]
    assert frame[1].after == (frame[0].number,)
    assert [s.hours for s in frame] == pytest.approx([7.5 * 2 / 5, 7.5 * 3 / 5])


def test_hours_of_coats_are_shared_by_their_area():
    """Before assembly: 14 m2 once, 6 m2 again; brush and end-grain work together 5.4 h."""
    coats = [s for s in order().steps if s.step == "coat-hidden"]
    assert [s.hours for s in coats] == pytest.approx([5.4 * 0.7, 5.4 * 0.3])


def test_coats_wait_by_the_weather():
    """24 h at 20 degrees; at 10 degrees 48 h; at 75 % half as long again; the last one 72 h likewise."""

    def waits(temperature, humidity):
        job = make_job()
        job = replace(job, climate=replace(job.climate, temperature=temperature, humidity=humidity))
        return [s.wait_hours for s in order(job).steps if s.wait_hours]

    assert waits(20.0, 65.0) == pytest.approx([24.0, 24.0, 72.0])
    assert waits(10.0, 65.0) == pytest.approx([48.0, 48.0, 144.0])
    assert waits(20.0, 75.0) == pytest.approx([36.0, 36.0, 108.0])


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_no_step_begins_while_what_it_rests_on_is_wet(job):
    programme = order(job)
    by_number = {s.number: s for s in programme.steps}
    for step in programme.steps:
        for before in (by_number[n] for n in step.after):
            nights = step.day_from - before.day_to
            if job.crew.start is not None:
                nights = (step.date_from - before.date_to).days
            assert 24.0 * nights + job.crew.hours_a_day >= before.wait_hours


def test_the_crew_beds_the_footings_while_the_first_coat_dries():
    steps_done = names(order())
    assert steps_done.index("coat-hidden") < steps_done.index("footings") < len(steps_done) - 1
    assert steps_done[steps_done.index("footings") + 1] == "coat-hidden"


def test_two_people_need_half_the_days_of_one_on_a_bare_floor():
    hours = {task: h for task, h in HOURS.items() if not task.startswith(("coat", "seal"))}
    total = sum(hours.values())
    one = order(with_crew(bare(), people=1, hours_a_day=total / 10), make_estimate(hours, coats=()))
    two = order(with_crew(bare(), people=2, hours_a_day=total / 10), make_estimate(hours, coats=()))
    assert (one.days, two.days) == (10, 5)
    assert [s.hours for s in one.steps] == [s.hours for s in two.steps]


def test_working_days_of_the_crew_never_overlap():
    programme = order(with_crew(bare(), people=1, hours_a_day=2.0))
    for before, after in pairwise(programme.steps):
        assert before.day_from <= before.day_to <= after.day_from
    assert programme.days == programme.steps[-1].day_to


def test_dates_are_working_days_from_the_start():
    programme = order(with_crew(make_job(), start=date(2026, 11, 27), people=1))
    assert programme.steps[0].date_from == date(2026, 11, 27)
    assert all(s.date_from.weekday() < 5 and s.date_to.weekday() < 5 for s in programme.steps)
    assert all(s.date_from <= s.date_to for s in programme.steps)
    undated = order(with_crew(make_job(), people=1))
    assert all(s.date_from is None and s.date_to is None for s in undated.steps)


def cautions(programme):
    return {c for s in programme.steps for c in s.cautions}


def test_cautions_stand_where_they_belong():
    said = {s.step: s.cautions for s in order().steps}
    assert said["plane"] == ("planer", "dust")
    assert set(said["coat-hidden"]) == {"rags", "coat-air"}
    assert "feet" in said["frame"]


def test_cautions_are_left_out_where_nothing_calls_for_them():
    usual = cautions(order())
    assert not {"treated", "utilities", "lift", "guard"} & usual
    assert "rags" not in cautions(order(bare()))
    job = make_job()
    dug = replace(job, site=replace(job.site, ground=kinds.Ground.SOIL))
    assert "utilities" in cautions(order(dug))
    assert "treated" in cautions(order(make_job(species="treated_pine")))
    heavy = replace(job, frame=replace(job.frame, beam=replace(job.frame.beam, width=240.0, depth=240.0)))
    assert "lift" in cautions(order(heavy))
    assert "guard" in cautions(order(ground=-700.0))


def checks(job, **where):
    return {c.rule: c for c in order(job, **where).checks}


def weather(**changes):
    job = make_job()
    return replace(job, climate=replace(job.climate, **changes))


@pytest.mark.parametrize(
    ("changes", "rule", "remedy"),
    [
        ({"temperature": 4.9}, "coat-cold", "coat-wait-warmer"),
        ({"temperature": 30.1}, "coat-hot", "coat-wait-cooler"),
        ({"humidity": 85.1}, "coat-damp", "coat-wait-drier"),
        ({"humidity": 84.0}, "coat-dew", "coat-wait-drier"),
        ({"fixing": 18.1}, "coat-wet-timber", "coat-dry-timber"),
    ],
)
def test_air_and_timber_that_forbid_coating_are_found(changes, rule, remedy):
    check = checks(weather(**changes))[rule]
    assert check.verdict is Verdict.FAILS
    assert check.remedy == remedy


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"temperature": 5.0}, "coat-cold"),
        ({"temperature": 30.0}, "coat-hot"),
        ({"humidity": 85.0}, "coat-damp"),
        ({"humidity": 82.0}, "coat-dew"),
        ({"fixing": 18.0}, "coat-wet-timber"),
    ],
)
def test_air_and_timber_at_the_limit_may_be_coated(changes, rule):
    check = checks(weather(**changes))[rule]
    assert check.verdict is Verdict.OK
    assert check.remedy == ""


def test_in_air_that_forbids_coating_the_drying_time_is_that_at_the_limit():
    cold, limit = (order(weather(temperature=t)) for t in (-3.0, 5.0))
    assert [s.wait_hours for s in cold.steps] == [s.wait_hours for s in limit.steps]
    assert checks(weather(temperature=-20.0, humidity=99.0))["coat-cold"].verdict is Verdict.FAILS


def test_a_bare_floor_has_nothing_to_coat():
    assert not [r for r in checks(bare()) if r.startswith("coat")]
    assert [u.what for u in order(bare()).upkeep] == ["clear-gaps"]


def test_upkeep_follows_the_life_of_the_finish():
    upkeep = {u.what: (u.years_low, u.years_high) for u in order().upkeep}
    assert upkeep["recoat-first"] == (2.0, 3.0)
    assert upkeep["recoat-later"] == (4.0, 5.0)
    job = make_job()
    repellent = replace(job, finish=replace(job.finish, kind=kinds.Coating.WATER_REPELLENT))
    assert {u.what: u.years_low for u in order(repellent).upkeep}["recoat-first"] == 1.0


def standard(name):
    return replace(make_job(), standard=name)


def test_a_high_floor_asks_for_a_guard_that_no_plan_holds():
    """Boards' top at -20; ground at -782.1 lies 762.1 under it, at -782 exactly the 762 mm of the rule."""
    american = standard(kinds.Standard.NORTH_AMERICA)
    high = checks(american, ground=-782.1)["guard"]
    assert (high.verdict, high.reason) == (Verdict.NOT_CHECKED, "guard-not-planned")
    assert high.demand == pytest.approx(762.1)
    assert high.fact("guard_mm") == 914.0
    assert checks(american, ground=-782.0)["guard"].verdict is Verdict.OK
    assert checks(standard(kinds.Standard.EUROPE), ground=-620.1)["guard"].verdict is Verdict.NOT_CHECKED
    assert "guard" not in checks(standard(kinds.Standard.JAPAN), ground=-782.1)


@pytest.mark.parametrize("language", Language)
def test_everything_in_the_programme_can_be_said(language):
    speaker = Speaker(language)
    job = weather(temperature=2.0, humidity=90.0, fixing=30.0)
    job = replace(job, standard=kinds.Standard.EUROPE)
    programme = order(job, ground=-900.0)
    for check in programme.checks:
        assert "{" not in speaker.check(check)
    for step in programme.steps:
        assert speaker.say(f"step.{step.step}")
        assert all(speaker.say(f"caution.{c}") for c in step.cautions)
    assert all(f"upkeep.{u.what}" in catalogue() for u in programme.upkeep)
    assert all(f"step.{s.id}" in catalogue() for s in steps.trade_steps())


def test_ordering_twice_gives_the_same():
    assert order() == order()
