"""Sway, sliding, the ground and heavy things: what pushes, what holds, and what is said when the job does not tell."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace

from evenfoot.checks import Verdict
from evenfoot.job import kinds
from evenfoot.job.holding import HeavyThing, Held, Makers
from evenfoot.strength import check_strength

Holding = kinds.Holding


def job_with(*, held=None, makers=None, site=None, loads=None, footing=None, **given):
    job = make_job(**given)
    frame = job.frame if held is None else replace(job.frame, held=Held(**held))
    if footing:
        frame = replace(frame, footing=replace(frame.footing, **footing))
    return replace(
        job,
        frame=frame,
        makers=Makers(**(makers or {})),
        site=replace(job.site, **(site or {})),
        loads=replace(job.loads, **(loads or {})),
    )


def run(job, plan=None, height=400.0):
    frame = make_frame(plan or Plan())
    return check_strength(job, frame, heights(frame, height))


def found(strength, rule):
    return [c for c in strength.checks if c.rule == rule]


def only(strength, rule):
    (check,) = found(strength, rule)
    return check


def forces(strength, case):
    return sum(p.force for p in strength.post_loads if p.case == case)


QUIET = {"earthquake": 0.0}


def test_what_holds_the_floor_is_asked_both_ways_with_the_push_shown():
    strength = run(job_with(loads=QUIET))
    along, out = found(strength, "sway")
    assert {c.fact("direction_code") for c in (along, out)} == {"direction.along", "direction.out"}
    for check in (along, out):
        assert (check.verdict, check.reason, check.remedy) == (Verdict.NOT_CHECKED, "holding-not-said", "say-holding")
        assert check.demand == pytest.approx(0.05 * forces(strength, "long"), rel=1e-9)
        assert "sideways.own" in check.fact("doubts")


def test_loose_posts_that_nothing_holds_fail_with_what_would_hold_them():
    strength = run(job_with(held={"along": Holding.NOTHING, "out": Holding.NOTHING}, loads=QUIET))
    for check in found(strength, "sway-nothing"):
        assert (check.verdict, check.remedy) == (Verdict.FAILS, "hold-sideways")
        assert check.fact("tallest_mm") == 400.0
        assert check.fact("righting_n") == pytest.approx(105.0 / 400.0 * forces(strength, "long"), abs=0.5)
    assert len(found(strength, "sway-nothing")) == 2


@pytest.mark.parametrize(("height", "rule"), [(104.9, "sway-blocks"), (105.0, "sway-blocks"), (105.1, "sway-nothing")])
def test_blocks_no_taller_than_wide_do_not_fold_over(height, rule):
    strength = run(job_with(held={"along": Holding.NOTHING, "out": Holding.NOTHING}), height=height)
    assert len(found(strength, rule)) == 2


def test_an_earthquake_is_asked_in_japan_with_the_smaller_live_load():
    """0.2 of own weight and 600 N/m2: column ha of the Order's table."""
    strength = run(job_with())
    dead, long = forces(strength, "dead"), forces(strength, "long")
    light = dead + (long - dead) * 600.0 / 1300.0
    push = max(0.2 * light, 0.05 * long)
    assert push == 0.2 * light
    assert found(strength, "sway")[0].demand == pytest.approx(push, rel=1e-9)
    assert found(strength, "sway")[0].fact("push_code") == "push.earthquake"


def test_wind_presses_on_the_edge_from_boards_to_the_lowest_timber():
    loads = {**QUIET, "sideways": 0.0, "wind": 0.001}
    strength = run(job_with(loads=loads))
    along, out = found(strength, "sway")
    # Factory frame: 90 mm joists and 105 mm beams share one top line in the records; boards 30 mm.
    height = 30.0 + 105.0
    assert out.demand == pytest.approx(0.001 * height * (932.5 + 22.5), rel=1e-9)
    assert along.demand == pytest.approx(0.001 * height * (1210.0 + 105.0), rel=1e-9)
    assert out.fact("push_code") == "push.wind"


def test_braces_share_the_push_evenly_and_are_held_against_their_value():
    held = {"along": Holding.BRACES, "out": Holding.BRACES, "pieces_along": 2, "pieces_out": 4, "each": 100.0}
    strength = run(job_with(held=held, loads=QUIET))
    along, out = found(strength, "sway-share")
    push = 0.05 * forces(strength, "long")
    assert along.demand == pytest.approx(push / 2, rel=1e-9)
    assert out.demand == pytest.approx(push / 4, rel=1e-9)
    assert along.capacity == 100.0
    assert (along.verdict is Verdict.OK) == (push / 2 <= 100.0)


