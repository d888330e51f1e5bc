"""Marking out: what each cut leaves on the four faces, and timbers that are easily mistaken."""

from dataclasses import replace

import pytest

from evenfoot.frame import Member, Role
from evenfoot.ink import Polygon
from evenfoot.job import kinds
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.layout import Axis
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.paper import paper_named
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.parts.post_side import post_patterns
from evenfoot.sheets.parts.timber_net import ROLL, Mark, Pattern, is_handed, marks_on, places_of_cuts
from evenfoot.words import Speaker

BEAM = Member(
    mark="1A-D",
    role=Role.BEAM,
    axis=Axis.X,
    line="1",
    start=(0.0, 0.0, 0.0),
    end=(2340.0, 0.0, 0.0),
    width=90.0,
    depth=120.0,
    length=2340.0,
    species="sugi",
    look=next(iter(kinds.Look)),
    strength_grade="ungraded",
    is_seen=True,
    where="frame.beam",
)
LAP = Cut(
    member="1A-D",
    kind=CutKind.LAP,
    face=Face.TOP,
    begin=400.0,
    finish=505.0,
    depth=50.0,
    height=0.0,
    angle_deg=0.0,
    joint="A1",
)
HOUSING = replace(LAP, kind=CutKind.HOUSING, face=Face.LEFT, depth=15.0, height=75.0)


def across(cut):
    found = {face: marks_on(face, cut, BEAM) for face in ROLL}
    return {face: (m.near, m.far) for face, m in found.items() if m is not None}


def test_a_lap_from_above_shows_on_the_top_and_at_the_upper_edge_of_both_sides():
    # Rolled out, the left side has its top edge below on paper, the right side above.
    assert across(LAP) == {Face.LEFT: (70.0, 120.0), Face.TOP: (0.0, 90.0), Face.RIGHT: (0.0, 50.0)}


def test_a_lap_from_below_shows_on_the_underside_and_at_the_lower_edge_of_both_sides():
    cut = replace(LAP, face=Face.BOTTOM)
    assert across(cut) == {Face.LEFT: (0.0, 50.0), Face.RIGHT: (70.0, 120.0), Face.BOTTOM: (0.0, 90.0)}


def test_a_housing_shows_on_its_side_and_along_the_edge_of_the_top():
    assert across(HOUSING) == {Face.LEFT: (45.0, 120.0), Face.TOP: (0.0, 15.0)}
    assert across(replace(HOUSING, face=Face.RIGHT)) == {Face.TOP: (75.0, 90.0), Face.RIGHT: (0.0, 75.0)}


def test_a_housing_right_through_shows_on_the_underside_too():
    cut = replace(HOUSING, height=120.0)
    assert across(cut)[Face.BOTTOM] == (75.0, 90.0)
    assert across(replace(cut, face=Face.RIGHT))[Face.BOTTOM] == (0.0, 15.0)


@pytest.mark.parametrize(
    "cut", [LAP, replace(LAP, face=Face.BOTTOM), HOUSING, replace(HOUSING, face=Face.RIGHT, height=120.0)]
)
def test_marks_meet_at_the_edges_that_faces_share(cut):
    """Folded up again, a mark that reaches an edge goes on over it on the next face."""
    wide, deep = BEAM.width, BEAM.depth
    sizes = {Face.LEFT: deep, Face.TOP: wide, Face.RIGHT: deep, Face.BOTTOM: wide}
    found = {face: marks_on(face, cut, BEAM) for face in ROLL}
    for one, other in zip(ROLL, (*ROLL[1:], ROLL[0]), strict=True):
        reaches = found[one] is not None and found[one].far == sizes[one]
        goes_on = found[other] is not None and found[other].near == 0.0
        assert reaches == goes_on, (one, other)


def test_marks_keep_their_place_along_the_timber():
    assert marks_on(Face.TOP, LAP, BEAM) == Mark(begin=400.0, finish=505.0, near=0.0, far=90.0)


def pattern(*cuts):
    return Pattern(members=(BEAM,), cuts=cuts)


def test_a_timber_that_is_only_lapped_has_no_mirror_image_of_its_own():
    assert not is_handed(pattern(LAP, replace(LAP, begin=1000.0, finish=1105.0)))


def test_a_timber_housed_off_centre_on_one_side_is_handed():
    one = pattern(HOUSING)
    other = pattern(replace(HOUSING, face=Face.RIGHT))
    assert is_handed(one)
    assert places_of_cuts(one, is_swapped=True) == places_of_cuts(other)
    # The same timber turned round is still the same timber.
    turned = pattern(replace(HOUSING, face=Face.RIGHT, begin=2340.0 - 505.0, finish=2340.0 - 400.0))
    assert places_of_cuts(one, is_swapped=True, is_turned=True) == places_of_cuts(turned)


def test_a_timber_housed_evenly_on_one_side_is_not_handed():
    middle = replace(HOUSING, begin=1117.5, finish=1222.5)
    assert not is_handed(pattern(middle))


@pytest.mark.slow
def test_every_cut_is_shown_on_every_face_that_it_meets(plan_of, pages_of, job):
    plan = plan_of(job)
    shaded = [
        s
        for page in pages_of(job)
        if page.code.startswith("marking")
        for s in page.shapes
        if isinstance(s, Polygon) and s.layer == "cut"
    ]
    drawn = {s.member for s in shaded}
    for mark in drawn:
        member = plan.frame.member(mark)
        wanted = sum(marks_on(f, c, member) is not None for c in plan.joinery.cuts_on(mark) for f in ROLL)
        assert sum(s.member == mark for s in shaded) == wanted
    assert bool(drawn) == any(c.depth > 0 for c in plan.joinery.cuts)


@pytest.mark.slow
def test_the_edges_of_a_post_are_those_of_its_solid(plan_of, job):
    for pattern in post_patterns(
        Bench(plan=plan_of(job), figures=Figures(speaker=Speaker()), area=paper_named("A3").body)
    ):
        for cut in pattern.cuts:
            (_, _, low), (_, _, high) = cut.solid().bounds
            # The kernel's own box around the post: its highest corner is the high edge.
            assert high - low == pytest.approx(cut.length + pattern.rise / 2, abs=0.01)
