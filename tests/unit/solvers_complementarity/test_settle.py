"""Bodies on one-sided contacts settle where trying every set, and a general solver, put them."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

sys.path.insert(0, str(Path(__file__).parent))
import bodies

from evenfoot.solvers import complementarity


def settle_one(contacts, offset, total, guess=None):
    return complementarity.Settler(contacts).settle(
        np.atleast_2d(offset), np.atleast_2d(total), None if guess is None else np.atleast_2d(guess)
    )


@pytest.mark.parametrize("n", [3, 4, 5, 6, 7, 8])
@pytest.mark.parametrize("roughness", [0.0, 0.003, 0.03, 1.0])
def test_every_set_of_contacts_tried_agrees(n, roughness):
    rng = np.random.default_rng([n, int(1000 * roughness)])
    for _ in range(6):
        contacts = bodies.body(rng, n=n)
        offset = roughness * rng.normal(size=n)
        total = contacts.modes.T @ rng.uniform(20.0, 300.0, n)
        tried = bodies.by_enumeration(contacts, offset, total)
        found = settle_one(contacts, offset, total)
        assert tried is not None
        assert found.is_held[0]
        assert found.press[0] == pytest.approx(tried[0], abs=1e-7)
        assert found.gap[0] == pytest.approx(tried[1], abs=1e-11)


@pytest.mark.parametrize("n", [6, 12, 20])
@pytest.mark.parametrize("m", [0, 3, 4])
def test_a_general_solver_agrees_to_a_millionth_of_the_load(n, m):
    rng = np.random.default_rng([n, m])
    for _ in range(5):
        contacts = bodies.body(rng, n=n, m=m, two_way=(1,))
        offset = 0.02 * rng.normal(size=n)
        total = contacts.modes.T @ rng.uniform(20.0, 300.0, n)
        peer = bodies.by_quadratic_program(contacts, offset, total)
        found = settle_one(contacts, offset, total)
        assert found.press[0] == pytest.approx(peer, abs=1e-6 * max(1.0, np.abs(peer).max()))


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10**6),
    n=st.integers(3, 14),
    roughness=st.sampled_from([0.0, 1e-4, 0.01, 0.1, 3.0]),
    give=st.sampled_from([1e-9, 1e-5, 1e-3]),
)
def test_nothing_pulls_nothing_enters_and_forces_balance(seed, n, roughness, give):
    rng = np.random.default_rng(seed)
    contacts = bodies.body(rng, n=n, give=give)
    offset = np.round(roughness * rng.normal(size=(7, n)), 3)
    total = rng.uniform(20.0, 300.0, (7, n)) @ contacts.modes
    found = complementarity.Settler(contacts).settle(offset, total)
    assert found.is_held.all()
    assert (found.press >= -1e-9 * found.press.max()).all()
    assert (found.gap >= 0.0).all()
    assert (found.press * found.gap == 0.0).all()
    assert found.press @ contacts.modes == pytest.approx(total, rel=1e-9, abs=1e-9 * total.max())
    closes = offset + found.press @ contacts.flexibility + found.modes @ contacts.modes.T
    assert closes == pytest.approx(found.gap, abs=1e-9 * max(1.0, roughness))


@pytest.mark.parametrize("seed", range(12))
def test_a_body_tips_exactly_where_no_pushes_balance_its_load(seed):
    rng = np.random.default_rng(seed)
    contacts = bodies.body(rng, n=6)
    settler = complementarity.Settler(contacts)
    held = []
    for _ in range(20):
        total = contacts.modes.T @ rng.uniform(-150.0, 200.0, 6)
        peer = linprog(np.zeros(6), A_eq=contacts.modes.T, b_eq=total)
        held.append(peer.status == 0)
        assert bool(settler.settle(0.1 * rng.normal(size=(1, 6)), total[None]).is_held[0]) == held[-1]
    assert any(held)
    assert not all(held)


def test_a_tipping_body_has_no_figures():
    contacts = bodies.body(np.random.default_rng(5), n=4)
    found = settle_one(contacts, np.zeros(4), -contacts.modes.T @ np.full(4, 100.0))
    assert not found.is_held[0]
    assert np.isnan(found.press).all()
    assert np.isnan(found.gap).all()


def test_a_two_way_contact_holds_what_would_tip():
    rng = np.random.default_rng(3)
    contacts = bodies.body(rng, n=4, two_way=(0, 1, 2, 3))
    total = -contacts.modes.T @ np.full(4, 100.0)
    found = settle_one(contacts, np.zeros(4), total)
    assert found.is_held[0]
    assert found.press.min() < 0.0
    assert (found.gap == 0.0).all()


def test_a_body_in_line_with_nothing_to_spare_rests_on_both_ends():
    """Three contacts in line, two modes, all exactly touching: the degenerate case has the even answer."""
    modes = np.linalg.qr(np.c_[np.ones(3), [0.0, 1.0, 2.0]])[0]
    contacts = complementarity.Contacts(flexibility=1e-3 * np.eye(3), modes=modes, is_two_way=np.zeros(3, dtype=bool))
    found = settle_one(contacts, np.zeros(3), modes.T @ np.array([1.0, 1.0, 1.0]))
    assert found.press[0] == pytest.approx([1.0, 1.0, 1.0], rel=1e-9)


def test_a_load_over_one_edge_leaves_the_far_contact_with_nothing():
    """Four contacts in a square, the load over one side: forces of nothing at touching contacts are not pulls."""
    modes = np.linalg.qr(np.c_[np.ones(4), [0.0, 1.0, 0.0, 1.0], [0.0, 0.0, 1.0, 1.0]])[0]
    contacts = complementarity.Contacts(flexibility=1e-6 * np.eye(4), modes=modes, is_two_way=np.zeros(4, dtype=bool))
    found = settle_one(contacts, np.zeros(4), modes.T @ np.array([50.0, 50.0, 0.0, 0.0]))
    assert found.is_held[0]
    assert found.press[0] == pytest.approx([50.0, 50.0, 0.0, 0.0], abs=1e-9)
    assert found.gap[0] == pytest.approx(np.zeros(4), abs=1e-12)


@pytest.mark.parametrize("seed", range(8))
def test_a_guess_changes_nothing_in_the_answer(seed):
    rng = np.random.default_rng(seed)
    contacts = bodies.body(rng, n=9, two_way=(4,))
    offset, weights = 0.05 * rng.normal(size=(50, 9)), rng.uniform(20.0, 300.0, (50, 9))
    total = weights @ contacts.modes
    plain = complementarity.Settler(contacts).settle(offset, total)
    for guess in (rng.random((50, 9)) < 0.6, plain.is_touching, np.zeros((50, 9), dtype=bool)):
        again = complementarity.Settler(contacts).settle(offset, total, guess)
        assert again.press == pytest.approx(plain.press, abs=1e-8)
        assert again.gap == pytest.approx(plain.gap, abs=1e-11)


def test_without_sketches_the_method_still_ends_at_the_same_answer(monkeypatch):
    rng = np.random.default_rng(11)
    contacts = bodies.body(rng, n=10)
    offset, total = 0.2 * rng.normal(size=(200, 10)), rng.uniform(20.0, 300.0, (200, 10)) @ contacts.modes
    quick = complementarity.Settler(contacts).settle(offset, total)
    monkeypatch.setattr("evenfoot.solvers.complementarity.settle._SKETCHES", 0)
    slow = complementarity.Settler(contacts).settle(offset, total)
    assert slow.press == pytest.approx(quick.press, abs=1e-8)


def test_more_cases_than_are_kept_at_once_are_all_settled(monkeypatch):
    rng = np.random.default_rng(13)
    contacts = bodies.body(rng, n=7)
    offset, total = 0.2 * rng.normal(size=(60, 7)), rng.uniform(20.0, 300.0, (60, 7)) @ contacts.modes
    plain = complementarity.Settler(contacts).settle(offset, total)
    monkeypatch.setattr("evenfoot.solvers.complementarity.settle._CHUNK", 11)
    monkeypatch.setattr("evenfoot.solvers.complementarity.settle._CACHE", 500)
    parted = complementarity.Settler(contacts).settle(offset, total)
    assert parted.press == pytest.approx(plain.press, abs=1e-8)


def test_more_modes_than_contacts_is_a_broken_invariant():
    with pytest.raises(AssertionError):
        complementarity.Contacts(flexibility=np.eye(2), modes=np.ones((2, 3)), is_two_way=np.zeros(2, dtype=bool))