def test_without_a_value_the_share_is_shown_and_stays_open():
    held = {"along": Holding.LOW_RAILS, "out": Holding.LOW_RAILS}
    check = found(run(job_with(held=held, loads=QUIET)), "sway-share")[0]
    assert (check.verdict, check.reason) == (Verdict.NOT_CHECKED, "each-not-entered")
    assert check.fact("pieces") == 4


def test_ties_to_the_building_also_keep_the_floor_from_turning():
    held = {"along": Holding.BUILDING, "out": Holding.BUILDING, "pieces_along": 3, "pieces_out": 3, "each": 9000.0}
    strength = run(job_with(held=held, loads=QUIET))
    along, out = found(strength, "sway-share")
    push = 0.05 * forces(strength, "long")
    length, arm = 955.0, (1210.0 + 105.0) / 2.0
    # Two end ties at half the length resist the turn; the middle one does not.
    pull = push * arm / length
    assert out.demand == pytest.approx(push / 3, rel=1e-9)
    assert along.demand == pytest.approx(((push / 3) ** 2 + pull**2) ** 0.5, rel=1e-9)
    assert not found(strength, "sliding")


def test_one_tie_lets_the_floor_turn_about_it():
    held = {"along": Holding.BUILDING, "out": Holding.BUILDING, "pieces_along": 1, "pieces_out": 1, "each": 9000.0}
    check = only(run(job_with(held=held)), "one-tie")
    assert (check.verdict, check.remedy) == (Verdict.FAILS, "two-ties")


def test_feet_that_only_stand_slide_when_the_push_passes_their_friction():
    held = {
        "along": Holding.BRACES,
        "out": Holding.BRACES,
        "pieces_along": 2,
        "pieces_out": 2,
        "each": 9e3,
        "friction": 0.3,
    }
    checks = found(run(job_with(held=held, loads={**QUIET, "sideways": 0.31})), "sliding")
    assert [c.verdict for c in checks] == [Verdict.FAILS, Verdict.FAILS]
    assert checks[0].ratio == pytest.approx(0.31 / 0.3, rel=1e-9)
    assert checks[0].remedy == "stop-sliding"
    fine = found(run(job_with(held=held, loads={**QUIET, "sideways": 0.29})), "sliding")
    assert [c.verdict for c in fine] == [Verdict.OK, Verdict.OK]


def test_wind_slides_a_floor_by_its_own_weight_alone():
    held = {"along": Holding.BRACES, "out": Holding.BRACES, "pieces_along": 2, "pieces_out": 2, "each": 9e3}
    strength = run(job_with(held=held, loads={**QUIET, "sideways": 0.0, "wind": 0.002}))
    check = found(strength, "sliding")[0]
    assert check.capacity == pytest.approx(0.4 * forces(strength, "dead"), rel=1e-9)
    assert not check.confirmed


def test_fixed_feet_count_in_place_of_friction():
    held = {"along": Holding.BRACES, "out": Holding.BRACES, "pieces_along": 2, "pieces_out": 2, "each": 9e3}
    check = found(run(job_with(held=held, makers={"post_foot": 700.0})), "sliding-bolted")[0]
    assert check.capacity == pytest.approx(4 * 700.0, rel=1e-12)


def test_the_ground_is_open_with_its_pressure_shown_until_it_is_named():
    strength = run(job_with())
    check = only(strength, "footing-pressure")
    assert (check.verdict, check.reason) == (Verdict.NOT_CHECKED, "slab-spreads")
    heaviest = max(p.force for p in strength.post_loads if p.case == "long")
    load = heaviest + 105.0**2 * 400.0 * 6e-6
    assert check.demand == pytest.approx(1000.0 * (load / 200.0**2 + 60.0 * 23.5e-6), rel=1e-9)


@pytest.mark.parametrize(
    ("soil", "kpa"), [(kinds.Soil.CLAY, 20.0), (kinds.Soil.LOAM, 50.0), (kinds.Soil.DENSE_GRAVEL, 300.0)]
)
def test_a_named_soil_brings_the_value_of_the_order(soil, kpa):
    check = only(run(job_with(site={"soil": soil})), "footing-on-ground")
    assert check.capacity == pytest.approx(kpa, rel=1e-12)
    assert (check.verdict is Verdict.OK) == (check.demand <= kpa)
    assert "jp_order_93" in check.source


def test_a_typed_ground_value_always_wins():
    check = only(run(job_with(site={"soil": kinds.Soil.ROCK, "bearing": 0.035})), "footing-on-ground")
    assert check.capacity == pytest.approx(35.0, rel=1e-12)
    assert check.source == "site.bearing"


