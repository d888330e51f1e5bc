"""The grillage against textbook beams (formulas beside each) and against its own laws."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from straight_beams import EI, beam, loaded

from evenfoot.errors import NoSolutionError
from evenfoot.solvers import beam_element, grillage

Q, L = 0.63, 1370.0


def moment_at(grid, response, node, place):
    """Moment at a node, from the element that begins there."""
    element = node[float(place)]
    return beam_element.moment(ends=response.ends[element : element + 1], x=np.zeros((1, 1)), q=np.zeros((1, 1)))[0, 0]


def test_one_span_under_even_load():
    grid, node = beam(stops=[0, L / 2, L], supports=[0, L])
    r = loaded(grid, node, q=Q)
    assert r.press[:, 0] == pytest.approx([Q * L / 2] * 2, rel=1e-9)
    assert moment_at(grid, r, node, L / 2) == pytest.approx(Q * L**2 / 8, rel=1e-9)
    assert r.moved[node[L / 2], 0] == pytest.approx(5 * Q * L**4 / (384 * EI), rel=1e-9)


def test_one_span_that_shears_too():
    ga = 3.3e6
    grid, node = beam(stops=[0, L / 2, L], supports=[0, L], ga=ga)
    r = loaded(grid, node, points=[(L / 2, 740.0)])
    assert r.moved[node[L / 2], 0] == pytest.approx(740.0 * (L**3 / (48 * EI) + L / (4 * ga)), rel=1e-9)


def test_two_equal_spans_press_the_middle_with_one_and_a_quarter():
    grid, node = beam(stops=[], supports=[0, L, 2 * L])
    r = loaded(grid, node, q=Q)
    assert r.press[:, 0] == pytest.approx([0.375 * Q * L, 1.25 * Q * L, 0.375 * Q * L], rel=1e-9)
    assert moment_at(grid, r, node, L) == pytest.approx(-Q * L**2 / 8, rel=1e-9)


def test_three_equal_spans():
    grid, node = beam(stops=[], supports=[0, L, 2 * L, 3 * L])
    r = loaded(grid, node, q=Q)
    assert r.press[:, 0] == pytest.approx(np.array([0.4, 1.1, 1.1, 0.4]) * Q * L, rel=1e-9)
    assert moment_at(grid, r, node, L) == pytest.approx(-0.1 * Q * L**2, rel=1e-9)


def test_two_spans_that_shear_follow_the_force_method():
    ga = 1.9e6
    grid, node = beam(stops=[], supports=[0, L, 2 * L], ga=ga)
    r = loaded(grid, node, q=Q)
    sag = 5 * Q * (2 * L) ** 4 / (384 * EI) + Q * (2 * L) ** 2 / (8 * ga)
    push = (2 * L) ** 3 / (48 * EI) + (2 * L) / (4 * ga)
    assert r.press[1, 0] == pytest.approx(sag / push, rel=1e-9)


def test_overhang_tip_turns_with_its_back_span():
    a = 410.0
    grid, node = beam(stops=[L + a], supports=[0, L])
    r = loaded(grid, node, points=[(L + a, 510.0), (0, 400.0)])
    assert moment_at(grid, r, node, L) == pytest.approx(-510.0 * a, rel=1e-9)
    assert r.moved[node[L + a], 0] == pytest.approx(510.0 * a**2 * (L + a) / (3 * EI), rel=1e-9)


def test_spring_supports_share_by_stiffness():
    grid, node = beam(stops=[L / 2], supports=[], springs={0.0: 800.0, L: 500.0})
    r = loaded(grid, node, points=[(L / 2, 900.0)])
    assert r.press[:, 0] == pytest.approx([450.0, 450.0], rel=1e-9)
    assert r.moved[node[0.0], 0] == pytest.approx(450.0 / 800.0, rel=1e-9)
    assert r.moved[node[L], 0] == pytest.approx(450.0 / 500.0, rel=1e-9)


def test_forces_and_reactions_balance_with_unequal_spans_and_loads():
    grid, node = beam(stops=[300, 2900], supports=[170, 1130, 2590], ga=2.2e6)
    r = loaded(grid, node, q=0.44, points=[(300, 260.0), (2900, 130.0)])
    span = 2900 - 170
    assert r.press.sum() == pytest.approx(0.44 * span + 390.0, rel=1e-9)
    moment = (r.press[:, 0] * [170, 1130, 2590]).sum()
    assert moment == pytest.approx(0.44 * span * (170 + 2900) / 2 + 260.0 * 300 + 130.0 * 2900, rel=1e-9)


def crossing(*, k1=np.inf):
    """One joist (nodes 0 1 2) resting by its middle and ends on three beams' middles; beams on rigid ends."""
    ends, level, length, upper, lower = [], [], [], [], []
    level += [0, 1, 2]
    ends += [(0, 1), (1, 2)]
    length += [900.0, 900.0]
    n, lev = 3, 3
    for k in range(3):
        level += [lev, lev + 1, lev + 2]
        ends += [(n, n + 1), (n + 1, n + 2)]
        length += [700.0, 700.0]
        upper += [k, lev, lev + 2]
        lower += [lev + 1, grillage.GROUND, grillage.GROUND]
        n, lev = n + 3, lev + 3
    count = len(length)
    return grillage.Grillage(
        ends=np.array(ends),
        length=np.array(length),
        ei=np.array([3.1e10] * 2 + [8.7e10] * (count - 2)),
        ga=np.full(count, k1),
        level=np.array(level),
        n_levels=lev,
        spring_level=np.zeros(0, dtype=int),
        spring=np.zeros(0),
        upper=np.array(upper),
        lower=np.array(lower),
    )


