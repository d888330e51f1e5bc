"""Supports push and never pull; what tips is held and says so."""

from __future__ import annotations

import itertools
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from straight_beams import EI, beam, loaded

from evenfoot.solvers import contact, grillage


def test_a_support_that_would_pull_lets_go():
    """The middle load bends the first end up: it lets go, and the other two carry all (moments about the last)."""
    grid, node = beam(stops=[1500, 2500], supports=[0, 1000, 2000])
    r = loaded(grid, node, points=[(1500, 500.0), (2500, 300.0)])
    middle = (500.0 * 500 - 300.0 * 500) / 1000
    assert r.press[:, 0] == pytest.approx([0.0, middle, 800.0 - middle], rel=1e-9)
    assert not r.is_held.any()
    assert r.moved[node[0.0], 0] < 0.0


def test_a_lifted_end_is_clear_of_its_support():
    grid, node = beam(stops=[0, 1500, 3000], supports=[0, 2000, 3000])
    r = loaded(grid, node, points=[(1500, 500.0)])
    assert r.press[:, 0] == pytest.approx([500.0 * 500 / 2000, 500.0 * 1500 / 2000, 0.0], rel=1e-9)
    assert r.moved[node[3000.0], 0] < 0.0


def test_tipping_is_held_and_the_hold_down_is_the_lever():
    grid, node = beam(stops=[1400], supports=[0, 1000])
    r = loaded(grid, node, q=0.05, points=[(1400, 800.0)])
    weight = 0.05 * 1400
    pull = (800.0 * 400 - weight * 300) / 1000
    assert r.is_held[:, 0].tolist() == [True, False]
    assert r.press[0, 0] == pytest.approx(-pull, rel=1e-9)


def test_what_lies_heavy_enough_is_not_held():
    grid, node = beam(stops=[1400], supports=[0, 1000])
    r = loaded(grid, node, q=2.0, points=[(1400, 800.0)])
    assert not r.is_held.any()
    assert (r.press > 0.0).all()


def brute_force(grid, forces):
    """Try every set of lifted contacts with dense matrices; return the presses of the one that fits."""
    size, free = grid.size, grillage.prepare(grid).touching
    k = free.matrix.toarray()
    count = len(grid.upper)
    for lifted in itertools.chain.from_iterable(itertools.combinations(range(count), n) for n in range(count + 1)):
        closed = [c for c in range(count) if c not in lifted]
        rows = np.zeros((len(closed), size))
        for row, c in enumerate(closed):
            rows[row, grid.upper[c]] = 1.0
            if grid.lower[c] != grillage.GROUND:
                rows[row, grid.lower[c]] = -1.0
        used = np.flatnonzero(np.abs(k).sum(axis=0) + np.abs(rows).sum(axis=0))
        whole = np.block([[k[np.ix_(used, used)], rows[:, used].T], [rows[:, used], np.zeros((len(closed),) * 2)]])
        if np.linalg.matrix_rank(whole, tol=1e-6) < len(whole):
            continue
        found = np.linalg.solve(whole, np.concatenate((forces[used], np.zeros(len(closed)))))
        moved, press = np.zeros(size), np.zeros(count)
        moved[used] = found[: len(used)]
        press[closed] = found[len(used) :]
        gaps = [moved[grid.upper[c]] - (moved[grid.lower[c]] if grid.lower[c] >= 0 else 0.0) for c in lifted]
        if (press >= -1e-7).all() and all(g <= 1e-7 for g in gaps):
            return press, moved
    return None


