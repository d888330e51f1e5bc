"""Loads that walk over a frame, solved near them only, against the whole frame solved for each place."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from random_frames import frame, scattered

from evenfoot.solvers import beam_element, grillage, nearby, slices


def whole(built, even, loads):
    """Every place solved with the whole frame, the loads as nodal forces."""
    element, at, force = loads
    grid = built.grid
    forces = np.zeros((grid.size, len(element)))
    nodal = beam_element.point_load(at=at, length=grid.length[element], ei=grid.ei[element], ga=grid.ga[element])
    four = grid.freedoms()[element]
    for k in range(len(element)):
        forces[four[k], k] += force[k] * nodal[k]
    r = grillage.respond(grillage.prepare(grid), forces, np.repeat(even, len(element), axis=1))
    for k, e in enumerate(element):
        r.ends[e, :, k] -= force[k] * nodal[k]
    return r


def walked(built, even, loads, reach):
    element, at, force = loads
    prepared = grillage.prepare(built.grid)
    rest = grillage.respond(prepared, np.zeros((built.grid.size, 1)), even)
    around = nearby.Surroundings(prepared, rest, np.stack((built.x, built.y)))
    points = nearby.Points(place=np.arange(len(element)), element=element, at=at, force=force)
    return around, rest, list(around.near(points, reach))


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("least", [6, 1000])
def test_with_endless_reach_every_place_is_the_whole_solution(seed, least, monkeypatch):
    monkeypatch.setattr(slices, "LEAST", least)
    monkeypatch.setattr(slices.cut, "__defaults__", (least,))
    rng = np.random.default_rng(seed)
    built = frame(rng, joists=6, beams=3, over=0.6, tied=0.05 * (seed % 3), rigid=0.3)
    even = np.where(built.joist, 0.35, 0.08)[:, None] * rng.uniform(0.2, 1.0)
    loads = scattered(rng, built, 25)
    expected = whole(built, even, loads)
    _, rest, found = walked(built, even, loads, 1e9)
    seen = np.concatenate([near.places for near in found])
    assert sorted(seen) == list(range(25))
    lifted = 0
    for near in found:
        assert len(near.elements) == len(built.grid.length)
        assert len(near.contacts) == len(built.grid.upper)
        r, cases = near.response, near.places
        scale = 1200.0
        assert np.abs(r.press - expected.press[:, cases]).max() < 1e-9 * scale
        assert np.abs(r.ends - expected.ends[:, :, cases]).max() < 1e-9 * scale * 500.0
        assert (r.is_held == expected.is_held[:, cases]).all()
        assert r.is_settled.all()
        four = built.grid.freedoms()
        moved = expected.moved[four][:, :, cases] - rest.moved[four]
        assert np.abs(r.moved - moved).max() < 1e-9 * np.abs(expected.moved).max()
        lifted += int((r.lifts != 0.0).sum())
    assert lifted > 0


def opened_at_rest(seed):
    """A frame so light at one overhang that contacts stand open under its own weight."""
    rng = np.random.default_rng(seed)
    built = frame(rng, joists=9, beams=3, over=0.9)
    even = np.where(built.joist, 0.25, 0.04)[:, None]
    even[built.y[built.grid.ends].max(axis=1) > built.y.max() - 1.0] = 1.1
    return rng, built, even


def test_contacts_that_stand_open_at_rest_may_close_under_the_load():
    """Where a frame tips, which of its contacts is held is open to choice; all else has one answer."""
    opened = closed_again = 0
    for seed in range(8):
        rng, built, even = opened_at_rest(seed)
        loads = scattered(rng, built, 30)
        expected = whole(built, even, loads)
        _, rest, found = walked(built, even, loads, 1e9)
        opened += int((rest.lifts != 0.0).sum())
        for near in found:
            stands = ~expected.is_held[:, near.places].any(axis=0)
            apart = np.abs(near.response.press - expected.press[:, near.places])[:, stands]
            assert apart.max(initial=0.0) < 1e-9 * np.abs(expected.press).max()
            assert (near.response.is_held.any(axis=0) == ~stands).all()
            closed_again += int(((near.response.lifts == 0.0) & (rest.lifts != 0.0)).sum())
    assert opened > 0
    assert closed_again > 0


def test_what_lies_far_off_feels_less_than_what_is_near_and_the_peaks_are_all_near():
    """A long frame: within reach the answers are exact, and no part's greatest force comes from beyond it."""
    rng = np.random.default_rng(4)
    built = frame(rng, joists=60, beams=3, posts=2, over=0.3)
    even = np.where(built.joist, 0.35, 0.08)[:, None]
    loads = scattered(rng, built, 400)
    expected = whole(built, even, loads)
    _, rest, found = walked(built, even, loads, 4000.0)
    assert len(found) > 3
    press = rest.press[:, 0].copy()
    ends = np.abs(rest.ends[:, :, 0])
    for near in found:
        assert len(near.elements) < len(built.grid.length)
        whole_press = expected.press[np.ix_(near.contacts, near.places)]
        assert np.abs(near.response.press - whole_press).max() < 1e-6
        press[near.contacts] = np.maximum(press[near.contacts], near.response.press.max(axis=1))
        ends[near.elements] = np.maximum(ends[near.elements], np.abs(near.response.ends).max(axis=2))
    assert press == pytest.approx(np.maximum(expected.press.max(axis=1), rest.press[:, 0]), rel=1e-9)
    assert (np.abs(expected.ends).max(axis=2) <= ends * (1.0 + 1e-9) + 1e-6).all()
