"""Which reading is doubted, which slip explains it, and when none is."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from ground_factory import empty_log, level_line, make_log, make_site, rods, station

from evenfoot.checks import Verdict
from evenfoot.site import read_ground
from evenfoot.site.doubt import cause_of
from evenfoot.site.readings import Reading

GRID = [(x, y) for y in (80, 1010, 1930) for x in (60, 950, 1880, 2810)]
NOISE = [0.9, -1.4, 0.3, 1.1, -0.6, -0.2, 1.7, -1.1, 0.4, -0.8, 1.2, -0.5]


def slab(x, y):
    return -431 - 0.0117 * x - 0.0163 * y


def levels(**moved):
    """Twelve noisy readings p0 .. p11 of a plane slab, some moved by so much."""
    out = []
    for k, ((x, y), e) in enumerate(zip(GRID, NOISE, strict=True)):
        out.append((f"p{k}", x, y, round(slab(x, y) + e + moved.get(f"p{k}", 0.0))))
    return out


def rules(ground):
    return [c.rule for c in ground.checks]


@pytest.mark.parametrize("surface", ["plane", "triangles"])
def test_sound_readings_are_not_doubted_and_that_is_said(surface):
    ground = read_ground(make_site(levels(), surface=surface), empty_log)
    assert ground.doubtful == ()
    agree = next(c for c in ground.checks if c.rule == "readings-agree")
    assert agree.verdict is Verdict.OK
    assert 0 < agree.ratio < 1


@pytest.mark.parametrize("surface", ["plane", "triangles"])
@pytest.mark.parametrize("name", [f"p{k}" for k in range(12)])
def test_a_reading_100_mm_out_is_named_wherever_it_is(surface, name):
    ground = read_ground(make_site(levels(**{name: 100.0}), surface=surface), empty_log)
    assert [d.name for d in ground.doubtful] == [name]
    (doubt,) = ground.doubtful
    x, y = GRID[int(name[1:])]
    assert doubt.expected == pytest.approx(slab(x, y), abs=6)
    assert doubt.found - doubt.expected == pytest.approx(100, abs=6)
    found = next(c for c in ground.checks if c.rule == "doubtful-reading")
    assert (found.verdict, found.fact("name")) == (Verdict.FAILS, name)


def test_two_bad_readings_do_not_hide_each_other():
    ground = read_ground(make_site(levels(p1=100.0, p10=130.0)), empty_log)
    assert {d.name for d in ground.doubtful} == {"p1", "p10"}


def test_a_doubtful_reading_is_named_but_not_left_out():
    ground = read_ground(make_site(levels(p5=100.0), surface="triangles"), empty_log)
    x, y = GRID[5]
    assert ground.level(x, y).z == pytest.approx(slab(x, y) + 100, abs=3)


def test_reading_it_again_takes_the_doubt_away():
    ground = read_ground(make_site(levels(p5=100.0)), make_log(level_line("p5", round(slab(*GRID[5])))))
    assert ground.doubtful == ()


def test_a_valley_taken_for_a_plane_is_told_from_a_bad_reading():
    grid = [(x, y) for y in range(0, 2800, 700) for x in range(0, 4200, 600)]
    site = make_site([(x, y, -400 + 0.02 * abs(x - 1800) - 0.01 * y) for x, y in grid], surface="plane")
    ground = read_ground(site, empty_log)
    assert ground.doubtful == ()
    failing = {c.rule for c in ground.checks if c.verdict is Verdict.FAILS}
    assert failing
    assert failing <= {"plane-fit", "plane-misses"}
    triangles = read_ground(make_site([(p.x, p.y, p.z) for p in site.levels], surface="triangles"), empty_log)
    assert all(c.verdict is not Verdict.FAILS for c in triangles.checks)


def test_ground_that_is_rough_everywhere_raises_no_storm_of_doubts():
    """Forty readings on a marsh whose level changes by hand-high hummocks: over 40 marshes hardly one is doubted."""
    rng = np.random.default_rng(5)
    named = 0
    for _ in range(40):
        xy = rng.uniform(0, 1, (40, 2)) * (40000, 1600)
        z = -600 + rng.laplace(0, 60, 40)
        site = make_site([(x, y, v) for (x, y), v in zip(xy, z, strict=True)], surface="triangles", ground="soil")
        named += len(read_ground(site, empty_log).doubtful)
    assert named <= 0.01 * 40 * 40


def test_four_readings_cannot_tell_which_is_wrong():
    corners = [(0, 0, -300), (3000, 0, -330), (3000, 2000, -350), (0, 2000, -220)]
    ground = read_ground(make_site(corners), empty_log)
    assert ground.doubtful == ()
    failing = [c for c in ground.checks if c.verdict is Verdict.FAILS]
    assert {c.rule for c in failing} >= {"plane-fit"}


def test_too_few_to_compare_is_said():
    assert "readings-not-compared" in rules(read_ground(make_site([levels()[k] for k in (0, 3, 9)]), empty_log))
    assert "readings-not-compared" in rules(read_ground(make_site(levels()[:5], surface="triangles"), empty_log))


def reading(raw, *, sign):
    return Reading(name="r", x=0, y=0, z=sign * raw, sigma=1.5, raw=raw, sign=sign, where="w")


@pytest.mark.parametrize(
    ("raw", "sign", "meant", "cause"),
    [
        (1534.0, -1, 1634.0, "slip-100"),
        (534.0, -1, 1534.0, "slip-1000"),
        (1354.0, -1, 1534.0, "swapped-digits"),
        (412.0, 1, -412.0, "sign"),
        (-331.0, 1, -431.0, "slip-100"),
        (-413.0, 1, -431.0, ""),
        (-341.0, 1, -431.0, "swapped-digits"),
        (1634.5, -1, 1734.5, ""),
        (1500.0, -1, 1545.0, ""),
    ],
)
def test_a_classic_slip_is_named_only_when_it_alone_explains_the_reading(raw, sign, meant, cause):
    misfit = sign * (raw - meant)
    assert cause_of(reading(raw, sign=sign), misfit=misfit + 2.0, sigma=3.0) == cause


def test_swapped_figures_are_proved_where_the_others_are_sure_enough():
    assert cause_of(reading(-413.0, sign=1), misfit=18.0, sigma=1.0) == "swapped-digits"
    assert cause_of(reading(-413.0, sign=1), misfit=18.0, sigma=3.0) == ""


def test_a_slip_on_the_rod_is_named_through_the_whole_reading():
    good = [
        (f"p{k}", x, y, round(1187 - slab(x, y) + e)) for k, ((x, y), e) in enumerate(zip(GRID, NOISE, strict=True))
    ]
    name, x, y, rod = good[6]
    good[6] = (name, x, y, rod - 100)
    site = make_site(stations=[station(rods(*good), backsight=1187.0, closing=1187.0)])
    ground = read_ground(site, empty_log)
    (doubt,) = ground.doubtful
    assert (doubt.name, doubt.cause, doubt.where) == ("p6", "slip-100", "site.station[0].readings[6]")
    assert next(c for c in ground.checks if c.rule == "doubtful-reading").remedy == "slip-100"
