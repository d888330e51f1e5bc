"""Laws of the ground: what may not change it, and what must make it surer."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "site"))
from ground_factory import empty_log, level_line, make_log, make_site

from evenfoot.site import read_ground
from evenfoot.site.readings import take_readings

FEW = settings(max_examples=25, deadline=None)

cells = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 6), st.integers(-40, 40)),
    min_size=4,
    max_size=14,
    unique_by=lambda c: c[:2],
)
surfaces = st.sampled_from(["plane", "triangles"])


def readings(drawn):
    """Readings on a jittered grid of 430 by 370 mm, so that no two stand at one place."""
    return [(430.0 * i + 7 * j, 370.0 * j - 11 * i, -400.0 + e) for i, j, e in drawn]


def spans(points):
    return len({p[0] for p in points}) > 2 and len({p[1] for p in points}) > 2


@given(cells, surfaces, st.integers(-5000, 5000), st.integers(-5000, 5000), st.integers(-900, 900))
@FEW
def test_moving_every_reading_moves_the_surface_with_it(drawn, surface, dx, dy, dz):
    points = readings(drawn)
    moved = [(x + dx, y + dy, z + dz) for x, y, z in points]
    here, there = (read_ground(make_site(p, surface=surface), empty_log) for p in (points, moved))
    for x, y in ((611.0, 917.0), (-800.0, 3000.0)):
        a, b = here.level(x, y), there.level(x + dx, y + dy)
        assert b.z - dz == pytest.approx(a.z, abs=1e-6)
        assert b.sigma == pytest.approx(a.sigma, rel=1e-6, abs=1e-9)
        assert a.basis == b.basis
    assert [d.name for d in here.doubtful] == [d.name for d in there.doubtful]


@given(cells, surfaces, st.randoms(use_true_random=False))
@FEW
def test_the_order_of_reading_levels_does_not_matter(drawn, surface, shuffler):
    points = readings(drawn)
    other = points[:]
    shuffler.shuffle(other)
    a, b = (read_ground(make_site(p, surface=surface), empty_log).level(777.0, 1111.0) for p in (points, other))
    assert (a.z, a.basis) == (pytest.approx(b.z, abs=1e-6), b.basis)


@given(cells, surfaces, st.data())
@FEW
def test_reading_a_place_again_with_the_same_result_does_not_move_the_surface(drawn, surface, data):
    points = readings(drawn)
    x, y, z = data.draw(st.sampled_from(points))
    site = make_site(points, surface=surface)
    once = read_ground(site, empty_log)
    again = read_ground(site, make_log(level_line("again", z, x=x, y=y)))
    assert len(again.points) == len(once.points)
    for place in ((640.0, 1230.0), (-500.0, -500.0)):
        assert again.level(*place).z == pytest.approx(once.level(*place).z, abs=1e-6)
        assert again.level(*place).sigma == pytest.approx(once.level(*place).sigma, rel=1e-6)


@given(cells, st.lists(st.tuples(st.integers(0, 13), st.integers(-30, 30)), max_size=6))
@FEW
def test_of_all_readings_at_one_place_the_last_stands(drawn, later):
    points = readings(drawn)
    lines = [level_line(f"p{k % len(points)}", -350.0 + e) for k, e in later]
    last = {f"p{k % len(points)}": -350.0 + e for k, e in later}
    survey = take_readings(make_site(points), make_log(*lines))
    assert {r.name: r.z for r in survey.readings} == {f"p{k}": p[2] for k, p in enumerate(points)} | last


@given(cells, st.integers(-30, 30), st.integers(-30, 30))
@FEW
def test_triangles_follow_an_exact_plane_everywhere_among_the_readings(drawn, gx, gy):
    points = [(x, y, -400 + x * gx / 1000 + y * gy / 1000) for x, y, _ in readings(drawn)]
    ground = read_ground(make_site(points, surface="triangles"), empty_log)
    if not ground.triangles:
        return
    middle_x, middle_y = (sum(p[k] for p in points) / len(points) for k in (0, 1))
    for share in (0.0, 0.3, 0.9):
        x, y, _ = points[0]
        px, py = middle_x + share * (x - middle_x), middle_y + share * (y - middle_y)
        assert ground.level(px, py).z == pytest.approx(-400 + px * gx / 1000 + py * gy / 1000, abs=1e-6)


@given(cells.filter(lambda d: spans(readings(d))))
@FEW
def test_the_surface_is_continuous_across_the_edge_of_the_readings(drawn):
    points = readings(drawn)
    ground = read_ground(make_site(points, surface="triangles"), empty_log)
    middle = tuple(sum(p[k] for p in points) / len(points) for k in (0, 1))
    x, y, _ = max(points)
    for share in (1 - 1e-7, 1 + 1e-7):
        px, py = (m + share * (p - m) for m, p in zip(middle, (x, y), strict=True))
        near = ground.level(px, py)
        assert near.z == pytest.approx(ground.level(x, y).z, abs=0.01)
        assert near.sigma == pytest.approx(ground.level(x, y).sigma, abs=0.01)


@given(st.integers(2, 4), st.floats(0.5, 9))
@FEW
def test_more_readings_make_a_plane_surer(times, accuracy):
    def grid(n):
        return [(3000.0 * i / n, 2000.0 * j / n, -400.0 - 15.0 * i / n) for i in range(n + 1) for j in range(n + 1)]

    few, many = (read_ground(make_site(grid(n), accuracy=accuracy), empty_log) for n in (2, 2 * times))
    assert many.level(1234, 876).sigma < few.level(1234, 876).sigma
    assert many.trust.plane_variance(1234, 876) < few.trust.plane_variance(1234, 876)


@given(cells, surfaces)
@FEW
def test_the_same_readings_give_the_same_ground(drawn, surface):
    site = make_site(readings(drawn), surface=surface)
    assert read_ground(site, empty_log) == read_ground(replace(site), empty_log)


def test_true_ground_lies_within_two_sigma_nineteen_times_in_twenty():
    """Sixty wavy grounds (waves of some metres, 10 mm), twelve readings each, looked at in twelve other places each."""
    rng = np.random.default_rng(1)
    misses = []
    for _ in range(60):
        slope, waves = rng.normal(0, 0.05, 2), rng.normal(0, 1 / 900, (20, 2))
        heights, phases = rng.normal(0, 10 / np.sqrt(10), 20), rng.uniform(0, 2 * np.pi, 20)

        def true(xy, slope=slope, waves=waves, heights=heights, phases=phases):
            return -400 + xy @ slope + np.sin(xy @ waves.T + phases) @ heights

        places = rng.uniform(0, 1, (12, 2)) * (4000, 3000)
        read = true(places) + rng.normal(0, 3 / 1.96, 12)
        points = [(x, y, z) for (x, y), z in zip(places, read, strict=True)]
        ground = read_ground(make_site(points, surface="triangles", ground="gravel"), empty_log)
        for place in rng.uniform(0, 1, (12, 2)) * (4000, 3000):
            level = ground.level(*place)
            misses.append((level.z - float(true(place))) / level.sigma)
    inside = np.mean(np.abs(misses) <= 1.96)
    assert 0.95 <= inside < 1.0
    assert 0.6 < np.std(misses) < 1.05
