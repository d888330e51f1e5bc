"""What gives under a post's load: the wood over its head, the post, the ground."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job

from evenfoot.job import kinds
from evenfoot.solvers import grillage
from evenfoot.strength import loads
from evenfoot.strength.beside import give_of_ground
from evenfoot.strength.elastic import woods_of
from evenfoot.strength.elastic.cases import Loaded, solve_cases
from evenfoot.strength.standards import practice_for
from evenfoot.strength.statics import draw_skeleton, post_gives, set_nodes

THREE = Plan(joists=(0.0, 450.0, 900.0, 1350.0, 1800.0), posts=(0.0, 900.0, 1800.0), run=(-22.5, 1822.5))


def on_soil(bearing=None, soil=None, ground=kinds.Ground.SOIL):
    job = make_job()
    return replace(job, site=replace(job.site, bearing=bearing, soil=soil, ground=ground))


def test_three_springs_in_series():
    frame = make_frame(THREE)
    woods = woods_of(practice_for(make_job()), frame)
    area = 105.0**2
    for below in (0.0, 1.0 / 2300.0):
        gives = post_gives(draw_skeleton(frame, woods, heights(frame, 640.0), below))
        assert gives == pytest.approx([105.0 / (300.0 * area) + 640.0 / (9000.0 * area) + below] * 6, rel=1e-12)


def test_a_post_that_does_not_fit_stands_for_unyielding_ground():
    frame = make_frame(THREE)
    woods = woods_of(practice_for(make_job()), frame)
    given = heights(frame, 640.0)
    given[frame.posts[1].mark] = 0.0
    gives = post_gives(draw_skeleton(frame, woods, given, 1e-3))
    assert gives[1] == 0.0
    assert min(gives[:1] + gives[2:]) > 1e-3


def test_ground_gives_where_the_job_says_what_it_bears():
    """100 kPa on a base of 200 mm: a bed of 12,000 kN/m3, so 480 N to the millimetre."""
    give, doubts = give_of_ground(on_soil(bearing=0.1))
    assert give == pytest.approx(1.0 / (0.012 * 200.0**2), rel=1e-12)
    assert doubts == ("ground bed",)
    assert give_of_ground(on_soil())[0] == 0.0
    assert give_of_ground(on_soil(bearing=0.1, ground=kinds.Ground.ROCK))[0] == 0.0
    sand, clay = (give_of_ground(on_soil(soil=s))[0] for s in (kinds.Soil.SAND, kinds.Soil.CLAY))
    assert clay > sand > 0.0


def presses(below):
    """Dead loads on posts under one beam of three, as shares of their sum."""
    frame, job = make_frame(THREE), make_job()
    practice = practice_for(job)
    skeleton = draw_skeleton(frame, woods_of(practice, frame), heights(frame, 400.0), below)
    statics = set_nodes(skeleton, ())
    share = loads.share_loads(frame, job.floor, statics, practice.unit_weight.value)
    none = np.zeros(statics.grid.size)
    loaded = Loaded(prepared=grillage.prepare(statics.grid), statics=statics, share=share, heavy=none)
    batch = next(solve_cases(loaded, (), ()))
    force = {
        skeleton.posts[r.post].place.mark: float(batch.response.press[k, 0])
        for k, r in enumerate(skeleton.rests)
        if r.post is not None
    }
    total = force["P1"] + force["P2"] + force["P3"]
    return [force[mark] / total for mark in ("P1", "P2", "P3")]


def test_on_soft_ground_the_middle_posts_leave_more_to_the_outer_ones():
    """On unyielding ground the middle post takes the most; on ever softer ground the shares even out."""
    hard, soft, softer = (presses(below) for below in (0.0, 1.0 / 480.0, 1.0 / 50.0))
    assert hard[1] > soft[1] > softer[1]
    assert softer[0] == pytest.approx(softer[2], rel=1e-6)
    assert softer[1] == pytest.approx(1.0 / 3.0, abs=0.05)
