"""Laws of the posts: the stack always chains, the floor comes out level, and moving everything changes nothing."""

from __future__ import annotations

import sys
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "posts"))
from post_factory import cut, gap_line, make_job, make_site

FEW = settings(max_examples=30, deadline=None)

falls = st.tuples(st.integers(-40, 40), st.integers(-40, 40)).map(lambda f: (f[0] / 1000, f[1] / 1000))
depths = st.integers(-900, -150).map(float)
styles = st.sampled_from(["flush", "stacked"])
footings = st.sampled_from([("stone", 60.0, 200.0, True), ("pad", 10.0, 120.0, False), ("pier", 150.0, 300.0, True)])
floors = st.sampled_from([0.0, 1 / 80, 0.02])


@given(falls, depths, styles, footings, floors, st.booleans())
@FEW
def test_every_stack_chains_from_sill_to_ground_and_holds_the_post(fall, at, style, footing, floor_fall, measured):
    job = make_job(make_site(fall, at=at), style=style, footing=footing, fall=floor_fall)
    for post in cut(job, *([gap_line("A1", 201.0)] if measured else [])).cuts:
        layers = post.stack
        assert (layers[0].thing, layers[-1].thing) == ("sill", "ground")
        for upper, lower in pairwise(layers):
            assert upper.top - upper.thickness == pytest.approx(lower.top, abs=1e-9)
        assert next(x.thickness for x in layers if x.thing == "post") == pytest.approx(post.length)
        assert layers[0].top - layers[-1].top == pytest.approx(sum(x.thickness for x in layers))


@given(falls, depths, footings)
@FEW
def test_standing_on_their_footings_all_heads_meet_their_timber(fall, at, footing):
    for post in cut(make_job(make_site(fall, at=at), footing=footing)).cuts:
        assert post.footing_top + post.length == pytest.approx(post.underside, abs=1e-9)
        assert post.footing_top - post.foot_lift == pytest.approx(post.ground + footing[1], abs=1e-6)


@given(falls, depths, st.integers(-400, 400))
@FEW
def test_raising_sill_and_ground_together_changes_no_post(fall, at, rise):
    low = cut(make_job(make_site(fall, at=at))).cuts
    high = cut(make_job(make_site(fall, at=at + rise, sill=float(rise)))).cuts
    for a, b in zip(low, high, strict=True):
        assert b.length == pytest.approx(a.length, abs=1e-6)
        assert b.sigma == pytest.approx(a.sigma)


@given(falls, depths)
@FEW
def test_turning_the_ground_about_turns_the_high_edge_about(fall, at):
    footing = ("pad", 10.0, 120.0, False)
    one = cut(make_job(make_site(fall, at=at), footing=footing)).cuts[0]
    other = cut(make_job(make_site((-fall[0], -fall[1]), at=at), footing=footing)).cuts[0]
    assert other.foot_lift == pytest.approx(one.foot_lift, abs=1e-9)
    if one.foot_lift > 1e-6:
        assert (one.foot_high_toward_deg - other.foot_high_toward_deg) % 360 == 180


@given(st.floats(1.0, 3000.0), st.floats(0.1, 20.0))
@FEW
def test_a_measured_gap_is_the_length_whatever_the_ground(gap, accuracy):
    for at in (-900.0, -200.0):
        post = cut(make_job(make_site(at=at)), gap_line("A1", gap, accuracy=accuracy)).cuts[0]
        assert post.length == gap
        assert post.rough_length >= gap + 10 - 1e-6
        assert post.rough_length - gap - 10 < 5
