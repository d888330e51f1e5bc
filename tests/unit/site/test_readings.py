"""From rods, levels and the log to the readings that stand."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from ground_factory import empty_log, level_line, make_log, make_site, rods, station

from evenfoot.checks import Verdict
from evenfoot.errors import JobFileError
from evenfoot.site import read_ground
from evenfoot.site.readings import take_readings

FOUR = [("a", 0, 0, -300), ("b", 3000, 0, -310), ("c", 3000, 2000, -345), ("d", 0, 2000, -332)]


def check(ground, rule):
    return next(c for c in ground.checks if c.rule == rule)


def test_a_level_is_the_known_point_plus_backsight_minus_rod():
    site = make_site(stations=[station(rods(("a", 10, 20, 1633.0)), on=-17.0, backsight=1187.0)])
    (only,) = take_readings(site, empty_log).readings
    assert (only.x, only.y, only.z) == (10, 20, -17.0 + 1187.0 - 1633.0)
    assert only.sigma == pytest.approx(3.0 / 1.96)


def test_a_closing_error_that_is_allowed_is_shared_out_in_the_order_of_reading():
    readings = rods(("a", 0, 0, 1500.0), ("b", 1000, 0, 1510.0), ("c", 2000, 0, 1520.0))
    survey = take_readings(make_site(stations=[station(readings, closing=1204.0)]), empty_log)
    assert [r.z for r in survey.readings] == [-300 + 1.0, -310 + 2.0, -320 + 3.0]
    (closing,) = survey.closings
    assert (closing.error, closing.is_shared_out) == (4.0, True)
    assert closing.allowed == pytest.approx(math.sqrt(2) * 3.0)


def test_sharing_out_brings_back_levels_read_with_a_line_of_sight_that_rose_evenly():
    true = [-300.0, -317.0, -290.0, -333.0]
    drift = 0.8
    readings = rods(*((f"r{k}", 500.0 * k, 0.0, 1200.0 - z + drift * (k + 1)) for k, z in enumerate(true)))
    site = make_site(stations=[station(readings, closing=1200.0 + drift * 5)])
    assert [r.z for r in take_readings(site, empty_log).readings] == pytest.approx(true, abs=1e-9)


def test_a_closing_error_that_is_too_big_is_not_shared_out_but_makes_every_reading_less_sure():
    readings = rods(("a", 0, 0, 1500.0), ("b", 1000, 0, 1510.0))
    site = make_site(stations=[station(readings, closing=1204.5)])
    survey = take_readings(site, empty_log)
    assert [r.z for r in survey.readings] == [-300, -310]
    assert [r.sigma for r in survey.readings] == pytest.approx([math.hypot(3 / 1.96, 4.5 / math.sqrt(3))] * 2)
    found = next(c for c in survey.checks if c.rule == "closing-error")
    assert (found.verdict, found.demand, found.remedy) == (Verdict.FAILS, 4.5, "survey-again")


@pytest.mark.parametrize(
    ("closing", "verdict"), [(1204.24, Verdict.OK), (1204.25, Verdict.FAILS), (1195.7, Verdict.FAILS)]
)
def test_the_closing_error_is_allowed_up_to_root_two_times_the_accuracy(closing, verdict):
    site = make_site(stations=[station(rods(("a", 0, 0, 1500.0)), closing=closing)])
    assert check(read_ground(site, empty_log), "closing-error").verdict is verdict


def test_a_station_that_was_not_closed_is_said():
    ground = read_ground(make_site(stations=[station(rods(("a", 0, 0, 1500.0)))]), empty_log)
    assert check(ground, "closing-not-read").verdict is Verdict.NOT_CHECKED
    assert ground.closings == ()


def test_a_later_reading_within_50_mm_supersedes_and_one_further_off_does_not():
    near = take_readings(make_site(FOUR), make_log(level_line("a", -303.0, x=40.0, y=30.0)))
    assert [(r.name, r.z) for r in near.readings if r.x < 100 and r.y < 100] == [("a", -303.0)]
    away = take_readings(make_site(FOUR), make_log(level_line("e", -303.0, x=41.0, y=30.0)))
    assert [r.z for r in away.readings if r.x < 100 and r.y < 100] == [-300.0, -303.0]


def test_a_log_line_without_a_place_stands_where_its_name_stands():
    survey = take_readings(make_site(FOUR), make_log(level_line("c", -347.0, accuracy=1.0)))
    (c,) = (r for r in survey.readings if r.name == "c")
    assert (c.x, c.y, c.z) == (3000, 2000, -347.0)
    assert c.sigma == pytest.approx(1 / 1.96)


def test_two_log_lines_on_one_place_leave_the_last():
    log = make_log(level_line("c", -347.0), level_line("c", -349.0))
    assert [r.z for r in take_readings(make_site(FOUR), log).readings if r.name == "c"] == [-349.0]


def test_other_lines_of_the_log_are_no_levels():
    log = make_log(level_line("A1", 231.0, what="post-gap"))
    assert len(take_readings(make_site(FOUR), log).readings) == 4


def test_two_readings_of_the_job_at_one_place_that_disagree_are_a_finding_and_log_readings_are_not():
    site = make_site([*FOUR, ("a2", 10, 0, -306)])
    found = check(read_ground(site, empty_log), "same-place")
    assert (found.verdict, found.demand) == (Verdict.FAILS, 6.0)
    assert found.fact("earlier") == "a"
    ground = read_ground(make_site(FOUR), make_log(level_line("a", -306.0)))
    assert all(c.rule != "same-place" for c in ground.checks)


@pytest.mark.parametrize(
    ("site", "log", "code", "where", "found"),
    [
        (make_site([]), empty_log, "no-level-readings", "site", "0"),
        (make_site(FOUR, accuracy=0.0), empty_log, "accuracy-not-positive", "site.accuracy", "0"),
        (make_site(FOUR), make_log(level_line("q", -3.0, where="log:7")), "level-without-place", "log:7", "q"),
        (
            make_site(FOUR),
            make_log(level_line("a", -3.0, accuracy=-1.0, where="log:2")),
            "accuracy-not-positive",
            "log:2.accuracy",
            "-1",
        ),
    ],
)
def test_what_cannot_be_read_is_a_fault_with_its_place(site, log, code, where, found):
    with pytest.raises(JobFileError) as caught:
        read_ground(site, log)
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == (code, where, found)
