"""Laws of the solver of frames: it balances, answers both ways alike, never pulls, and knows no order.

Each example is a frame with several load cases; together some thousands of cases.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "solvers_grillage"))
from random_frames import frame, scattered
from straight_beams import beam

from evenfoot.solvers import beam_element, grillage, nearby

pytestmark = pytest.mark.slow
CASES = 6
seeds = st.integers(0, 2**32 - 1)
many = settings(max_examples=60, deadline=None)


def drawn(seed, **wishes):
    """A frame, loads on nodes of its timbers and even loads, in several cases of very unequal size."""
    rng = np.random.default_rng(seed)
    given = {
        "joists": int(rng.integers(2, 6)),
        "beams": int(rng.integers(2, 4)),
        "over": 0.9,
        "posts": int(rng.integers(1, 4)),
    }
    built = frame(rng, **(given | wishes))
    grid = built.grid
    forces = np.zeros((grid.size, CASES))
    is_hit = rng.uniform(size=(len(grid.level), CASES)) < 0.15
    forces[grid.level] = np.where(is_hit, rng.uniform(0.0, 2000.0, is_hit.shape), 0.0)
    even = rng.uniform(0.0, 1.0, (len(grid.ends), CASES)) * rng.choice([0.05, 0.3, 1.0], CASES)
    return rng, built, forces, even


def solve(grid, forces, even):
    return grillage.respond(grillage.prepare(grid), forces, even)


def on_posts(built):
    """Contacts of posts, and the node that each bears."""
    grid = built.grid
    posts = np.flatnonzero((grid.lower >= len(grid.level)) | (grid.lower == grillage.GROUND))
    return posts, grid.upper[posts]


@many
@given(seeds)
def test_posts_carry_all_loads_and_their_levers(seed):
    _, built, forces, even = drawn(seed, rigid=0.3)
    grid = built.grid
    r = solve(grid, forces, even)
    posts, nodes = on_posts(built)
    middle = {name: (at[grid.ends[:, 0]] + at[grid.ends[:, 1]]) / 2.0 for name, at in (("x", built.x), ("y", built.y))}
    weights = even * grid.length[:, None]
    for lever_posts, lever_nodes, lever_elements in (
        (np.ones(len(nodes)), np.ones(len(built.x)), np.ones(len(grid.ends))),
        (built.x[nodes], built.x, middle["x"]),
        (built.y[nodes], built.y, middle["y"]),
    ):
        carried = lever_posts @ r.press[posts]
        loaded = lever_nodes @ forces[grid.level] + lever_elements @ weights
        assert carried == pytest.approx(loaded, rel=1e-8)


@many
@given(seeds)
def test_contacts_press_or_are_clear_and_never_both_unless_the_frame_would_tip(seed):
    _, built, forces, even = drawn(seed, tied=0.1)
    grid = built.grid
    r = solve(grid, forces, even)
    assert r.is_settled.all()
    least = 1e-6 * np.maximum(forces.max(axis=0), 1.0)
    free = ~grid.tied[:, None] & ~r.is_held
    assert (np.where(free, r.press, 0.0) >= -least).all()
    above = r.moved[grid.upper]
    below = np.where(grid.lower[:, None] == grillage.GROUND, 0.0, r.moved[np.maximum(grid.lower, 0)])
    gap = below - above
    scale = np.abs(r.moved).max(axis=0)
    assert (gap >= -1e-8 * scale).all()
    assert (np.minimum(np.abs(r.press) / least, gap / (1e-8 * scale)) <= 1.0).all()


@many
@given(seeds)
def test_loads_come_in_any_order(seed):
    """Cases solved together, apart, and turned round in their order rest alike."""
    rng, built, forces, even = drawn(seed)
    prepared = grillage.prepare(built.grid)
    together = grillage.respond(prepared, forces, even)
    order = rng.permutation(CASES)
    shuffled = grillage.respond(prepared, forces[:, order], even[:, order])
    one = int(rng.integers(CASES))
    alone = grillage.respond(prepared, forces[:, [one]], even[:, [one]])
    stands = ~together.is_held.any(axis=0)
    scale = 1e-8 * np.abs(together.press).max()
    assert np.abs(shuffled.press - together.press[:, order])[:, stands[order]].max(initial=0.0) < scale
    assert np.abs(alone.press[:, 0] - together.press[:, one]).max() * stands[one] < scale


@many
@given(seeds)
def test_numbering_is_of_no_account(seed):
    rng, built, forces, even = drawn(seed)
    grid = built.grid
    nodes, elements, contacts = (rng.permutation(n) for n in (len(grid.level), len(grid.ends), len(grid.upper)))
    at = np.argsort(nodes)
    level = np.append(at, np.arange(len(at), grid.n_levels))
    renamed = replace(
        grid,
        ends=at[grid.ends][elements],
        length=grid.length[elements],
        ei=grid.ei[elements],
        ga=grid.ga[elements],
        upper=level[grid.upper][contacts],
        lower=np.where(grid.lower == grillage.GROUND, grillage.GROUND, level[np.maximum(grid.lower, 0)])[contacts],
        is_tied=grid.tied[contacts],
    )
    moved = np.zeros_like(forces)
    moved[level] = forces[: grid.n_levels]
    one, other = solve(grid, forces, even), solve(renamed, moved, even[elements])
    stands = ~(one.is_held.any(axis=0) | other.is_held.any(axis=0))
    assert np.abs(other.press - one.press[contacts])[:, stands].max(initial=0.0) < 1e-8 * np.abs(one.press).max()


@many
@given(seeds)
def test_a_force_here_moves_there_as_a_force_there_moves_here(seed):
    """With every contact tied and timbers that twist and hold each other: Maxwell's reciprocity on all freedoms."""
    rng, built, _, _ = drawn(seed, tied=1.1, gj=True, hold=3e7)
    grid = built.grid
    chosen = rng.choice(np.concatenate((grid.level, np.arange(grid.n_levels, grid.size))), CASES, replace=False)
    forces = np.zeros((grid.size, CASES))
    forces[chosen, np.arange(CASES)] = 1.0
    moved = solve(grid, forces, np.zeros((len(grid.ends), CASES))).moved[chosen]
    scale = np.sqrt(np.outer(moved.diagonal(), moved.diagonal()))
    assert np.abs(moved - moved.T).max() < 1e-8 * np.abs(moved).max() or (np.abs(moved - moved.T) < 1e-7 * scale).all()
    assert (moved.diagonal() > 0.0).all()