def test_a_base_of_the_size_named_would_just_do():
    first = only(run(job_with(site={"bearing": 0.012})), "footing-on-ground")
    assert first.verdict is Verdict.FAILS
    wanted = first.fact("wanted_mm")
    again = only(run(job_with(site={"bearing": 0.012}, footing={"size": wanted})), "footing-on-ground")
    assert again.ratio == pytest.approx(1.0, rel=1e-9)


TUB = HeavyThing(name="tub", x=200.0, y=300.0, width=600.0, depth=500.0, weight=4000.0, where="loads.heavy[0]")


def test_a_heavy_thing_goes_down_through_the_posts_whole():
    bare, heavy = run(job_with()), run(job_with(loads={"heavy": (TUB,)}))
    assert forces(heavy, "dead") == pytest.approx(forces(bare, "dead"), rel=1e-9)
    assert forces(heavy, "long") - forces(bare, "long") == pytest.approx(4000.0, rel=1e-6)
    check = only(heavy, "heavy-thing")
    assert check.demand == pytest.approx(4000.0 / (600.0 * 500.0) * 1000.0, rel=1e-12)


def test_a_heavy_thing_on_one_joist_bends_it_as_statics_says(monkeypatch):
    from evenfoot.strength import whole

    monkeypatch.setattr(whole, "keep_governing", tuple)
    # Over the middle joist alone, mid-span, 300 long: M grows by P (L/4 - c/8).
    tub = replace(TUB, x=455.0 - 100.0, width=200.0, y=605.0 - 150.0, depth=300.0, weight=900.0)
    level = {"height": 0.0}
    light = {"person": 1.0}
    bare = run(job_with(**light), **level)
    heavy = run(job_with(loads={"heavy": (tub,)}, **light), **level)

    def moment(strength):
        (check,) = [c for c in strength.checks if c.subject == "B1-2" and c.rule == "bending" and c.case == "long"]
        return check.demand * 45.0 * 90.0**2 / 6.0

    # Set down in two parts of 150 mm, each at its own middle: the same as the even patch at mid-span, P (L/4 - c/8).
    assert moment(heavy) - moment(bare) == pytest.approx(900.0 * (1210.0 / 4.0 - 300.0 / 8.0), rel=1e-6)


def test_snow_from_the_roof_is_asked_where_snow_falls():
    assert not found(run(job_with()), "roof-snow")
    check = only(run(job_with(snow_depth=500.0)), "roof-snow")
    assert (check.verdict, check.reason) == (Verdict.NOT_CHECKED, "roof-snow-not-said")
    slides = only(run(job_with(loads={"roof_snow": kinds.RoofSnow.SLIDES})), "roof-snow")
    assert (slides.reason, slides.remedy) == ("roof-snow-slides", "snow-guards")
    assert not found(run(job_with(snow_depth=500.0, loads={"roof_snow": kinds.RoofSnow.HELD})), "roof-snow")


def test_a_floor_on_too_few_bearings_is_a_finding_of_safety_and_no_fault():
    from evenfoot.strength.standards import practice_for  # the frame is read, not refused

    assert practice_for(make_job()) is not None
    plan = replace(Plan(), beams=(605.0,))
    strength = run(job_with(), plan)
    check = only(strength, "mechanism")
    assert (check.verdict, check.remedy) == (Verdict.FAILS, "two-bearings")
    assert {c.reason for c in strength.checks if c.rule == "sway-unknown"} == {"loads-not-reckoned"}


def test_a_whole_job_can_be_complete_once_everything_is_said():
    held = {"along": Holding.BUILDING, "out": Holding.BUILDING, "pieces_along": 3, "pieces_out": 3, "each": 9000.0}
    strength = run(job_with(held=held, site={"soil": kinds.Soil.STIFF_LOAM}))
    assert [c.rule for c in strength.checks if c.verdict is Verdict.NOT_CHECKED] == []
    assert strength.is_complete
    assert not run(job_with(held=held)).is_complete


BOTH = {Holding.BUILDING, Holding.BRACES}


@pytest.mark.parametrize("along", list(Holding))
@pytest.mark.parametrize("out", list(Holding))
def test_posts_buckle_over_their_own_height_only_where_the_floor_is_tied_or_braced_both_ways(along, out):
    held = Held(along=along, out=out)
    assert held.holds_heads == ({along, out} <= BOTH)
    assert not Held(along=along).holds_heads


def test_a_held_post_is_half_as_slender(monkeypatch):
    from evenfoot.strength import whole

    monkeypatch.setattr(whole, "keep_governing", tuple)
    free = found(run(job_with(), height=2000.0), "slenderness")[0]
    held = found(run(job_with(held={"along": Holding.BRACES, "out": Holding.BUILDING}), height=2000.0), "slenderness")[
        0
    ]
    assert free.demand == pytest.approx(2 * held.demand, rel=1e-12)
    assert held.demand == pytest.approx(2000.0 / (105.0 / 12**0.5), rel=1e-12)
    assert (free.fact("head_code"), held.fact("head_code")) == ("post-top.free", "post-top.held")


