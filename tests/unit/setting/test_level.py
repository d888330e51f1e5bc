"""How the frame lies and which feet to turn."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenfoot.errors import OutOfRangeError
from evenfoot.setting.level import Instrument, Sight, Spot, Thread, Turns, best_turns, lie_of, order_visits, survey
from evenfoot.setting.level.turns import Press

GOOD = Instrument(reading=1.0, tilt=0.0003)
PLACES = {"A1": (0.0, 0.0), "C1": (3612.0, 0.0), "C3": (3612.0, 2744.0), "A3": (0.0, 2744.0)}


def rods(heights, *, stand="1", line=1500.0, away=None, tilt=0.0):
    away = away or {}
    return [
        Sight(stand=stand, mark=m, value=line - z + tilt * away.get(m, 0.0), is_down=True, away=away.get(m))
        for m, z in heights.items()
    ]


def spots(places=PLACES, free=(), planned=None):
    planned = planned or {}
    return {m: Spot(mark=m, at=at, planned=planned.get(m, 0.0), is_foot=m not in free) for m, at in places.items()}


HEIGHTS = {"A1": 3.0, "C1": -2.0, "C3": 1.5, "A3": -0.5}


def test_a_larger_rod_reading_is_lower():
    found = survey(rods(HEIGHTS), GOOD)
    mean = sum(HEIGHTS.values()) / 4
    assert found.heights == pytest.approx([z - mean for z in HEIGHTS.values()], abs=1e-9)


def test_levels_read_upward_and_rods_agree():
    up = [Sight(stand="up", mark=m, value=z - 460.0, is_down=False) for m, z in HEIGHTS.items()]
    assert survey(up, GOOD).heights == pytest.approx(survey(rods(HEIGHTS), GOOD).heights, abs=1e-9)


def test_a_height_is_as_sure_as_its_reading_against_the_mean_of_all():
    found = survey(rods(HEIGHTS), Instrument(reading=1.0, tilt=0.0003))
    assert found.sure(0) == pytest.approx(math.sqrt(1 - 1 / 4), rel=1e-6)


def test_far_marks_are_less_sure_by_the_distance_times_the_tilt():
    away = {"A1": 1000.0, "C1": 1000.0, "C3": 9000.0, "A3": 9000.0}
    found = survey(rods(HEIGHTS, away=away), Instrument(reading=1e-3, tilt=0.0003))
    assert found.sure(0) == pytest.approx(0.0003 * 4000.0, rel=1e-4)


def test_the_same_distance_to_all_marks_takes_the_tilt_out():
    away = dict.fromkeys(HEIGHTS, 4000.0)
    found = survey(rods(HEIGHTS, away=away, tilt=0.002), GOOD)
    mean = sum(HEIGHTS.values()) / 4
    assert found.heights == pytest.approx([z - mean for z in HEIGHTS.values()], abs=1e-6)
    assert found.sure(0) == pytest.approx(math.sqrt(1 - 1 / 4), rel=1e-6)


def test_two_way_readings_find_the_tilt_and_are_surer_than_one_way():
    near = {"A1": 1000.0, "C1": 4000.0, "C3": 5000.0, "A3": 2900.0}
    far = {"A1": 4000.0, "C1": 1000.0, "C3": 2900.0, "A3": 5000.0}
    one = rods(HEIGHTS, away=near, tilt=0.001)
    two = one + rods(HEIGHTS, stand="2", line=1310.0, away=far, tilt=0.001)
    vague = Instrument(reading=0.1, tilt=0.01)
    assert survey(two, vague).tilt == pytest.approx(0.001, rel=1e-3)
    assert survey(two, vague).sure(0) < 0.1 * survey(one, vague).sure(0)


def test_a_tilt_of_a_degree_at_twelve_feet_is_two_and_a_half_inches():
    """From a published survey story: 144 in, 1 degree, 2.51 in; the builder had guessed a quarter of an inch."""
    inch = 25.4
    away = {"A1": 0.0, "C1": 144 * inch}
    sloped = Instrument(reading=1e-3, tilt=math.tan(math.radians(1.0)))
    found = survey(rods({"A1": 0.0, "C1": 0.0}, away=away), sloped)
    between = math.sqrt(
        found.covariance[0, 0] + found.covariance[1, 1] - 2 * found.covariance[0, 1]
    )  # standard deviation of the difference
    assert between * 1.959963985 / inch == pytest.approx(2.51, abs=0.005)


def test_an_allowed_closing_error_is_shared_out_evenly():
    sights = [*rods(HEIGHTS), Sight(stand="1", mark="A1", value=1497.0 + 0.8, is_down=True)]
    drifted = [
        Sight(stand="1", mark=s.mark, value=s.value + 0.2 * k * (k < 4), is_down=True) for k, s in enumerate(sights)
    ]
    found = survey(drifted, GOOD)
    (closure,) = found.closures
    assert closure.is_closed
    assert closure.error == pytest.approx(0.8)
    mean = sum(HEIGHTS.values()) / 4
    assert found.heights == pytest.approx([z - mean for z in HEIGHTS.values()], abs=1e-6)


@pytest.mark.parametrize(("error", "is_closed"), [(1.41, True), (-1.41, True), (1.42, False), (-1.42, False)])
def test_a_closing_error_beyond_chance_is_not_shared_out(error, is_closed):
    sights = [*rods(HEIGHTS), Sight(stand="1", mark="A1", value=1497.0 + error, is_down=True)]
    found = survey(sights, GOOD)
    assert found.is_closed is is_closed
    assert found.closures[0].allowed == pytest.approx(math.sqrt(2))


@pytest.mark.parametrize(
    "sights",
    [
        rods({"A1": 0.0}),
        rods({"A1": 0.0, "C1": 0.0}) + rods({"C3": 0.0, "A3": 0.0}, stand="2"),
    ],
)
def test_marks_that_nothing_ties_together_are_refused(sights):
    with pytest.raises(OutOfRangeError) as raised:
        survey(sights, GOOD)
    assert raised.value.fault.code == "sights-too-few"


def test_tilt_twist_and_sag_are_told_apart():
    places = {**PLACES, "B2": (1806.0, 1372.0), "B1": (1806.0, 0.0)}
    plane = {m: 0.001 * x - 0.0005 * y for m, (x, y) in places.items()}
    twist = {"A1": 1.0, "C1": -1.0, "C3": 1.0, "A3": -1.0, "B2": 0.0, "B1": 0.0}
    sag = {"B1": 2.5}
    heights = {m: plane[m] + twist[m] - sag.get(m, 0.0) for m in places}
    lie = lie_of(survey(rods(heights), GOOD), spots(places, free=("B1", "B2")), within=2.0)
    assert lie.tilt is not None
    assert (lie.tilt.right, lie.tilt.away) == (pytest.approx(0.001), pytest.approx(-0.0005))
    assert lie.twist == pytest.approx(1.0)
    sags = {off.mark: off.sag for off in lie.sags}
    assert sags["B1"] == pytest.approx(2.5, abs=1e-6)
    assert abs(sags["B2"]) <= 1.0 + 1e-6  # under a twisted frame either facet is as good
    assert not lie.is_level


def test_a_planned_fall_is_no_tilt():
    heights = {m: -y / 80 for m, (_, y) in PLACES.items()}
    planned = {m: -y / 80 for m, (_, y) in PLACES.items()}
    lie = lie_of(survey(rods(heights), GOOD), spots(planned=planned), within=2.0)
    assert lie.spread == pytest.approx(0.0, abs=1e-6)
    assert lie.is_level


@pytest.mark.parametrize(("high", "is_level"), [(3.99, True), (4.01, False)])
def test_level_is_within_the_tolerance_of_one_height(high, is_level):
    lie = lie_of(survey(rods({**dict.fromkeys(PLACES, 0.0), "C3": high}), GOOD), spots(), within=2.0)
    assert lie.is_level is is_level


def test_feet_in_one_line_have_no_tilt_and_sag_is_read_off_the_line():
    places = {"A1": (0.0, 0.0), "B1": (1000.0, 5.0), "C1": (2500.0, 0.0)}
    lie = lie_of(survey(rods({"A1": 0.0, "B1": 1.0, "C1": 5.0}), GOOD), spots(places, free=("B1",)), within=2.0)
    assert lie.tilt is None
    assert lie.sags[0].sag == pytest.approx(1.0, abs=0.02)


def test_an_instrument_less_sure_than_the_tolerance_is_told():
    assert lie_of(survey(rods(HEIGHTS), Instrument(reading=4.0, tilt=0.0003)), spots(), within=2.0).is_too_rough
    assert not lie_of(survey(rods(HEIGHTS), GOOD), spots(), within=2.0).is_too_rough


QUARTERS = Thread(pitch=2.0, per_turn=4)
offs = st.lists(st.floats(-6, 6), min_size=2, max_size=5)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(offs, st.sampled_from([1.0, 2.0]), st.sampled_from([0.6, 1.0, 2.0]))
def test_no_other_turns_touch_fewer_feet(values, step, within):
    off = {f"P{n}": v for n, v in enumerate(values)}
    found = best_turns(off, Thread(pitch=step, per_turn=1), within=within)
    reach = range(-14, 15)
    best = None
    for count in range(len(values) + 1):
        for chosen in itertools.combinations(range(len(values)), count):
            for steps in itertools.product(reach, repeat=count) if count <= 2 else [None]:
                if steps is None:
                    continue
                after = list(values)
                for place, n in zip(chosen, steps, strict=True):
                    after[place] += n * step
                if max(after) - min(after) <= 2 * within - 1e-6:
                    best = count
                    break
            if best is not None:
                break
        if best is not None:
            break
    moved = sum(1 for n in found.steps.values() if n)
    if best is not None:
        assert found.is_within
        assert moved <= best
    if found.is_within:
        assert max(abs(v) for v in found.left.values()) <= within + 1e-6
        after = [values[n] + step * found.steps[f"P{n}"] for n in range(len(values))]
        assert max(after) - min(after) <= 2 * within + 1e-6


@settings(deadline=None)
@given(offs, st.floats(-50, 50))
def test_a_floor_lifted_as_a_whole_asks_for_the_same_turns(values, lift):
    off = {f"P{n}": v for n, v in enumerate(values)}
    lifted = {mark: value + lift for mark, value in off.items()}
    one, other = (best_turns(v, QUARTERS, within=2.0) for v in (off, lifted))
    assert sum(map(bool, one.steps.values())) == sum(map(bool, other.steps.values()))


def test_a_foot_that_cannot_be_turned_stays_and_the_others_come_to_it():
    found = best_turns({"A": 6.0, "B": 0.0, "C": 0.5}, QUARTERS, within=1.0, fixed=frozenset({"A"}))
    assert found.steps["A"] == 0
    assert found.steps["B"] > 0
    assert found.is_within


def test_a_thread_too_coarse_comes_nearest_and_says_so():
    found = best_turns({"A": 0.0, "B": 1.5}, Thread(pitch=3.0, per_turn=1), within=0.5)
    assert not found.is_within
    assert max(abs(v) for v in found.left.values()) == pytest.approx(0.75)


def beam(count, stiff=20.0):
    """A continuous beam on ``count`` springs' worth of feet: second differences squared."""
    bend = np.zeros((count - 2, count))
    for n in range(count - 2):
        bend[n, n : n + 3] = 1.0, -2.0, 1.0
    return stiff * bend.T @ bend