@pytest.mark.parametrize("seed", range(12))
def test_random_loads_rest_as_trying_every_set_of_contacts_says(seed):
    rng = np.random.default_rng(seed)
    springs = {0.0: 900.0, 700.0: 2500.0, 1900.0: 1700.0, 2600.0: 600.0}
    grid, node = beam(stops=[-300, 350, 1300, 2300, 3000], supports=[], springs=springs, ei=EI / 40)
    forces = np.zeros((grid.size, 1))
    for place in (-300, 350, 1300, 2300, 3000):
        forces[node[float(place)], 0] = float(rng.uniform(0.0, 1000.0)) * float(rng.integers(0, 2))
    forces[node[1300.0], 0] += 5.0
    expected = brute_force(grid, forces[:, 0])
    r = grillage.respond(grillage.prepare(grid), forces, np.zeros((len(grid.length), 1)))
    if expected is None:
        assert r.is_held.any()
        return
    assert not r.is_held.any()
    assert r.is_settled.all()
    assert r.press[:, 0] == pytest.approx(expected[0], rel=1e-7, abs=1e-6)


def test_many_cases_at_once_equal_each_alone():
    grid, node = beam(stops=[500, 1500, 2500], supports=[0, 1000, 2000])
    sizes = np.array([[50.0, 0.0, 300.0], [400.0, 0.0, 10.0], [10.0, 900.0, 80.0]]).T
    forces = np.zeros((grid.size, 3))
    for row, place in enumerate((500, 1500, 2500)):
        forces[node[float(place)]] = sizes[row]
    even = np.full((len(grid.length), 3), 0.05)
    prepared = grillage.prepare(grid)
    together = grillage.respond(prepared, forces, even)
    for case in range(3):
        alone = grillage.respond(prepared, forces[:, [case]], even[:, [case]])
        assert together.press[:, case] == pytest.approx(alone.press[:, 0], rel=1e-9, abs=1e-9)
        assert together.moved[:, case] == pytest.approx(alone.moved[:, 0], rel=1e-9, abs=1e-12)
        assert together.column(case).press == pytest.approx(alone.press, rel=1e-9, abs=1e-9)


def test_a_frame_follows_further_loads_as_if_its_open_contacts_were_not_there():
    """The end that lifted at rest stays free and the others stay put: the beam on the two supports that are left."""
    grid, node = beam(stops=[0, 1500, 3000], supports=[0, 2000, 3000])
    rest = loaded(grid, node, points=[(1500, 500.0)])
    assert np.flatnonzero(rest.lifts[:, 0]).tolist() == [2]
    prepared, bare = grillage.prepare(grid), beam(stops=[0, 1500, 3000], supports=[0, 2000])[0]
    forces, even = np.zeros((grid.size, 2)), np.array([[0.0, 0.7]] * len(grid.length))
    forces[node[3000.0], 0] = 120.0  # would push the lifted end down, or pull the first support
    found = grillage.as_at_rest(prepared, rest)(forces, even)
    tied = grillage.prepare(replace(bare, is_tied=np.ones(2, dtype=bool)))
    expected = grillage.respond(tied, forces, even).moved
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("matrix", "first"),
    [([[2.0, 1.0], [1.0, 2.0]], None), ([[1.0, 1.0], [1.0, 1.0]], 1), ([[1.0, 2.0], [2.0, 1.0]], 1), ([[0.0]], 0)],
)
def test_the_first_lift_that_meets_nothing_is_found(matrix, first):
    small = np.array(matrix)
    assert contact._first_soft(small, np.ones(len(small))) == first


def test_contacts_that_do_not_come_to_rest_in_the_rounds_allowed_are_said(monkeypatch):
    monkeypatch.setattr(contact, "_ROUNDS", 1)
    grid, node = beam(stops=[1500, 2500], supports=[0, 1000, 2000])
    r = loaded(grid, node, points=[(1500, 500.0), (2500, 300.0)])
    assert not r.is_settled.any()


def test_one_change_at_a_time_comes_to_the_same_rest(monkeypatch):
    grid, node = beam(stops=[-400, 1500, 3600], supports=[0, 1000, 2000, 3200], ei=EI / 20)
    points = [(-400, 200.0), (1500, 900.0), (3600, 150.0)]
    together = loaded(grid, node, points=points)
    monkeypatch.setattr(contact, "_ROUNDS_TOGETHER", 0)
    apart = loaded(grid, node, points=points)
    assert apart.press == pytest.approx(together.press, rel=1e-9, abs=1e-9)
    assert apart.is_settled.all()
