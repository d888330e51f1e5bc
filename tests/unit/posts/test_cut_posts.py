"""Posts: each to its own length, from the ground or from what was measured."""

from __future__ import annotations

import itertools
import json
import math

import pytest

from evenfoot.checks import Verdict
from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job, parse_log
from evenfoot.plan import make_plan
from evenfoot.posts import Basis

JOB = """
unit = "mm"
standard = "japan"
[site]
sill = {sill}
surface = "plane"
accuracy = 2
levels = {levels}
[floor]
width = 3600
depth = 2400
drop = 20
fall = {fall}
[frame]
style = "stacked"
rough_allowance = 40
[frame.footing]
kind = "{kind}"
height = {height}
size = {size}
bedded_level = {bedded}
"""


def slab(gx: float, gy: float, z0: float = -600.0) -> list[list[float]]:
    return [[x, y, z0 + gx * x + gy * y] for x, y in ((0, 0), (3600, 0), (0, 2400), (3600, 2400), (1700, 1100))]


def plan_of(*, gx=-0.011, gy=-0.017, fall=0, sill=0, kind="stone", height=80, size=200, bedded=True, z0=-600.0, log=""):
    text = JOB.format(
        levels=slab(gx, gy, z0), fall=fall, sill=sill, kind=kind, height=height, size=size, bedded=str(bedded).lower()
    )
    job = parse_job(text)
    readings = parse_log(log) if log else read_log(None)
    return make_plan(job, read_shop(None, standard=job.standard), readings)


def test_on_a_tilted_slab_every_length_is_the_distance_between_two_planes():
    plan = plan_of()
    assert len({round(c.length, 3) for c in plan.posts.cuts}) > 3
    for c in plan.posts.cuts:
        # Sill 0, drop 20, board 30, joist 105, beam 105; slab -600 falling 11 and 17 mm a metre; stone 80.
        ground = -600.0 - 0.011 * c.x - 0.017 * c.y
        assert c.length == pytest.approx(-260.0 - (ground + 80.0), abs=1e-6)
        assert c.basis is Basis.SURFACE


def test_a_falling_floor_shortens_the_posts_by_its_fall():
    level, falling = plan_of(), plan_of(fall=0.0125)
    stretch = math.sqrt(1 + 0.0125**2)
    for a, b in zip(level.posts.cuts, falling.posts.cuts, strict=True):
        assert a.mark == b.mark
        lower = 0.0125 * b.y + 240.0 * (stretch - 1.0) + 0.017 * (a.y - b.y)
        assert b.length == pytest.approx(a.length - lower, abs=1e-6)
        assert b.head_angle_deg == pytest.approx(math.degrees(math.atan(0.0125)))
        assert b.head_falls_toward_deg == pytest.approx(90.0)


def test_a_foot_on_two_per_cent_stands_on_its_high_edge_two_mm_up():
    plan = plan_of(gx=0.0, gy=-0.02, kind="pad", height=10, size=120, bedded=False)
    for c in plan.posts.cuts:
        assert c.foot_gap == pytest.approx(0.02 * c.depth)  # 2.1 mm under a 105 mm post
        assert c.foot_lift == pytest.approx(0.02 * c.depth / 2)
        assert c.foot_high_toward_deg == pytest.approx(270.0)


def test_a_footing_set_level_carries_the_whole_foot():
    for c in plan_of(gx=0.0, gy=-0.02).posts.cuts:
        assert (c.foot_lift, c.foot_gap) == (0.0, 0.0)


def test_rough_length_holds_the_allowance_in_whole_steps_of_five():
    for c in plan_of().posts.cuts:
        assert c.rough_length % 5.0 == pytest.approx(0.0)
        assert 40.0 <= c.rough_length - c.length < 45.0


def test_a_measured_gap_wins_and_is_surer_than_the_surface():
    plain = plan_of()
    post = plain.posts.cuts[2]
    line = {"time": "2026-05-01T10:00", "what": "post-gap", "mark": post.mark, "value_mm": 271.5, "accuracy_mm": 1.0}
    cut = next(c for c in plan_of(log=json.dumps(line) + "\n").posts.cuts if c.mark == post.mark)
    assert (cut.length, cut.basis) == (271.5, Basis.MEASURED)
    assert cut.sigma < post.sigma
    assert cut.footing_top == pytest.approx(cut.underside - 271.5)


def test_the_layers_of_the_stack_fill_the_height_without_a_gap():
    for c in plan_of(fall=0.0125).posts.cuts:
        solid = [layer for layer in c.stack if layer.thickness > 0]
        for upper, lower in itertools.pairwise(solid):
            assert upper.top - upper.thickness == pytest.approx(lower.top, abs=1e-6), (upper.thing, lower.thing)
        assert solid[-1].top - solid[-1].thickness == pytest.approx(c.ground, abs=1e-6)


def test_a_stack_that_does_not_fit_fails_by_how_much():
    # 260 of floor and 80 of stone over ground at -300: 40 short at the house, more or less elsewhere.
    plan = plan_of(gx=0.0, gy=0.0, z0=-300.0)
    failed = [c for c in plan.posts.checks if c.rule == "stack-height"]
    assert failed
    assert all(c.verdict is Verdict.FAILS for c in failed)
    assert min(c.length for c in plan.posts.cuts) == pytest.approx(-40.0)


def test_posts_in_the_schedule_are_the_posts_of_the_frame():
    plan = plan_of()
    assert [c.mark for c in plan.posts.cuts] == [p.mark for p in plan.frame.posts]