def pressed(count=5, load=300.0, stiff=20.0):
    return Press(marks=tuple(f"P{n}" for n in range(count)), level=np.full(count, load), stiffness=beam(count, stiff))


heights_of_five = st.lists(st.floats(-3, 3), min_size=5, max_size=5)


@settings(deadline=None)
@given(heights_of_five, st.floats(1.0, 60.0))
def test_the_visits_add_up_to_the_turns_and_lift_only_the_feet_they_name(values, stiff):
    off = {f"P{n}": v for n, v in enumerate(values)}
    press = pressed(stiff=stiff)
    turns = best_turns(off, QUARTERS, within=0.5)
    visits = order_visits(turns, QUARTERS, press)
    total = dict.fromkeys(off, 0)
    heights = np.array([-turns.steps[f"P{n}"] * QUARTERS.step for n in range(5)])
    for visit in visits:
        before = press.level + press.stiffness @ heights
        heights[int(visit.mark[1:])] += visit.steps * QUARTERS.step
        after = press.level + press.stiffness @ heights
        total[visit.mark] += visit.steps
        newly = {f"P{n}" for n in range(5) if after[n] < -1e-6 <= before[n] and f"P{n}" != visit.mark}
        assert newly == set(visit.lifts)
    assert total == turns.steps


def test_a_stiff_frame_is_turned_in_more_visits_than_a_soft_one():
    turns = Turns(steps={"P0": 0, "P1": 12, "P2": 12, "P3": 12, "P4": 0}, left={}, is_within=True)
    soft = order_visits(turns, QUARTERS, pressed(stiff=1.0))
    stiff = order_visits(turns, QUARTERS, pressed(load=300.0, stiff=25.0))
    assert len(soft) == 3
    assert len(stiff) > 3
    assert not any(visit.lifts for visit in stiff)


def test_without_a_known_stiffness_one_turn_at_a_time_goes_round():
    turns = Turns(steps={"A": -9, "B": 0, "C": 5}, left={}, is_within=True)
    visits = order_visits(turns, QUARTERS, None)
    assert [(v.mark, v.steps) for v in visits] == [("A", -4), ("C", 4), ("A", -4), ("C", 1), ("A", -1)]