def test_joist_on_three_beams_shares_by_the_force_method():
    grid = crossing()
    forces = np.zeros((grid.size, 1))
    forces[1, 0] = 1000.0
    r = grillage.respond(grillage.prepare(grid), forces, np.zeros((len(grid.length), 1)))
    beams = 1400.0**3 / (48 * 8.7e10)
    joist = 1800.0**3 / (48 * 3.1e10)
    # Middle beam takes N: its sag equals the mean sag of the outer beams plus the joist's own bending.
    middle = 1000.0 * (beams / 2 + joist) / (beams + beams / 2 + joist)
    assert r.press[3, 0] == pytest.approx(middle, rel=1e-9)
    assert r.press[0, 0] == pytest.approx((1000.0 - middle) / 2, rel=1e-9)
    assert r.press[4, 0] == pytest.approx(middle / 2, rel=1e-9)


def test_a_force_here_moves_there_as_a_force_there_moves_here():
    grid = crossing(k1=3e6)
    places = [0, 1, 4, 7, 10]
    forces = np.zeros((grid.size, len(places)))
    dead = np.full((len(grid.length), len(places)), 50.0)  # heavy enough that nothing lifts
    base = grillage.respond(grillage.prepare(grid), np.zeros((grid.size, 1)), dead[:, :1])
    for column, place in enumerate(places):
        forces[place, column] = 100.0
    r = grillage.respond(grillage.prepare(grid), forces, dead)
    assert not r.is_held.any()
    moved = (r.moved - base.moved)[places]
    assert moved == pytest.approx(moved.T, rel=1e-7, abs=1e-9)


def test_cases_add_up_while_nothing_lifts():
    grid, node = beam(stops=[400, 1500], supports=[0, 1000, 2200], ga=2.5e6)
    one = loaded(grid, node, q=0.8, points=[(400, 150.0)])
    two = loaded(grid, node, q=0.5, points=[(1500, 210.0)])
    both = loaded(grid, node, q=1.3, points=[(400, 150.0), (1500, 210.0)])
    assert both.moved == pytest.approx(one.moved + two.moved, rel=1e-9, abs=1e-12)
    assert both.press == pytest.approx(one.press + two.press, rel=1e-9)


