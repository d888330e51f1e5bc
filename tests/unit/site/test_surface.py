"""The surface between and beyond the readings, and how sure it is."""

from __future__ import annotations

import math
import pickle
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from ground_factory import empty_log, level_line, make_log, make_site, wall

from evenfoot.checks import Verdict
from evenfoot.site import read_ground

# Unequal, non-round places on the exact plane z = -420 - 0.013 x - 0.007 y.
PLACES = [(37, 61), (2931, 113), (1507, 944), (212, 1873), (3110, 2088), (1733, 2251), (2350, 1490)]


def plane(x, y):
    return -420 - 0.013 * x - 0.007 * y


ON_PLANE = [(x, y, plane(x, y)) for x, y in PLACES]


def check(ground, rule):
    return next(c for c in ground.checks if c.rule == rule)


@pytest.mark.parametrize("surface", ["plane", "triangles"])
@pytest.mark.parametrize("place", [(1500, 1000), (1507, 944), (5000, -900), (-200, 3000)])
def test_an_exact_plane_is_found_again_everywhere(surface, place):
    ground = read_ground(make_site(ON_PLANE, surface=surface), empty_log)
    assert ground.level(*place).z == pytest.approx(plane(*place), abs=1e-9)
    assert ground.plane.spread == pytest.approx(0, abs=1e-9)
    assert (ground.plane.gx, ground.plane.gy) == pytest.approx((-0.013, -0.007), abs=1e-12)


def test_fall_is_steepest_descent():
    ground = read_ground(make_site(ON_PLANE), empty_log)
    assert ground.fall.ratio == pytest.approx(math.hypot(0.013, 0.007), abs=1e-12)
    assert ground.fall.direction_deg == pytest.approx(math.degrees(math.atan2(0.007, 0.013)), abs=1e-9)


def test_level_ground_falls_nowhere():
    ground = read_ground(make_site([(x, y, -300.0) for x, y in PLACES]), empty_log)
    assert (ground.fall.ratio, ground.fall.direction_deg) == (pytest.approx(0, abs=1e-15), pytest.approx(0, abs=360))


@pytest.mark.parametrize(
    ("place", "z", "basis"),
    [
        ((0, 0), -300, "triangle"),
        ((1000, 0), -330, "triangle"),
        ((250, 500), -300 + 0.25 * -30 + 0.5 * -90, "triangle"),
        ((750, 750), 0.25 * -330 + 0.5 * -410 + 0.25 * -390, "triangle"),
    ],
)
def test_triangles_are_linear_between_three_readings(place, z, basis):
    corners = [(0, 0, -300), (1000, 0, -330), (0, 1000, -390), (1001, 1001, -410)]
    ground = read_ground(make_site(corners, surface="triangles"), empty_log)
    level = ground.level(*place)
    assert level.basis == basis
    if place != (750, 750):
        assert level.z == pytest.approx(z, abs=1e-9)
    else:
        assert -410 < level.z < -330


def test_at_a_reading_a_triangle_is_as_sure_as_the_reading_and_less_sure_away_from_it():
    ground = read_ground(make_site(ON_PLANE, surface="triangles", ground="soil"), empty_log)
    at = ground.level(1507, 944).sigma
    assert at == pytest.approx(3 / 1.96)
    away = [ground.level(1507 + d, 944 + d / 4).sigma for d in (100, 200, 300)]
    assert at < away[0]
    assert away == sorted(away)


def test_beyond_the_readings_is_said_and_gets_less_sure_with_the_distance():
    for surface in ("plane", "triangles"):
        ground = read_ground(make_site(ON_PLANE, surface=surface), empty_log)
        out = [ground.level(3110 + d, 1100) for d in (150, 600, 2000)]
        assert {level.basis for level in out} == {"beyond"}
        sigmas = [ground.level(2500, 1100).sigma, *(level.sigma for level in out)]
        assert sigmas == sorted(sigmas)
        assert ground.beyond(1500, 1000) == 0
    assert ground.beyond(3110 + 300, 2088) == pytest.approx(300, abs=5)


def test_a_place_within_50_mm_of_the_readings_counts_as_among_them():
    square = [(0, 0, -300), (1000, 0, -310), (1000, 1000, -320), (0, 1000, -310)]
    ground = read_ground(make_site(square), empty_log)
    assert ground.level(-49, 500).basis == "plane"
    assert ground.level(-51, 500).basis == "beyond"


def test_plane_covariance_is_that_of_ordinary_least_squares():
    """Equal sigmas: covariance = s^2 (X'X)^-1 with numpy's own solver, s^2 the reading's and the ground's variance."""
    rng = np.random.default_rng(11)
    z = [plane(x, y) + e for (x, y), e in zip(PLACES, rng.normal(0, 9, 7), strict=True)]
    ground = read_ground(make_site([(x, y, v) for (x, y), v in zip(PLACES, z, strict=True)]), empty_log)
    design = np.array([(1.0, x, y) for x, y in PLACES])
    solved, squares, _, _ = np.linalg.lstsq(design, np.array(z), rcond=None)
    assert (ground.plane.z0, ground.plane.gx, ground.plane.gy) == pytest.approx(tuple(solved), rel=1e-9)
    assert ground.plane.spread**2 == pytest.approx(squares[0] / 4, rel=1e-9)
    reading, slab = (3 / 1.96) ** 2, (5 / 1.96) ** 2
    uneven = (4 * slab + 4 * max(0.0, squares[0] / 4 - reading)) / 8
    assert ground.trust.scatter**2 == pytest.approx(reading + uneven, rel=1e-9)
    lever = np.array((1.0, 1500.0, 1000.0))
    expected = (reading + uneven) * (1 + lever @ np.linalg.inv(design.T @ design) @ lever)
    assert ground.level(1500, 1000).sigma ** 2 == pytest.approx(expected, rel=1e-9)