@many
@given(seeds, st.sampled_from(["ei", "ga", "gj", "spring", "links"]), st.floats(1.05, 50.0))
def test_what_is_stiffer_never_lets_its_loads_sink_more(seed, part, times):
    """The work of the loads falls or stays when any one part is made stiffer, contacts lifting as they like."""
    rng, built, forces, even = drawn(seed, gj=True, hold=1e7)
    grid = built.grid
    if part == "links":
        which = int(rng.integers(len(grid.links.stiffness)))
        stiff = grid.links.stiffness.copy()
        stiff[which] *= times
        stiffer = replace(grid, links=replace(grid.links, stiffness=stiff))
    else:
        stiff = getattr(grid, part).copy()
        stiff[int(rng.integers(len(stiff)))] *= times
        stiffer = replace(grid, **{part: stiff})
    work, stands = [], np.ones(CASES, dtype=bool)
    for one in (grid, stiffer):
        prepared = grillage.prepare(one)
        r = grillage.respond(prepared, forces, even)
        # Sinking within elements under their even load is the same or less too, and has its own closed form.
        own = even**2 * (one.length**5 / (720.0 * one.ei) + one.length**3 / (12.0 * one.ga))[:, None]
        work.append(((forces + prepared.even @ even) * r.moved).sum(axis=0) + own.sum(axis=0))
        stands &= ~r.is_held.any(axis=0)
    assert (work[1] <= work[0] * (1.0 + 1e-8))[stands].all()


