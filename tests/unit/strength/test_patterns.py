"""Loads that lie on some bays only, against the coefficients of continuous beams."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, timber

from evenfoot.solvers import beam_element, grillage
from evenfoot.strength import check_strength, loads
from evenfoot.strength.elastic import woods_of
from evenfoot.strength.elastic.cases import Loaded, solve_cases
from evenfoot.strength.elastic.patterns import find_patterns
from evenfoot.strength.elastic.spots import stand
from evenfoot.strength.standards import Aim, Bearer, Case, practice_for
from evenfoot.strength.statics import draw_skeleton, set_nodes

L, Q = 1000.0, 0.003
JOISTS = (0.0, 500.0, 1000.0)


def loaded(beams, reach, posts=JOISTS):
    """Joists of great shear stiffness on beams that posts hold under every joist; heavy, so that nothing lifts."""
    plan = Plan(joists=JOISTS, beams=beams, posts=posts, reach=reach, run=(-50.0, 1050.0))
    frame, job = make_frame(plan), make_job()
    practice = practice_for(job)
    woods = {p: replace(w, shear_modulus=1e9) for p, w in woods_of(practice, frame).items()}
    skeleton = draw_skeleton(frame, woods, heights(frame, 0.0))
    statics = set_nodes(skeleton, ())
    share = replace(loads.share_loads(frame, job.floor, statics, 1e-3), dead=0.0)
    none = np.zeros(statics.grid.size)
    return Loaded(prepared=grillage.prepare(statics.grid), statics=statics, share=share, heavy=none)


def solve(frame, free=Q):
    case = Case(code="long", aim=Aim.STRENGTH, decides=frozenset(Bearer), area=Q, free=free, lasts="long")
    weight, batch = solve_cases(frame, [case], ())
    assert batch.response.press.min() > 0.0
    rest = weight.response
    live = replace(batch.response, ends=batch.response.ends - rest.ends, press=batch.response.press - rest.press)
    return replace(batch, response=live, even=batch.even - weight.even)


def moments_of_middle_joist(frame, batch, places):
    """Greatest and least moment over all columns at places along the middle joist [N mm per N/mm of its line load]."""
    statics = frame.statics
    number = next(t.number for t in statics.skeleton.timbers if t.member.mark.startswith("B"))
    at = np.array(places)
    element, x = statics.elements_at(np.full(len(places), number), at, is_before=True)
    m = beam_element.moment(ends=batch.response.ends[element], x=x[:, None], q=batch.even[element])
    return m.max(axis=1) / (Q * 500.0), m.min(axis=1) / (Q * 500.0)


def test_three_spans_meet_the_worst_of_every_pattern():
    """Spans 1 and 3 loaded: 0.1013 q L2 in span 1, -0.05 at its bearings; spans 1 and 2: -0.1167 over the bearing
    between; span 2 alone: 0.075. Source: AISC Steel Construction Manual, continuous beams with three equal spans."""
    frame = loaded((0.0, L, 2 * L, 3 * L), (0.0, 3 * L))
    batch = solve(frame)
    most, least = moments_of_middle_joist(frame, batch, [0.45 * L, L, 1.5 * L])
    peak = 0.45 * (0.5 - 0.05) - 0.45**2 / 2  # end reaction (1/2 - 0.05) q L
    assert most[0] / L**2 == pytest.approx(peak, rel=1e-6)
    assert peak == pytest.approx(0.1013, abs=5e-5)
    assert least[1] / L**2 == pytest.approx(-0.1167, abs=5e-5)
    assert most[2] / L**2 == pytest.approx(0.075, rel=1e-6)


def test_the_whole_floor_loaded_comes_first_and_binds_what_is_not_free():
    frame = loaded((0.0, L, 2 * L), (0.0, 2 * L))
    all_bays, fixed, half = solve(frame), solve(frame, free=0.0), solve(frame, free=Q / 2)
    assert fixed.even.shape[1] == 1
    assert all_bays.even[:, 0] == pytest.approx(fixed.even[:, 0], rel=1e-12)
    assert all_bays.response.press[:, 0] == pytest.approx(fixed.response.press[:, 0], rel=1e-9, abs=1e-9)
    most, _ = moments_of_middle_joist(frame, all_bays, [0.4375 * L])
    some, _ = moments_of_middle_joist(frame, half, [0.4375 * L])
    alone = 49.0 / 512.0  # one of two spans loaded: 7/16 q L at its end
    assert most[0] / L**2 == pytest.approx(alone, rel=1e-6)
    both = 0.4375 * 0.375 - 0.4375**2 / 2
    assert some[0] / L**2 == pytest.approx((alone + both) / 2, rel=1e-6)


def test_an_overhang_is_a_bay_of_its_own():
    """The bay behind a loaded overhang left bare: the far bearing loses a c (c / 2) / L of the load."""
    frame = loaded((300.0, 300.0 + L), (0.0, 300.0 + L))
    assert (find_patterns(frame.statics).elements.max(axis=1) == 1.0).all()
    batch = solve(frame)
    _, least = moments_of_middle_joist(frame, batch, [300.0, 800.0])
    assert least[0] == pytest.approx(-(300.0**2) / 2, rel=1e-9)
    assert least[1] == pytest.approx(-(300.0**2) / 4, rel=1e-9)
    number = next(k for k, r in enumerate(frame.statics.skeleton.rests) if r.joint.mark.startswith("B2"))
    assert batch.response.press[number].min() == pytest.approx(-Q * 500.0 * 300.0**2 / (2 * L), rel=1e-6)


def test_patterns_across_the_joists_load_beams_from_post_to_post():
    """Two bays from post to post, three joist lines; the one over the middle post bears half from either side."""
    frame = loaded((0.0, L), (0.0, L))
    patterns = find_patterns(frame.statics)
    names = [t.member.mark[0] for t in frame.statics.skeleton.timbers]
    shares = [
        [float(patterns.elements[[names[t] == n for t in frame.statics.timber], k].max()) for n in "ABC"]
        for k in range(len(patterns))
    ]
    assert sorted(shares) == [[0.0, 0.5, 1.0], [1.0, 0.5, 0.0]]


def test_every_load_is_carried_in_every_pattern():
    frame = loaded((200.0, 1100.0, 2300.0), (0.0, 2500.0), posts=(0.0, 500.0, 1000.0))
    batch = solve(frame)
    patterns = find_patterns(frame.statics)
    assert len(patterns) == batch.even.shape[1] - 1 > 6
    line = (frame.share.line * frame.statics.grid.length) @ patterns.elements
    total = Q * (line + frame.share.at_levels @ patterns.levels)
    on_posts = [k for k, r in enumerate(frame.statics.skeleton.rests) if r.post is not None]
    assert batch.response.press[on_posts][:, 1:].sum(axis=0) == pytest.approx(total, rel=1e-9)


def test_europe_lays_its_imposed_load_where_it_is_worst_and_japan_everywhere():
    europe = {c.code: c for c in practice_for(make_job(standard="europe")).cases()}
    assert europe["imposed"].free == pytest.approx(europe["imposed"].area)
    assert europe["permanent"].free == 0.0
    assert europe["sag"].free == pytest.approx(europe["sag"].area)
    assert europe["point"].patch == 50.0
    assert {c.free for c in practice_for(make_job()).cases()} == {0.0}


def test_a_joist_over_two_spans_is_bent_in_europe_by_one_span_loaded():
    """Timbers of C24 (11 GPa, 0.69 GPa): the sag under one span loaded is more than under both, by statics."""
    spec = timber(45.0, 90.0, species="european_larch", grade="c24")
    beam = timber(105.0, 105.0, species="european_larch", grade="c24")
    plan = Plan(joists=JOISTS, beams=(0.0, L, 2 * L), posts=JOISTS, reach=(0.0, 2 * L), run=(-50.0, 1050.0))
    frame = make_frame(replace(plan, joist=spec, beam=beam, post=beam))
    strength = check_strength(make_job(standard="europe"), frame, heights(frame, 0.0))
    sag = next(s for s in strength.sags if s.case == "sag" and s.mark.startswith("B"))
    live = next(c.area for c in practice_for(make_job(standard="europe")).cases() if c.code == "sag") * 500.0
    ei = 11000.0 * 45.0 * 90.0**3 / 12.0
    assert sag.sag > 0.0092 * live * L**4 / ei  # one of two spans loaded, 0.0092 w L4 / EI without shear
    assert sag.sag > 1.3 * 0.0054 * live * L**4 / ei


def test_a_patch_is_two_halves_with_the_moment_of_an_even_one():
    frame = loaded((0.0, 2 * L), (0.0, 2 * L))
    statics = frame.statics
    number = next(t.number for t in statics.skeleton.timbers if t.is_joist)
    points = stand(statics, [(number, L), (number, 0.0)], 900.0, 80.0)
    first, second = points.of(points.place == 0), points.of(points.place == 1)
    where = statics.begin[first.element] + first.at
    assert where.tolist() == [L - 20.0, L + 20.0]
    assert first.force.tolist() == [450.0, 450.0]
    assert (statics.begin[second.element] + second.at).tolist() == [0.0, 20.0]


def test_the_patterns_hold_the_worst_of_all_ways_to_load_six_spans():
    """Moments by the three-moment equation (Clapeyron 1857) for each way; no way of loading gives more than these."""
    import itertools

    from evenfoot.strength.elastic.patterns import _loaded

    def moments(load):
        n = len(load)
        a = 4.0 * np.eye(n - 1) + np.eye(n - 1, k=1) + np.eye(n - 1, k=-1)
        over = np.concatenate(([0.0], np.linalg.solve(a, -(load[:-1] + load[1:]) / 4.0), [0.0]))
        return over, load / 8.0 + (over[:-1] + over[1:]) / 2.0

    lines = np.arange(7.0) * 1000.0
    ours = [moments(p[1:-1]) for p in _loaded(lines, np.array([0.0, 6000.0]))]
    every = [moments(np.array(way, dtype=float)) for way in itertools.product((0, 1), repeat=6)]
    for k, pick in ((0, np.min), (1, np.max), (1, np.min)):
        assert pick([m[k] for m in ours], axis=0) == pytest.approx(pick([m[k] for m in every], axis=0), abs=1e-12)