def test_a_held_post_of_north_america_buckles_over_its_height():
    from evenfoot.strength.standards import Part, Piece, practice_for

    piece = Piece(part=Part.POST, species="treated_pine", grade="no-2", width=88.9, depth=88.9)
    free, held = (
        practice_for(replace(job_with(held=h), standard=kinds.Standard.NORTH_AMERICA))
        for h in ({}, {"along": Holding.BUILDING, "out": Holding.BRACES})
    )
    assert held.post(wood=held.wood(piece), height=1500.0).length == 1500.0
    assert free.post(wood=free.wood(piece), height=1500.0).length == pytest.approx(2.1 * 1500.0)


CONCRETE = {"along": Holding.POSTS_IN_CONCRETE, "out": Holding.POSTS_IN_CONCRETE}


def test_posts_in_concrete_are_bent_by_their_share_of_the_push():
    strength = run(job_with(held=CONCRETE, loads=QUIET), height=900.0)
    along, out = found(strength, "upright-post")
    push = 0.05 * forces(strength, "long")
    most = max(p.force for p in strength.post_loads if p.case == "long")
    slender = 2 * 900.0 / (105.0 / 12**0.5)
    eta = 1.3 - 0.01 * slender
    bent = push / 4 * 900.0 / (105.0**3 / 6) / (2 / 3 * 0.7 * 26.7)
    pressed = most / 105.0**2 / (eta * 2 / 3 * 0.7 * 20.7)
    assert along.demand == out.demand == pytest.approx(bent + pressed, rel=1e-9)
    assert only(strength, "posts-embedded").verdict is Verdict.NOT_CHECKED
    assert not found(strength, "sliding")
    assert not found(strength, "sway-share")
    embedded = run(job_with(held={**CONCRETE, "each": 900.0}, loads=QUIET), height=900.0)
    assert not found(embedded, "posts-embedded")
    assert found(embedded, "sway-share")[0].capacity == 900.0


def test_loose_posts_fail_even_where_no_load_could_be_reckoned():
    held = {"along": Holding.NOTHING, "out": Holding.BRACES}
    strength = run(job_with(held=held), replace(Plan(), beams=(605.0,)))
    check = only(strength, "sway-loose")
    assert (check.verdict, check.remedy, check.subject) == (Verdict.FAILS, "hold-sideways", "sway-along")
    assert check.fact("tallest_mm") == 400.0


def test_the_shortest_post_in_concrete_takes_most_of_the_push():
    frame = make_frame(Plan())
    tall = heights(frame, 900.0)
    short = frame.posts[0].mark
    strength = check_strength(job_with(held=CONCRETE, loads=QUIET), frame, {**tall, short: 450.0})
    check = found(strength, "upright-post")[0]
    push = 0.05 * forces(strength, "long")
    # EI / h3: 8 parts of 11.
    assert check.place == short
    assert check.fact("share_n") == pytest.approx(push * 8 / 11, abs=0.5)


def test_wind_counts_only_the_weight_that_is_there():
    """North America reckons boards and joists at 10 psf; thin boards weigh less, and wind lifts what is there."""
    from evenfoot.strength.stability import carried_by
    from evenfoot.strength.standards import practice_for

    spec = {"species": "treated_pine", "strength_grade": "no-2"}
    plan = Plan(
        joist=replace(Plan().joist, width=38.1, depth=139.7, **spec),
        beam=replace(Plan().beam, width=88.9, depth=139.7, **spec),
        post=replace(Plan().post, width=88.9, depth=88.9, **spec),
    )
    job = replace(job_with(board=(140.0, 25.4)), standard=kinds.Standard.NORTH_AMERICA)
    frame = make_frame(plan)
    strength = check_strength(job, frame, heights(frame, 400.0))
    practice = practice_for(job)
    carried = carried_by(practice, frame, job.floor, strength.post_loads)
    unit = practice.unit_weight.value
    timbers = sum(m.width * m.depth * m.length for m in frame.members) * unit
    boards = unit * 25.4 * 140.0 / 145.0 * 955.0 * (1210.0 + 88.9)
    assert carried.weight * carried.real == pytest.approx(timbers + boards, rel=1e-9)
    assert carried.real < 0.95
    japan = run(job_with())
    again = carried_by(practice_for(job_with()), make_frame(Plan()), job_with().floor, japan.post_loads)
    assert again.real == pytest.approx(1.0, rel=1e-9)
