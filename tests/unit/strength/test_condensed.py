"""The frame as its posts feel it, against plain beams, the whole solution and the laws of statics."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.errors import NoSolutionError
from evenfoot.frame import JointKind
from evenfoot.strength import check_strength, condense_frame

UNIT = 6.0e-6
TWELVE = Plan(
    joists=(0.0, 430.0, 910.0, 1330.0, 1820.0),
    beams=(110.0, 1250.0, 2410.0, 3300.0),
    posts=(0.0, 910.0, 1820.0),
    reach=(0.0, 3390.0),
    run=(-90.0, 1905.0),
)


def condensed(plan, height=350.0, **job):
    frame = make_frame(plan)
    return frame, condense_frame(make_job(**job), frame, heights(frame, height))


def test_a_beam_on_three_posts_resists_its_middle_as_a_simple_span():
    """Middle head lowered alone by 1 mm, ends held, two beams of one joist each side: 48 EI / L3 with shear."""
    plan = Plan(joists=(0.0, 1800.0), posts=(0.0, 900.0, 1800.0), run=(0.0, 1800.0))
    _, seen = condensed(plan)
    e, g = 9000.0, 600.0
    second, area = 105.0 * 105.0**3 / 12, 105.0 * 105.0 * 5 / 6
    give = 1800.0**3 / (48 * e * second) + 1800.0 / (4 * g * area)
    # Beams lie apart and joists of one span tie nothing together: each beam's middle answers alone.
    middle = [k for k in range(6) if seen.x[k] == 900.0]
    for k in middle:
        assert seen.stiffness[k, k] == pytest.approx(1.0 / give, rel=1e-9)
        ends = [j for j in range(6) if seen.y[j] == seen.y[k] and j != k]
        assert seen.stiffness[k, ends] == pytest.approx(-0.5 / give, rel=1e-9)


def test_lowering_tilting_or_twisting_the_frame_as_a_whole_meets_nothing():
    """A twist x y leaves every timber straight; timbers that only rest on each other do not resist it."""
    _, seen = condensed(TWELVE)
    largest = np.abs(seen.stiffness).max()
    for move in (np.ones(12), seen.x / 1000.0, seen.y / 1000.0, seen.x * seen.y / 1e6):
        assert np.abs(seen.stiffness @ move).max() < 1e-8 * largest
    assert seen.stiffness == pytest.approx(seen.stiffness.T, rel=1e-12)
    values = np.linalg.eigvalsh(seen.stiffness)
    assert values[4] > 1e-3 * largest
    assert values[0] > -1e-8 * largest


def test_weights_at_the_heads_balance_the_frame_and_its_boards():
    frame, seen = condensed(TWELVE, overhang=(10.0, 20.0, 30.0, 15.0))
    volumes = [(m.width * m.depth * m.length, m) for m in frame.members]
    total = sum(v for v, _ in volumes) * UNIT
    assert seen.timbers_weight.sum() == pytest.approx(total, rel=1e-9)
    for along, axis in ((seen.x, 0), (seen.y, 1)):
        moment = sum(v * (m.start[axis] + m.end[axis]) / 2 for v, m in volumes) * UNIT
        assert (seen.timbers_weight * along).sum() == pytest.approx(moment, rel=1e-9)
    area = (3390.0 + 30.0) * (1995.0 + 45.0)
    assert seen.boards_weight.sum() == pytest.approx(area * UNIT * 30.0 * 105.0 / 110.0, rel=1e-9)


def test_one_newton_anywhere_is_one_newton_at_the_heads_with_the_same_lever():
    _, seen = condensed(TWELVE)
    assert len(seen.walked) == len(seen.walked_at) > 60
    assert seen.walked_load.sum(axis=1) == pytest.approx(1.0, rel=1e-9)
    assert seen.walked_load @ seen.x == pytest.approx(seen.walked_at[:, 0], abs=1e-6)
    assert seen.walked_load @ seen.y == pytest.approx(seen.walked_at[:, 1], abs=1e-6)


def test_standing_on_its_posts_it_presses_as_the_whole_solution_says():
    """Posts as springs under the condensed frame give the same dead loads as the frame solved whole."""
    frame, seen = condensed(TWELVE, height=900.0)
    load = seen.timbers_weight + seen.boards_weight
    posts = np.diag(seen.post_stiffness)
    moved = np.linalg.solve(seen.stiffness + posts, load)
    press = load - seen.stiffness @ moved
    assert press == pytest.approx(posts @ moved, rel=1e-9)
    strength = check_strength(make_job(), frame, heights(frame, 900.0))
    dead = {p.mark: p.force for p in strength.post_loads if p.case == "dead"}
    assert min(dead.values()) > 0.0
    assert press == pytest.approx([dead[m] for m in seen.posts], rel=1e-7)


def test_posts_are_springs_along_their_grain_under_wood_pressed_across():
    """Across: E / 30 over the contact and the depth of the beam, in series with E A / L."""
    frame = make_frame(TWELVE)
    given = heights(frame, 700.0)
    given[frame.posts[2].mark] = 0.0
    seen = condense_frame(make_job(), frame, given)
    area = 105.0**2
    give = 700.0 / (9000.0 * area) + 105.0 / (9000.0 / 30.0 * area)
    assert seen.post_stiffness[0] == pytest.approx(1.0 / give, rel=1e-12)
    assert np.isinf(seen.post_stiffness[2])
    assert seen.posts == tuple(p.mark for p in frame.posts)


def test_places_to_walk_may_be_named():
    frame = make_frame(TWELVE)
    joist = frame.members[-1]
    seen = condense_frame(make_job(), frame, heights(frame), spots=((joist.mark, 777.0), (joist.mark, 0.0)))
    assert seen.walked == ((joist.mark, 777.0), (joist.mark, 0.0))
    assert seen.walked_at[0] == pytest.approx([1820.0, 777.0])


def test_a_wood_that_no_table_knows_is_as_stiff_as_common_softwood_and_says_so():
    oak = timber(105.0, 105.0, species="oak_eu")
    _, seen = condensed(replace(TWELVE, post=oak), standard="europe")
    give = 350.0 / (8000.0 * 105.0**2) + 105.0 / (8000.0 / 30.0 * 105.0**2)
    assert seen.post_stiffness == pytest.approx(1.0 / give, rel=1e-12)
    assert "oak_eu ungraded E_0" in seen.doubts


def test_laps_from_below_carry_the_beams_to_the_posts_under_the_joists():
    under = Plan(
        joists=(0.0, 455.0, 910.0),
        beams=(150.0, 1100.0),
        under=(0, 2),
        kind=JointKind.LAP_OVER,
        cut=(40.0, 50.0),
        reach=(0.0, 1250.0),
        run=(0.0, 910.0),
    )
    frame, seen = condensed(under)
    total = sum(m.width * m.depth * m.length for m in frame.members) * UNIT
    assert seen.timbers_weight.sum() == pytest.approx(total, rel=1e-9)
    assert seen.timbers_weight == pytest.approx(np.full(4, total / 4), rel=1e-9)


def test_a_timber_that_rests_on_too_little_is_named():
    frame = make_frame(Plan(posts=(0.0,)))
    with pytest.raises(NoSolutionError) as caught:
        condense_frame(make_job(), frame, heights(frame))
    assert caught.value.fault.code == "mechanism"
    assert caught.value.fault.where in {m.mark for m in frame.members}
