"""How long posts are cut, from ground or from a measured gap."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from post_factory import cut, gap_line, make_job, make_site

from evenfoot.errors import JobFileError
from evenfoot.job import Log
from evenfoot.posts import Basis
from evenfoot.site import read_ground


def stack_of(post):
    return [(layer.thing, layer.thickness) for layer in post.stack]


def test_length_is_from_the_underside_to_the_top_of_the_footing():
    first, second = cut(make_job(make_site((0.01, -0.02), at=-503.0))).cuts
    for post, x in ((first, 600.0), (second, 2400.0)):
        ground = -503 + 0.01 * x - 0.02 * 1500
        assert post.underside == -20 - 30 - 105
        assert post.ground == pytest.approx(ground)
        assert post.footing_top == pytest.approx(ground + 60)
        assert post.length == pytest.approx(-155 - ground - 60)
        assert post.basis is Basis.SURFACE
    assert second.length - first.length == pytest.approx(-18)


def test_the_stack_of_a_flush_frame_goes_from_sill_to_ground_without_a_gap():
    post = cut(make_job(make_site(at=-503.0))).cuts[0]
    assert [thing for thing, _ in stack_of(post)] == ["sill", "drop", "board", "beam", "post", "footing", "ground"]
    assert [t for _, t in stack_of(post)] == pytest.approx([0, 20, 30, 105, 288, 60, 0])
    for upper, lower in zip(post.stack, post.stack[1:], strict=False):
        assert upper.top - upper.thickness == pytest.approx(lower.top)


def test_a_stacked_frame_has_joist_and_beam_one_under_the_other():
    post = cut(make_job(make_site(at=-503.0), style="stacked", joist=75.0, beam=120.0)).cuts[0]
    assert dict(stack_of(post))["joist"] == pytest.approx(75)
    assert dict(stack_of(post))["beam"] == pytest.approx(120)
    assert post.length == pytest.approx(503 - 20 - 30 - 75 - 120 - 60)


def test_a_fall_reaches_drop_post_and_head():
    level = cut(make_job()).cuts[0]
    falling = cut(make_job(fall=1 / 80)).cuts[0]
    stretch = math.hypot(1, 1 / 80)
    assert dict(stack_of(falling))["drop"] == pytest.approx(20 + 1500 / 80)
    assert level.length - falling.length == pytest.approx(1500 / 80 + (30 + 105) * (stretch - 1))
    assert (level.head_angle_deg, level.head_falls_toward_deg) == (0, 0)
    assert falling.head_angle_deg == pytest.approx(math.degrees(math.atan(1 / 80)))
    assert falling.head_falls_toward_deg == pytest.approx(90)


@pytest.mark.parametrize(
    ("at", "rough"), [(-500.0, 295.0), (-500.01, 300.0), (-504.9, 300.0), (-505.0, 300.0), (-505.2, 305.0)]
)
def test_the_rough_length_is_the_length_and_the_allowance_up_to_the_next_five(at, rough):
    post = cut(make_job(make_site(at=at))).cuts[0]
    assert post.length == pytest.approx(-at - 215)
    assert post.rough_length == rough


def test_the_rough_length_holds_the_long_side_of_a_sloping_head():
    """A head that falls 1 in 20 over 110 mm stands 2.75 mm above the axis on its high side."""
    job = make_job(fall=0.05, post=(95.0, 110.0))
    post = cut(job).cuts[0]
    assert post.rough_length == math.ceil((post.length + 2.75 + 10) / 5) * 5
    near = [at / 10 for at in range(-5100, -5000)]
    lengths = [cut(make_job(make_site(at=at), fall=0.05, post=(95.0, 110.0))).cuts[0] for at in near[::7]]
    assert all(p.rough_length >= p.length + 2.75 + 10 - 1e-6 for p in lengths)
    assert any(p.rough_length > math.ceil((p.length + 10) / 5) * 5 for p in lengths)


def test_a_105_mm_post_on_2_percent_stands_on_its_high_edge_2_mm_up():
    job = make_job(make_site((0.0, -0.02)), footing=("pad", 10.0, 120.0, False))
    post = cut(job).cuts[0]
    assert post.foot_gap == pytest.approx(2.1)
    assert post.foot_lift == pytest.approx(1.05)
    assert post.foot_high_toward_deg == 270
    assert post.footing_top == pytest.approx(-500 - 0.02 * 1500 + 10 + 1.05)
    assert post.length == pytest.approx(post.underside - post.footing_top)


@pytest.mark.parametrize(
    ("fall", "lift", "toward"),
    [
        ((0.02, 0.0), 0.02 * 105 / 2, 0),
        ((-0.02, 0.0), 0.02 * 105 / 2, 180),
        ((0.0, 0.03), 0.03 * 75 / 2, 90),
        ((0.02, 0.02), 0.02 * (105 + 75) / 2, 45),
        ((-0.02, 0.001), (0.02 * 105 + 0.001 * 75) / 2, 180),
        ((0.0, 0.0), 0.0, 0),
    ],
)
def test_the_high_edge_or_corner_is_where_the_ground_rises(fall, lift, toward):
    job = make_job(make_site(fall), footing=("pad", 10.0, 120.0, False), post=(105.0, 75.0))
    post = cut(job).cuts[0]
    assert post.foot_lift == pytest.approx(lift, abs=1e-9)
    assert post.foot_high_toward_deg == toward


def test_a_footing_bedded_level_takes_the_ground_on_the_axis():
    post = cut(make_job(make_site((0.02, -0.03)))).cuts[0]
    assert (post.foot_lift, post.foot_gap, post.foot_high_toward_deg) == (0, 0, 0)
    assert post.footing_top == pytest.approx(-500 + 12 - 45 + 60)


def test_a_footing_laid_over_a_ridge_rests_on_the_ridge():
    """The ground is a roof: its ridge runs along x at y = 1500, falling 5 % both ways; a 200 mm stone sits on top."""
    places = [(x, y) for x in (0.0, 3000.0) for y in (500.0, 1500.0, 2500.0)]
    site = make_site(places=places, surface="triangles")
    levels = tuple(
        r.__class__(name=r.name, x=r.x, y=r.y, z=-500 - 0.05 * abs(r.y - 1500), where=r.where) for r in site.levels
    )
    site = site.__class__(**{f: getattr(site, f) for f in site.__slots__} | {"levels": levels})
    post = cut(make_job(site, footing=("stone", 60.0, 200.0, False))).cuts[0]
    assert post.footing_top == pytest.approx(-500 + 60)
    assert post.foot_lift == pytest.approx(0, abs=1e-9)


def test_sigma_puts_ground_footing_frame_and_cut_together():
    job = make_job()
    post = cut(job).cuts[0]
    ground = read_ground(job.site, Log(lines=())).level(600, 1500).sigma
    assert post.sigma == pytest.approx(math.hypot(ground, 3 / 1.96, 3 / 1.96, 1 / 1.96))


def test_a_measured_gap_always_wins_and_brings_its_own_accuracy():
    first, second = cut(make_job(), gap_line("B1", 291.5, accuracy=0.8)).cuts
    assert (first.basis, second.basis) == (Basis.SURFACE, Basis.MEASURED)
    assert second.length == 291.5
    assert second.sigma == pytest.approx(math.hypot(0.8, 1.0) / 1.96)
    assert second.footing_top == second.underside - 291.5
    assert second.ground == pytest.approx(second.footing_top - 60)
    assert second.stack[-1].top == second.ground
    assert first.length == pytest.approx(285)


def test_of_two_gaps_the_later_counts_and_without_an_accuracy_the_site_s():
    posts = cut(make_job(), gap_line("A1", 270.0, accuracy=1.0), gap_line("A1", 284.0, where="log:2")).cuts
    assert posts[0].length == 284.0
    assert posts[0].sigma == pytest.approx(math.hypot(3.0, 1.0) / 1.96)


def test_a_level_in_the_log_is_no_gap():
    assert cut(make_job(), gap_line("p4", -502.0, what="level")).cuts[0].basis is Basis.SURFACE


def test_where_the_timber_lies_too_low_there_is_nothing_to_cut():
    post = cut(make_job(make_site(at=-200.0))).cuts[0]
    assert post.length == pytest.approx(-15)
    assert (post.rough_length, post.is_cut) == (0, False)


def test_all_gaps_that_cannot_be_are_refused_together():
    lines = [gap_line("A1", 0.0, where="log:4"), gap_line("B1", 210.0, accuracy=0.0, where="log:5")]
    with pytest.raises(JobFileError) as caught:
        cut(make_job(), *lines)
    assert [(f.code, f.where, f.found) for f in caught.value.faults] == [
        ("gap-not-positive", "log:4", "0 mm"),
        ("accuracy-not-positive", "log:5", "0 mm"),
    ]
