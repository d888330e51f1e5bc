"""The floor stands and rocks as closed forms, a general solver and trying every set of feet say it does."""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from frames import PERSON, TABLE, random_grid, two_span_beam

from evenfoot.errors import OutOfRangeError
from evenfoot.setting import posts

SEAT = 5e-6
"""A foot of a rigid floor gives 1e-9 mm/N, so that forces are told apart: under a person a few millionths [mm]."""


def table(clearance, weight=2000.0):
    footing = posts.Footing(posts.rigid_frame(TABLE, weight=weight))
    return footing, np.array(clearance, dtype=float)


def test_a_rigid_table_with_one_short_foot_rocks_by_just_that():
    footing, clearance = table([0.0, 0.0, 1.7, 0.0])
    found = posts.walk(footing, clearance, person=PERSON)
    assert found.rock == pytest.approx(1.7, abs=SEAT)
    assert dict(zip(found.marks, found.travel, strict=True)) == pytest.approx(
        {"A": 1.7, "B": 0.0, "C": 1.7, "D": 0.0}, abs=SEAT
    )
    assert found.tips == ()


def test_its_weight_in_the_middle_lies_on_the_two_feet_beside_the_short_one():
    footing, clearance = table([0.0, 0.0, 1.7, 0.0])
    rest = footing.stand_once(clearance)
    assert rest.press[0] == pytest.approx([0.0, 1000.0, 0.0, 1000.0], abs=1e-5)


def test_it_falls_at_once_when_the_person_steps_over_the_line_between_those_two():
    footing, clearance = table([0.0, 0.0, 1.7, 0.0])
    jump = posts.walk(footing, clearance, person=PERSON).jump
    assert jump is not None
    assert jump.fall == pytest.approx(1.7, abs=SEAT)
    assert jump.at[0] / 3600.0 + jump.at[1] / 2700.0 == pytest.approx(1.0, abs=1e-3)


def test_a_table_on_right_feet_does_not_move():
    footing, clearance = table([0.3, 0.3, 0.3, 0.3])
    found = posts.walk(footing, clearance, person=PERSON)
    assert found.rock == pytest.approx(0.0, abs=SEAT)
    assert found.jump is None


def test_a_floor_level_on_a_tilt_of_its_feet_does_not_rock():
    footing, clearance = table([0.0, 3.6, 3.6 + 2.7, 2.7])
    assert posts.walk(footing, clearance, person=PERSON).rock == pytest.approx(0.0, abs=SEAT)


@pytest.mark.parametrize("high", [0.0, 0.1, 0.2])
def test_a_beam_with_a_high_middle_post_gives_its_ends_less(high):
    """R_middle = 10 w L / 8 + 6 E I d / L^3, each end the rest of it halved (note in docs/contact.md)."""
    span, bending, weight = 1500.0, 4.2e10, 0.12
    footing = posts.Footing(two_span_beam(span=span, bending=bending, weight=weight))
    press = footing.stand_once(np.array([0.0, -high, 0.0])).press[0]
    extra = 6.0 * bending * high / span**3
    assert extra / 2.0 < 3.0 * weight * span / 8.0 or high > 0.1
    if extra / 2.0 < 3.0 * weight * span / 8.0:
        middle = 10.0 * weight * span / 8.0 + extra
        ends = 3.0 * weight * span / 8.0 - extra / 2.0
        assert press == pytest.approx([ends, middle, ends], rel=1e-6)


def test_a_beam_on_a_middle_post_higher_than_it_sags_stands_on_that_alone_and_tilts():
    """Beyond d = w L^4 / (8 E I) the gaps of the ends add up to 2 (d - w L^4 / (8 E I))."""
    span, bending, weight, high = 1500.0, 4.2e10, 0.12, 4.0
    footing = posts.Footing(two_span_beam(span=span, bending=bending, weight=weight))
    rest = footing.stand_once(np.array([0.0, -high, 0.0]))
    sag = weight * span**4 / (8.0 * bending)
    assert high > sag
    assert rest.press[0] == pytest.approx([0.0, 2.0 * weight * span, 0.0], abs=1e-6)
    assert rest.gap[0].sum() == pytest.approx(2.0 * (high - sag), rel=1e-6)
    assert min(rest.gap[0]) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("times", [0.9, 1.5, 4.0])