@many
@given(seeds)
def test_a_mirrored_frame_answers_mirrored(seed):
    """The frame's timbers told from their other ends: slopes change their sign, all else stays."""
    _, built, forces, even = drawn(seed)
    grid = built.grid
    turned = replace(grid, ends=grid.ends[:, ::-1].copy())
    one, other = solve(grid, forces, even), solve(turned, forces, even)
    stands = ~(one.is_held.any(axis=0) | other.is_held.any(axis=0))
    n = grid.n_levels
    scale = 1e-8 * np.abs(one.press).max()
    assert np.abs(other.press - one.press)[:, stands].max(initial=0.0) < scale
    assert np.abs(other.moved[n:] + one.moved[n:])[:, stands].max(initial=0.0) < 1e-8 * np.abs(one.moved[n:]).max()


@settings(max_examples=25, deadline=None)
@given(seeds)
def test_a_walk_is_the_same_cut_along_or_across(seed):
    """Rotation: slices along x, along y, or whichever is less work, give the same answers."""
    rng, built, _, even = drawn(seed, joists=5, beams=3)
    prepared = grillage.prepare(built.grid)
    rest = grillage.respond(prepared, np.zeros((built.grid.size, 1)), even[:, :1])
    element, at, force = scattered(rng, built, 4)
    points = nearby.Points(place=np.arange(4), element=element, at=at, force=force)
    found = []
    for places in ((built.x,), (built.y,), (built.x, built.y), (-built.x,)):
        press = np.zeros((len(built.grid.upper), 4))
        stands = np.zeros(4, dtype=bool)
        for near in nearby.Surroundings(prepared, rest, np.stack(places)).near(points, np.inf):
            press[:, near.places] = near.response.press
            stands[near.places] = ~near.response.is_held.any(axis=0)
        found.append(np.where(stands, press, 0.0))
    for other in found[1:]:
        assert np.abs(other - found[0]).max() < 1e-8 * max(np.abs(found[0]).max(), 1.0)


lengths = st.floats(200.0, 6000.0)


@settings(max_examples=150, deadline=None)
@given(
    lengths,
    st.floats(0.05, 0.95),
    st.floats(0.01, 5.0),
    st.floats(1.0, 5000.0),
    st.floats(1e9, 1e12),
    st.floats(1e6, 1e8),
)
def test_simple_beams_follow_their_closed_forms(length, share, q, force, ei, ga):
    """One span under an even load and a load at ``share`` of it: reactions, moment and sag under the load."""
    a = share * length
    b = length - a
    grid, node = beam(stops=[a], supports=[0.0, length], ei=ei, ga=ga)
    forces = np.zeros((grid.size, 1))
    forces[node[float(a)], 0] = force
    r = solve(grid, forces, np.full((2, 1), q))
    assert r.press[:, 0] == pytest.approx(
        [q * length / 2 + force * b / length, q * length / 2 + force * a / length], rel=1e-9
    )
    moment = beam_element.moment(ends=r.ends[1:], x=np.zeros((1, 1)), q=np.zeros((1, 1)))[0, 0]
    assert moment == pytest.approx(q * a * b / 2 + force * a * b / length, rel=1e-8)
    bend = force * a**2 * b**2 / (3 * ei * length) + q * a * (length**3 - 2 * length * a**2 + a**3) / (24 * ei)
    shear = force * a * b / (length * ga) + q * a * b / (2 * ga)
    assert r.moved[node[float(a)], 0] == pytest.approx(bend + shear, rel=1e-8)


@settings(max_examples=150, deadline=None)
@given(lengths, st.floats(0.1, 0.9), st.floats(10.0, 3000.0), st.floats(1e9, 1e12))
def test_overhangs_follow_their_closed_form(length, share, force, ei):
    """A load at the tip of an overhang a beyond span L: P a2 (L + a) / 3 EI; the far end would lift but for a weight."""
    a = share * length
    grid, node = beam(stops=[length + a], supports=[0.0, length], ei=ei)
    forces = np.zeros((grid.size, 1))
    forces[node[0.0], 0] = force
    forces[node[float(length + a)], 0] = force
    r = solve(grid, forces, np.zeros((2, 1)))
    assert r.moved[node[float(length + a)], 0] == pytest.approx(force * a**2 * (length + a) / (3 * ei), rel=1e-8)
    assert r.press[:, 0] == pytest.approx([force * (1 - a / length), force * (1 + a / length)], rel=1e-9)