def test_tied_ends_move_together_and_pass_no_moment():
    """A hinge at a quarter of a two-span beam: statically determinate (Gerber)."""
    at = [0.0, 1000.0, 1400.0, 2400.0]
    grid = grillage.Grillage(
        ends=np.array([(0, 1), (1, 2), (3, 4)]),
        length=np.array([1000.0, 400.0, 1000.0]),
        ei=np.full(3, EI),
        ga=np.full(3, np.inf),
        level=np.array([0, 1, 2, 2, 4]),
        n_levels=5,
        spring_level=np.zeros(0, dtype=int),
        spring=np.zeros(0),
        upper=np.array([0, 1, 4]),
        lower=np.full(3, grillage.GROUND),
    )
    even = np.array([[0.5], [0.5], [0.9]])
    r = grillage.respond(grillage.prepare(grid), np.zeros((grid.size, 1)), even)
    hinge = 0.9 * 1000.0 / 2
    middle = (0.5 * 1400.0**2 / 2 + hinge * 1400.0) / 1000.0
    assert r.press[:, 0] == pytest.approx([0.5 * 1400.0 + hinge - middle, middle, hinge], rel=1e-9)
    assert len(at) == 4


def test_a_beam_on_one_support_is_named_by_a_node_of_it():
    grid, _ = beam(stops=[0, 1000], supports=[500])
    with pytest.raises(NoSolutionError) as caught:
        grillage.prepare(grid)
    assert caught.value.fault.code == "mechanism"
    assert caught.value.fault.where == "supports"
    assert 0 <= int(caught.value.fault.found) < 3


def test_a_beam_on_no_support_at_all_is_refused():
    grid, _ = beam(stops=[0, 1000], supports=[])
    with pytest.raises(NoSolutionError) as caught:
        grillage.prepare(grid)
    assert caught.value.fault.code == "mechanism"


def test_a_joint_that_holds_turns_the_beam_by_what_the_joist_bends():
    """At every node the torsional moments on either side differ by what the links there pass: k (slope - twist)."""
    from random_frames import frame

    built = frame(np.random.default_rng(8), joists=4, beams=2, over=0.6, gj=True, hold=2e7, tied=1.1)
    grid = built.grid
    forces = np.zeros((grid.size, 2))
    forces[grid.level[3], 0], forces[grid.level[7], 1] = 900.0, 400.0
    r = grillage.respond(grillage.prepare(grid), forces, np.zeros((len(grid.length), 2)))
    torque = grillage.torques(grid, r.moved)
    passed = grid.links.stiffness[:, None] * (r.moved[grid.links.freedoms[:, 0]] - r.moved[grid.links.freedoms[:, 1]])
    at_node = np.zeros((len(grid.level), 2))
    np.add.at(at_node, grid.ends[:, 1], torque)
    np.add.at(at_node, grid.ends[:, 0], -torque)
    first = grid.n_levels + len(grid.level)
    for link, twist in enumerate(grid.links.freedoms[:, 1]):
        assert at_node[twist - first] == pytest.approx(passed[link], rel=1e-7, abs=1e-6)
    assert np.abs(torque).max() > 1.0


def test_timbers_without_a_torsional_stiffness_pass_no_torque():
    grid = crossing()
    assert grillage.torques(grid, np.ones((grid.size, 3))).tolist() == np.zeros((len(grid.length), 3)).tolist()


def test_a_tied_contact_pulls_where_another_would_let_go():
    from dataclasses import replace

    grid, node = beam(stops=[1500, 2500], supports=[0, 1000, 2000])
    loads = [(1500, 500.0), (2500, 300.0)]
    free = loaded(grid, node, points=loads)
    tied = loaded(replace(grid, is_tied=np.array([True, False, False])), node, points=loads)
    assert free.press[0, 0] == 0.0
    assert tied.press[0, 0] < -1.0
    assert not tied.is_held.any()
    assert tied.press[:, 0].sum() == pytest.approx(800.0, rel=1e-9)