def test_a_person_in_one_span_lifts_the_far_end_by_the_beam_table(times):
    """The far foot is clear by P L^3 / (16 E I) - w L^4 / (4 E I) as soon as P > 4 w L."""
    span, bending, weight = 1500.0, 4.2e10, 0.12
    footing = posts.Footing(two_span_beam(span=span, bending=bending, weight=weight))
    person = times * 4.0 * weight * span
    found = posts.walk(footing, np.zeros(3), person=person)
    gap = person * span**3 / (16.0 * bending) - weight * span**4 / (4.0 * bending)
    assert found.rock == pytest.approx(max(0.0, gap), rel=1e-6, abs=SEAT)
    if gap > 0.0:
        assert found.mark == "P2"
        assert found.highest == (750.0, 0.0)


def test_very_stiff_frames_rock_as_rigid_ones():
    rng = np.random.default_rng(4)
    grid = random_grid(rng, n=5, stiffness=1e9)
    clearance = rng.normal(size=5)
    soft = posts.Footing(posts.float_frame(grid, has_boards=True))
    rigid = posts.Footing(
        posts.rigid_frame({m: (x, y) for m, x, y in zip(grid.posts, grid.x, grid.y, strict=True)}, weight=1.0)
    )
    loads = np.vstack((grid.timbers_weight, grid.timbers_weight + PERSON * grid.walked_load))
    spread = np.broadcast_to(clearance, loads.shape)
    assert soft.stand(spread, loads).gap == pytest.approx(rigid.stand(spread, loads).gap, abs=2e-5)


def test_very_soft_frames_lie_on_every_foot_with_the_weight_above_it():
    rng = np.random.default_rng(5)
    grid = random_grid(rng, n=7, stiffness=1e-3)
    rest = posts.Footing(posts.float_frame(grid, has_boards=True)).stand_once(rng.normal(size=7))
    assert rest.gap[0] == pytest.approx(np.zeros(7), abs=1e-9)
    assert rest.press[0] == pytest.approx(grid.timbers_weight, abs=0.05)


def by_enumeration(stiffness, load, clearance):
    """Heads u (up) of the only set of feet that obeys all laws, from the stiffness itself."""
    n = len(load)
    for size in range(3, n + 1):
        for feet in itertools.combinations(range(n), size):
            clear = np.setdiff1d(np.arange(n), feet)
            heads = -clearance.copy()
            if len(clear):
                inner = stiffness[np.ix_(clear, clear)]
                if np.linalg.cond(inner) > 1e12:
                    continue
                heads[clear] = np.linalg.solve(inner, -load[clear] - stiffness[np.ix_(clear, feet)] @ heads[list(feet)])
            press = stiffness @ heads + load
            if press[list(feet)].min() >= -1e-7 and (heads + clearance).min() >= -1e-9:
                return heads, press
    return None


@pytest.mark.parametrize("n", [4, 5, 6, 7, 8])
@pytest.mark.parametrize("roughness", [0.1, 1.0, 5.0])
def test_every_set_of_feet_tried_on_the_stiffness_agrees(n, roughness):
    rng = np.random.default_rng([n, int(10 * roughness)])
    for _ in range(4):
        grid = random_grid(rng, n=n)
        clearance = roughness * rng.normal(size=n)
        tried = by_enumeration(grid.stiffness, grid.timbers_weight, clearance)
        assert tried is not None
        rest = posts.Footing(posts.float_frame(grid, has_boards=True)).stand_once(clearance)
        assert rest.gap[0] == pytest.approx(tried[0] + clearance, abs=SEAT)
        assert rest.press[0] == pytest.approx(tried[1], abs=0.01)  # seats of 1e-9 mm/N against 300 N/mm
        assert rest.head[0] == pytest.approx(tried[0], abs=SEAT)


