"""A load that walks over the floor, followed only near where it stands, against the whole frame solved for each place."""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.frame import JointKind
from evenfoot.solvers import grillage, slices
from evenfoot.strength import loads
from evenfoot.strength.cuts import find_cuts
from evenfoot.strength.elastic import woods_of
from evenfoot.strength.elastic.cases import Loaded, solve_cases
from evenfoot.strength.findings import Batch
from evenfoot.strength.sections import Sections
from evenfoot.strength.standards import practice_for
from evenfoot.strength.statics import draw_skeleton, set_nodes
from evenfoot.strength.supports import Supports

TWENTY = tuple(float(x) for x in np.cumsum([0, *[430, 470, 390, 455] * 5]))
PLANS = {
    "resting": Plan(
        joists=TWENTY, beams=(90.0, 1300.0, 2380.0), posts=TWENTY[::3], reach=(0.0, 2600.0), run=(-120.0, 9000.0)
    ),
    "lapped": Plan(
        joists=TWENTY,
        beams=(0.0, 1240.0),
        posts=TWENTY[::2],
        reach=(-70.0, 1330.0),
        run=(-100.0, 8850.0),
        kind=JointKind.LAP_OVER,
        cut=(40.0, 50.0),
        joist=timber(60.0, 105.0),
    ),
    "from-below": Plan(
        joists=(0.0, 455.0, 910.0, 1340.0),
        beams=(60.0, 1010.0, 2120.0),
        under=(0, 3),
        post_shift=25.0,
        reach=(0.0, 2240.0),
        run=(-40.0, 1400.0),
        kind=JointKind.LAP_OVER,
        cut=(45.0, 45.0),
        joist=timber(90.0, 105.0),
    ),
    "light-tips": Plan(
        joists=TWENTY[:7], beams=(420.0, 1000.0), posts=TWENTY[:7:3], reach=(0.0, 1370.0), run=(-400.0, 3100.0)
    ),
}


def gathered(plan, *, is_whole, height):
    """Peaks of sections and supports, the walk solved near or whole (a node at every place)."""
    job = make_job(overhang=(10.0, 20.0, 15.0, 30.0))
    frame = make_frame(plan)
    practice = practice_for(job)
    skeleton = draw_skeleton(frame, woods_of(practice, frame), heights(frame, height))
    spots = loads.every_place(skeleton)
    statics = set_nodes(skeleton, spots if is_whole else ())
    prepared = grillage.prepare(statics.grid)
    share = loads.share_loads(frame, job.floor, statics, practice.unit_weight.value)
    loaded = Loaded(prepared=prepared, statics=statics, share=share, heavy=np.zeros(statics.grid.size))
    sections, supports = Sections(practice, statics, find_cuts(skeleton)), Supports(practice, skeleton)
    cases = practice.cases()
    walked = next(c for c in cases if c.point > 0.0)
    for batch in whole_walk(loaded, walked, spots) if is_whole else solve_cases(loaded, [walked], spots):
        if batch.case.code != "dead":
            sections.take(batch)
            supports.take(batch)
    return statics, sections, supports


def whole_walk(loaded, case, spots):
    forces, lines = loaded.even([case])
    lines = np.repeat(lines, len(spots), axis=1)
    forces = np.repeat(forces, len(spots), axis=1)
    forces[[loaded.statics.level(s) for s in spots], np.arange(len(spots))] += case.point
    yield Batch(case=case, response=grillage.respond(loaded.prepared, forces, lines), even=lines, spots=spots)


def by_timber(statics, peak):
    first = statics.first_element
    return np.array([peak.ratio[a:b].max() for a, b in itertools.pairwise(first)])


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize(("least", "height"), [(15, 0.0), (slices.LEAST, 900.0)])
def test_followed_near_its_place_a_person_stresses_all_as_in_the_whole_solution(name, least, height, monkeypatch):
    monkeypatch.setattr(slices.cut, "__defaults__", (least,))
    fine, near = (gathered(PLANS[name], is_whole=w, height=height) for w in (True, False))
    for peak in ("bending", "shear"):
        expected = by_timber(fine[0], getattr(fine[1], peak))
        assert expected.min() > 0.0
        assert by_timber(near[0], getattr(near[1], peak)) == pytest.approx(expected, rel=1e-9)
    for peak in ("cut_bending", "cut_shear", "pulled", "bare_bending", "bare_shear"):
        assert getattr(near[1], peak).ratio == pytest.approx(getattr(fine[1], peak).ratio, rel=1e-9, abs=1e-12), peak
    for peak in ("bearing", "pressed", "pulled", "buckling"):
        assert getattr(near[2], peak).ratio == pytest.approx(getattr(fine[2], peak).ratio, rel=1e-9, abs=1e-12), peak
    assert near[2].loads["person"] == pytest.approx(fine[2].loads["person"], rel=1e-9)
    assert not near[2].unsettled


def test_a_load_past_which_a_cut_lies_counts_there_and_one_beyond_does_not():
    """A joist cut at its middle bearing: the shear left and right of a load beside it differ by the load."""
    plan = replace(
        PLANS["lapped"],
        joists=(0.0, 455.0),
        beams=(0.0, 800.0, 1610.0),
        posts=(0.0, 455.0),
        run=(-50.0, 505.0),
        reach=(-60.0, 1670.0),
    )
    fine, near = (gathered(plan, is_whole=w, height=0.0) for w in (True, False))
    assert near[1].cut_shear.asked == pytest.approx(fine[1].cut_shear.asked, rel=1e-9)
    assert near[1].bare_bending.asked == pytest.approx(fine[1].bare_bending.asked, rel=1e-9)
    assert near[1].cut_shear.asked.max() > 0.0
