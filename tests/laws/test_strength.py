"""Laws of any frame under load: it balances, turns with its plan, mirrors, and its posts never pull."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "strength"))
from strength_factory import Plan, heights, make_frame, make_job, timber

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind
from evenfoot.solvers import grillage
from evenfoot.strength import check_strength

UNIT = 6.0e-6
gaps = st.lists(st.integers(250, 700), min_size=1, max_size=4)


@st.composite
def plans(draw):
    """Frames with unequal joist and beam spacings, overhangs, posts, sections and joints."""
    joists = tuple(float(x) for x in np.cumsum([0, *draw(gaps)]))
    beams = tuple(
        float(y)
        for y in np.cumsum(
            [draw(st.integers(60, 300)), *draw(st.lists(st.integers(700, 1600), min_size=1, max_size=2))]
        )
    )
    is_lapped = draw(st.booleans())
    posts = (joists[0], joists[-1]) if draw(st.booleans()) else (joists[0], joists[len(joists) // 2], joists[-1])
    return Plan(
        joists=joists,
        beams=beams,
        posts=tuple(sorted(set(posts))),
        reach=(0.0, beams[-1] + draw(st.integers(60, 300))),
        run=(joists[0] - draw(st.integers(60, 200)), joists[-1] + 75.0),
        kind=JointKind.LAP_OVER if is_lapped else JointKind.BEARING,
        cut=(40.0, 50.0) if is_lapped else (0.0, 0.0),
        joist=timber(float(draw(st.sampled_from([45, 60, 105]))), 90.0, species="sugi"),
        beam=timber(105.0, float(draw(st.sampled_from([105, 120]))), species="hinoki"),
    )


def summary(strength):
    return {
        (c.subject, c.rule, c.place, c.case, c.verdict): (c.demand, c.capacity)
        for c in strength.checks
        if c.ratio is not None
    }


def assert_alike(one, other):
    assert set(one) == set(other)
    for key, numbers in one.items():
        assert numbers == pytest.approx(other[key], rel=1e-6), key


@settings(max_examples=15, deadline=None)
@given(plans(), st.floats(100.0, 900.0))
def test_posts_carry_all_of_the_floor_and_never_pull(plan, height):
    frame = make_frame(plan)
    strength = check_strength(make_job(overhang=(0.0, 20.0, 15.0, 30.0)), frame, heights(frame, height))
    is_tipping = any(c.rule == "tipping" and c.verdict is Verdict.FAILS for c in strength.checks)
    joist, beam = plan.joist.width / 2, plan.beam.width / 2
    x = (min(plan.run[0], plan.joists[0] - joist), max(plan.run[1], plan.joists[-1] + joist))
    y = (min(plan.reach[0], plan.beams[0] - beam), max(plan.reach[1], plan.beams[-1] + beam))
    area = (x[1] - x[0] + 45.0) * (y[1] - y[0] + 20.0)
    timbers = sum(m.width * m.depth * m.length for m in frame.members) * UNIT
    dead = timbers + UNIT * 30.0 * 105.0 / 110.0 * area
    for case, live in (("dead", 0.0), ("long", 1300e-6 * area)):
        forces = [p.force for p in strength.post_loads if p.case == case]
        assert sum(forces) == pytest.approx(dead + live, rel=1e-9)
    if not is_tipping:
        assert min(p.force for p in strength.post_loads) >= -1e-6


@settings(max_examples=10, deadline=None)
@given(plans())
def test_turning_the_plan_turns_nothing_else(plan):
    from dataclasses import replace

    along_y, along_x = make_frame(plan), make_frame(replace(plan, axis="x"))
    one = check_strength(make_job(overhang=(5.0, 20.0, 15.0, 30.0)), along_y, heights(along_y))
    other = check_strength(make_job(overhang=(15.0, 30.0, 5.0, 20.0), direction_deg=90.0), along_x, heights(along_x))
    assert_alike(summary(one), summary(other))
    assert [p.force for p in one.post_loads] == pytest.approx([p.force for p in other.post_loads], rel=1e-6)


@settings(max_examples=10, deadline=None)
@given(plans())
def test_a_mirrored_frame_is_stressed_alike(plan):
    """Seen from the other end: distances from the start become distances from the end, the numbers stay."""
    from dataclasses import replace

    low, high = plan.run
    mirrored = replace(
        plan,
        joists=tuple(sorted(low + high - j for j in plan.joists)),
        posts=tuple(sorted(low + high - p for p in plan.posts)),
    )
    one, other = make_frame(plan), make_frame(mirrored)
    first = check_strength(make_job(), one, heights(one))
    second = check_strength(make_job(), other, heights(other))

    def worst(strength, rule):
        return max((c.ratio for c in strength.checks if c.rule == rule), default=0.0)

    for rule in ("bending", "shear", "bearing", "sag", "buckling", "notch-bending", "end-notch"):
        assert worst(first, rule) == pytest.approx(worst(second, rule), rel=1e-6), rule


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(0.2, 5.0), min_size=6, max_size=6),
    st.integers(0, 5),
    st.floats(1.01, 20.0),
    st.lists(st.floats(0.0, 900.0), min_size=7, max_size=7),
)
def test_more_stiffness_never_lets_the_loads_sink_more(stiff, which, times, loads):
    """The work of the loads falls, or stays, when any one part is made stiffer; contacts may lift."""

    def work(ei):
        grid = grillage.Grillage(
            ends=np.array([(k, k + 1) for k in range(6)]),
            length=np.array([300.0, 500.0, 400.0, 700.0, 350.0, 450.0]),
            ei=np.array(ei) * 2e10,
            ga=np.full(6, 2.4e6),
            level=np.arange(7),
            n_levels=10,
            spring_level=np.array([7, 8, 9]),
            spring=np.array([800.0, 1500.0, 600.0]),
            upper=np.array([1, 3, 5]),
            lower=np.array([7, 8, 9]),
        )
        forces = np.zeros((grid.size, 1))
        forces[:7, 0] = loads
        forces[3, 0] += 4000.0  # keeps it from tipping
        response = grillage.respond(grillage.prepare(grid), forces, np.full((6, 1), 0.5))
        even = grillage.prepare(grid).even @ np.full((6, 1), 0.5)
        return float(((forces + even) * response.moved).sum()), response

    before, first = work(stiff)
    stiffer = list(stiff)
    stiffer[which] *= times
    after, second = work(stiffer)
    assert (first.press >= -1e-6).all() or first.is_held.any()
    if not (first.is_held.any() or second.is_held.any()):
        assert after <= before * (1.0 + 1e-9) + 1e-9