@pytest.mark.parametrize("n", [6, 12, 18])
def test_the_heads_that_need_least_energy_by_a_general_solver_agree(n):
    import clarabel
    from scipy import sparse

    rng = np.random.default_rng(n)
    options = clarabel.DefaultSettings()
    options.verbose = False
    options.tol_gap_abs = options.tol_gap_rel = options.tol_feas = 1e-11
    for _ in range(3):
        grid = random_grid(rng, n=n)
        clearance = 0.4 * rng.normal(size=n)
        load = grid.timbers_weight + PERSON * grid.walked_load[3]
        scale = 1000.0
        peer = clarabel.DefaultSolver(
            sparse.csc_matrix(np.triu(grid.stiffness / scale)),
            load / scale,
            sparse.csc_matrix(-np.eye(n)),
            clearance,
            [clarabel.NonnegativeConeT(n)],
            options,
        ).solve()
        footing = posts.Footing(posts.float_frame(grid, has_boards=True))
        rest = footing.stand(clearance[None], load[None])
        assert rest.head[0] == pytest.approx(np.array(peer.x), abs=SEAT)
        assert rest.press[0] == pytest.approx(np.array(peer.z) * scale, abs=1e-6 * load.sum() + 0.002)  # and seats


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), n=st.integers(3, 10), roughness=st.sampled_from([0.0, 0.05, 0.5, 5.0]))
def test_no_foot_pulls_none_sinks_in_and_forces_balance(seed, n, roughness):
    rng = np.random.default_rng(seed)
    grid = random_grid(rng, n=n)
    frame = posts.float_frame(grid, has_boards=True)
    loads = np.vstack((frame.own, frame.own + PERSON * frame.walked_load))
    clearance = np.round(roughness * rng.normal(size=n), 2)
    rest = posts.Footing(frame).stand(np.broadcast_to(clearance, loads.shape), loads)
    assert rest.is_held.all()
    assert rest.press.min() >= -1e-6
    assert rest.gap.min() >= 0.0
    assert (rest.press * rest.gap == 0.0).all()
    for arm in (np.ones(n), grid.x, grid.y):
        assert rest.press @ arm == pytest.approx(loads @ arm, rel=1e-7)
    assert rest.head + clearance == pytest.approx(rest.gap, abs=1e-5 * (1 + roughness))


def test_a_person_beyond_the_feet_tips_the_floor_and_is_told_apart():
    grid = random_grid(np.random.default_rng(8), n=4)
    frame = posts.float_frame(grid, has_boards=True)
    middle = np.array([grid.x.mean(), grid.y.mean()])
    corner = np.array([grid.x[0], grid.y[0]])
    beyond = middle + 6.0 * (corner - middle)
    planes = np.c_[np.ones(4), grid.x, grid.y]
    load = np.r_[1.0, beyond] @ np.linalg.pinv(planes)
    from dataclasses import replace

    tipping = replace(
        frame, walked_at=np.vstack((frame.walked_at, beyond)), walked_load=np.vstack((frame.walked_load, load))
    )
    found = posts.walk(posts.Footing(tipping), np.zeros(4), person=10.0 * PERSON)
    assert found.tips == (pytest.approx(tuple(beyond)),)
    assert posts.walk(posts.Footing(tipping, anchored=frame.marks), np.zeros(4), person=10.0 * PERSON).tips == ()


def test_an_anchored_foot_pulls_and_never_rises():
    footing, clearance = table([0.0, 0.0, 1.7, 0.0])
    held = posts.Footing(footing.frame, anchored=("C",))
    rest = held.stand_once(clearance)
    assert rest.gap[0, 2] == 0.0
    assert posts.walk(held, clearance, person=PERSON).travel[2] == 0.0


def test_a_hanging_post_adds_its_weight():
    grid = random_grid(np.random.default_rng(2), n=4)
    plain = posts.float_frame(grid, has_boards=False)
    heavy = posts.float_frame(grid, has_boards=False, post_weight={"P2": 31.0})
    assert heavy.own - plain.own == pytest.approx([0.0, 0.0, 31.0, 0.0])


@pytest.mark.parametrize(
    ("places", "code", "where"),
    [
        ({"A": (0.0, 0.0)}, "posts-too-few", "posts"),
        ({"A": (0.0, 0.0), "B": (5.0, 0.0), "C": (0.5, 0.0)}, "posts-on-one-spot", "posts.C"),
    ],
)
def test_places_that_hold_no_floor_are_refused(places, code, where):
    with pytest.raises(OutOfRangeError) as caught:
        posts.rigid_frame(places, weight=100.0)
    assert (caught.value.fault.code, caught.value.fault.where) == (code, where)


def test_posts_in_one_line_make_a_beam_that_rocks_over_a_high_middle_one():
    frame = posts.rigid_frame({"A": (0.0, 0.0), "B": (1000.0, 0.0), "C": (2000.0, 0.0)}, weight=300.0)
    found = posts.walk(posts.Footing(frame), np.array([0.0, -1.0, 0.0]), person=PERSON)
    assert found.rock == pytest.approx(2.0, abs=SEAT)
    assert found.mark in {"A", "C"}
