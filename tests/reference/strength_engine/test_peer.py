"""Random frames against a general finite element library (PyNiteFEA, MIT; beams without shear flexibility)."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2] / "unit" / "solvers_grillage"))
from peer import Peer
from random_frames import frame

from evenfoot.solvers import beam_element, grillage

pytestmark = pytest.mark.slow
EVERY = range(25)


def sprung(rng, built):
    """The frame with a spring in every lap: each upper timber bears on a level that a link joins to the lower one."""
    grid = built.grid
    laps = np.flatnonzero(grid.lower < len(grid.level))
    heads = np.flatnonzero(grid.lower >= len(grid.level))
    seat = grid.n_levels + np.arange(len(laps))
    stiffness = rng.uniform(3e3, 3e4, len(laps))
    lower = grid.lower.copy()
    lower[laps] = seat
    count = grid.n_levels + len(laps)
    links = grillage.Links(freedoms=np.stack((seat, grid.lower[laps]), axis=1), stiffness=stiffness)
    return replace(built, grid=replace(grid, n_levels=count, lower=lower, links=links)), laps, heads, stiffness


def hinged(built, element, second):
    """The frame with its second half of a beam on a node of its own that shares the level: a joint without moment."""
    grid = built.grid
    node, new = int(grid.ends[element, 1]), len(grid.level)
    ends = grid.ends.copy()
    ends[second, 0] = new
    level = np.append(grid.level, grid.level[node])
    return replace(
        built,
        grid=replace(grid, ends=ends, level=level),
        x=np.append(built.x, built.x[node]),
        y=np.append(built.y, built.y[node]),
    )


def loads(rng, built):
    nodes = rng.choice(np.unique(built.grid.ends[built.joist]), 5, replace=False)
    return dict(zip(nodes.tolist(), rng.uniform(200.0, 1500.0, 5), strict=True)), rng.uniform(
        0.05, 1.0, len(built.grid.ends)
    )


def ours(grid, nodal, even):
    forces = np.zeros((grid.size, 1))
    for node, force in nodal.items():
        forces[grid.level[node], 0] += force
    return grillage.respond(grillage.prepare(grid), forces, even[:, None])


def compare(built, peer, response, tolerance):
    grid = built.grid
    moved = response.moved[grid.level, 0]
    assert np.abs(peer.down() - moved).max() < tolerance * np.abs(moved).max()
    first = np.zeros((len(grid.ends), 1))
    moment = np.abs(beam_element.moment(ends=response.ends, x=first, q=first))[:, 0]
    assert np.abs(peer.moments() - moment).max() < tolerance * moment.max()


@pytest.mark.parametrize("seed", EVERY)
def test_frames_with_springs_and_a_hinge_move_as_in_the_peer(seed):
    """Laps and posts as springs both ways; one beam spliced by a hinge at its middle post."""
    rng = np.random.default_rng(seed)
    plain = frame(rng, joists=int(rng.integers(3, 6)), beams=int(rng.integers(2, 4)), posts=1, over=0.5, tied=1.1)
    built, laps, heads, stiffness = sprung(
        rng, replace(plain, grid=replace(plain.grid, ga=np.full(len(plain.grid.ga), np.inf)))
    )
    grid = built.grid
    second_post = grid.upper[heads][1]
    element = int(np.flatnonzero(grid.ends[:, 1] == second_post)[0])
    peer = Peer(built)
    for lap, k in zip(laps, stiffness, strict=True):
        peer.bear(plain.grid.upper[lap], plain.grid.lower[lap], k)
    for head, k in zip(heads, grid.spring, strict=True):
        peer.stand(grid.upper[head], k)
    peer.hinge(element)
    nodal, even = loads(rng, built)
    peer.solve(nodal, even)
    loose = hinged(built, element, element + 1)
    response = ours(loose.grid, nodal, even)
    here = replace(loose, grid=replace(loose.grid, level=loose.grid.level[:-1], ends=grid.ends))
    compare(here, peer, response, 1e-6)


@pytest.mark.parametrize("seed", EVERY)
def test_frames_whose_joints_hold_at_right_angles_twist_as_in_the_peer(seed):
    """One node for both timbers at each crossing; ours joins slope and twist by links a million times stiffer."""
    rng = np.random.default_rng(100 + seed)
    built = frame(
        rng, joists=int(rng.integers(3, 6)), beams=int(rng.integers(2, 4)), over=0.5, gj=True, hold=3e14, tied=1.1
    )
    built = replace(built, grid=replace(built.grid, ga=np.full(len(built.grid.ga), np.inf)))
    grid = built.grid
    laps, heads = grid.lower < len(grid.level), grid.lower >= len(grid.level)
    peer = Peer(built, joined_at=zip(grid.upper[laps].tolist(), grid.lower[laps].tolist(), strict=True))
    for head, k in zip(grid.upper[heads], grid.spring, strict=True):
        peer.stand(head, k)
    nodal, even = loads(rng, built)
    peer.solve(nodal, even)
    compare(built, peer, ours(grid, nodal, even), 1e-6)


def on_one_sided_posts(seed):
    """A frame whose laps hold both ways and whose posts only push."""
    rng = np.random.default_rng(200 + seed)
    plain = frame(rng, joists=int(rng.integers(3, 6)), beams=int(rng.integers(2, 4)), over=0.9)
    slender = replace(plain, grid=replace(plain.grid, ga=np.full(len(plain.grid.ga), np.inf)))
    built, laps, heads, stiffness = sprung(rng, slender)
    is_lap = np.zeros(len(built.grid.upper), dtype=bool)
    is_lap[laps] = True
    return rng, plain, (replace(built, grid=replace(built.grid, is_tied=is_lap)), laps, heads, stiffness)


@pytest.mark.parametrize("seed", EVERY)
def test_frames_on_one_sided_posts_rest_as_in_the_peer(seed):
    rng, plain, (built, laps, heads, stiffness) = on_one_sided_posts(seed)
    peer = Peer(built, is_one_sided=True)
    for lap, k in zip(laps, stiffness, strict=True):
        peer.bear(plain.grid.upper[lap], plain.grid.lower[lap], k)
    for head, k in zip(heads, built.grid.spring, strict=True):
        peer.stand(built.grid.upper[head], k)
    nodal, even = loads(rng, built)
    response = ours(built.grid, nodal, even * 0.4)
    assert not response.is_held.any()
    peer.solve(nodal, even * 0.4)
    compare(built, peer, response, 1e-4)


def test_among_the_one_sided_frames_many_stand_on_fewer_places_than_they_have():
    lifted = 0
    for seed in EVERY:
        rng, _, (built, *_) = on_one_sided_posts(seed)
        nodal, even = loads(rng, built)
        lifted += bool((ours(built.grid, nodal, even * 0.4).lifts != 0.0).any())
    assert lifted > 10