def test_a_surer_reading_pulls_the_plane_harder():
    base = [(0, 0, -300), (2000, 0, -300), (0, 2000, -300), (2000, 2000, -300)]
    loose = read_ground(make_site(base), make_log(level_line("m", -290.0, x=1000.0, y=1000.0, accuracy=30.0)))
    tight = read_ground(make_site(base), make_log(level_line("m", -290.0, x=1000.0, y=1000.0, accuracy=0.1)))
    assert -300 < loose.level(1000, 1000).z < tight.level(1000, 1000).z < -290


@pytest.mark.parametrize("surface", ["plane", "triangles"])
def test_one_reading_means_level_ground_there_and_says_so(surface):
    ground = read_ground(make_site([(500, 500, -310.0)], surface=surface), empty_log)
    assert ground.level(2500, -900).z == -310.0
    assert ground.level(2500, 500).sigma > 2000 * 0.02
    found = check(ground, "enough-readings")
    assert (found.verdict, found.reason) == (Verdict.NOT_CHECKED, "one-reading")
    assert ground.triangles == ()


@pytest.mark.parametrize("surface", ["plane", "triangles"])
def test_readings_in_one_line_follow_the_line_and_are_level_across(surface):
    line = [(0, 0, -300), (3000, 1500, -345), (1000, 500, -315), (2000, 1000, -330)]
    ground = read_ground(make_site(line, surface=surface), empty_log)
    assert ground.level(1500, 750).z == pytest.approx(-322.5)
    assert ground.level(1500 - 300, 750 + 600).z == pytest.approx(-322.5)
    assert ground.level(1500 - 300, 750 + 600).basis == "beyond"
    assert ground.level(1500 - 300, 750 + 600).sigma > ground.level(1500, 750).sigma
    assert check(ground, "enough-readings").reason == "in-a-line"


def test_a_line_of_readings_is_followed_from_reading_to_reading():
    profile = [(0, 3, -300), (0, 1003, -360), (12, 2011, -340), (-9, 3007, -410)]
    ground = read_ground(make_site(profile, surface="triangles"), empty_log)
    assert ground.triangles == ()
    assert ground.level(0, 503).z == pytest.approx(-330, abs=0.5)
    assert ground.level(0, 1503).z == pytest.approx(-350, abs=0.5)
    assert ground.level(0, 1503).basis == "line"


def test_three_readings_fix_a_plane_but_nothing_proves_it():
    ground = read_ground(make_site(ON_PLANE[:3]), empty_log)
    assert check(ground, "enough-readings").reason == "none-spare"
    assert ground.plane.spread == 0
    assert ground.trust.scatter == pytest.approx(math.hypot(3, 5) / 1.96)


def test_four_readings_that_span_the_floor_are_enough():
    assert check(read_ground(make_site(ON_PLANE[:4]), empty_log), "enough-readings").verdict is Verdict.OK


def test_a_ground_is_frozen_hashable_and_comes_back_from_a_pickle():
    ground = read_ground(make_site(ON_PLANE, surface="triangles"), empty_log)
    again = pickle.loads(pickle.dumps(ground))
    assert again == ground
    assert hash(again) == hash(ground)
    assert again.level(1234, 987) == ground.level(1234, 987)


def test_unknown_ground_is_less_sure_on_soil_than_on_a_slab():
    sigmas = [
        read_ground(make_site(ON_PLANE[:4], ground=g), empty_log).level(1500, 1000).sigma
        for g in ("slab", "gravel", "soil")
    ]
    assert sigmas == sorted(sigmas)
    assert sigmas[0] < sigmas[2] / 2


def test_the_wall_line_is_the_least_squares_line_through_its_offsets():
    offsets = [(0, 0), (910, 3), (1820, -2), (2730, 5), (3630, 2)]
    found = read_ground(make_site(ON_PLANE, wall_offsets=wall(*offsets)), empty_log).wall
    slope, y0 = np.polyfit([x for x, _ in offsets], [out for _, out in offsets], 1)
    misfit = [out - (y0 + slope * x) for x, out in offsets]
    assert (found.slope, found.y0) == pytest.approx((slope, y0), rel=1e-9)
    assert found.swing == pytest.approx(max(map(abs, misfit)))
    assert found.furthest_out == 5


def test_a_wall_with_one_offset_is_parallel_and_one_without_is_unknown():
    assert read_ground(make_site(ON_PLANE), empty_log).wall is None
    found = read_ground(make_site(ON_PLANE, wall_offsets=wall((400, 7))), empty_log).wall
    assert (found.y0, found.slope, found.swing, found.furthest_out) == (7, 0, 0, 7)


@pytest.mark.parametrize("surface", ["plane", "triangles"])
@pytest.mark.parametrize("count", [1, 2, len(PLACES)])
def test_many_places_at_once_have_the_very_levels_of_each_alone(surface, count):
    bumpy = [(x, y, plane(x, y) + 17.3 * math.sin(x)) for x, y in PLACES[:count]]
    ground = read_ground(make_site(bumpy, surface=surface), empty_log)
    places = [(x * 211.7 - 1500.0, y * 173.9 - 900.0) for x in range(31) for y in range(29)] + PLACES
    assert len(places) > 600
    assert ground.heights(places) == tuple(ground.level(x, y).z for x, y in places)
    assert ground.heights([]) == ()
