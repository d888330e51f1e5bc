"""How a job's timbers map to North American stock, what the practice says of them, and of the tables beside it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.checks import Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.frame import JointKind
from evenfoot.strength import check_strength
from evenfoot.strength.standards import Contact, NorthAmerica, Notch, Part, Piece, Stress, us_stock
from evenfoot.tables import strength_us
from evenfoot.words import Language, Speaker, catalogue

INCH = 25.4
PRACTICE = NorthAmerica(use="dwelling", snow_depth=0.0, person=1334.0)
LIVE = next(c for c in PRACTICE.cases() if c.code == "live")


def piece(part="joist", width=1.5, depth=7.25, species="treated_pine", grade="no-2", **more):
    return Piece(part=Part(part), species=species, grade=grade, width=width * INCH, depth=depth * INCH, **more)


@pytest.mark.parametrize(
    ("part", "width", "depth", "name", "plies"),
    [
        ("joist", 1.5, 7.25, "2x8", 1),
        ("joist", 1.575, 7.5, "2x10", 1),
        ("joist", 1.5, 7.39, "2x8", 1),
        ("beam", 3.0, 9.25, "2x10", 2),
        ("beam", 4.5, 11.25, "2x12", 3),
        ("beam", 3.5, 7.25, "4x8", 1),
        ("beam", 2.5, 9.25, "3x10", 1),
        ("beam", 5.5, 7.25, "6x8", 1),
        ("board", 5.5, 1.5, "2x6", 1),
        ("post", 3.5, 3.5, "4x4", 1),
        ("post", 5.5, 3.5, "4x6", 1),
        ("post", 5.5, 5.5, "6x6", 1),
    ],
)
def test_a_section_is_taken_for_the_next_size_that_is_sold(part, width, depth, name, plies):
    stock = us_stock.find_stock(piece(part, width, depth))
    assert (stock.name, stock.plies) == (name, plies)
    assert stock.lumber.is_timber is (name in {"6x8", "6x6"})


@pytest.mark.parametrize(
    ("one", "code", "nearest"),
    [
        (piece(species="western_redceder"), "species-not-in-standard", "western_redcedar"),
        (piece(grade="no2"), "grade-not-in-standard", "no-2"),
        (piece("board", 5.5, 1.0), "size-not-in-standard", ""),
        (piece("joist", 1.5, 15.25), "size-not-in-standard", ""),
        (piece("joist", 1.5, 13.25), "size-not-in-standard", ""),
        (piece("post", 5.5, 5.5, species="redwood_old"), "size-not-in-standard", ""),
        (piece("beam", 5.5, 9.25, species="douglas_fir"), "size-not-in-standard", ""),
    ],
)
def test_what_is_not_on_record_is_refused_with_the_nearest(one, code, nearest):
    with pytest.raises(OutOfRangeError) as refused:
        PRACTICE.wood(one)
    assert refused.value.fault.code == code
    assert refused.value.fault.nearest == nearest
    assert refused.value.fault.allowed


def test_joists_share_only_when_close_and_thin():
    strong = us_stock.find_stock(piece(pitch=24.0 * INCH)).repeated
    assert strong == pytest.approx(1.15)
    assert us_stock.find_stock(piece(pitch=24.2 * INCH)).repeated == 1.0
    assert us_stock.find_stock(piece()).repeated == 1.0
    assert us_stock.find_stock(piece("beam", 3.0, 9.25)).repeated == 1.0
    assert us_stock.find_stock(piece("beam", 4.5, 9.25)).repeated == pytest.approx(1.15)
    assert us_stock.find_stock(piece("joist", 5.5, 5.5, pitch=16.0 * INCH)).repeated == 1.0


@pytest.mark.parametrize(
    ("one", "unheld", "is_whole"),
    [
        (piece("joist", 1.5, 9.25), 4000.0, True),
        (piece("joist", 1.5, 11.25), 0.0, True),
        (piece("joist", 1.5, 11.25), 3000.0, False),
        (piece("beam", 1.5, 7.25), 4000.0, True),
        (piece("beam", 1.5, 9.25), 3000.0, False),
        (piece("beam", 4.5, 11.25), 4000.0, True),
    ],
)
def test_slender_timbers_lose_strength_where_nothing_holds_their_pressed_edge(one, unheld, is_whole):
    found = PRACTICE.sideways(wood=PRACTICE.wood(one), unheld=unheld, case=LIVE).value
    assert (found == 1.0) is is_whole
    assert 0.0 < found <= 1.0


def test_a_beam_more_slender_than_is_permitted_at_all_keeps_next_to_nothing():
    wood = PRACTICE.wood(piece("beam", 1.5, 11.25))
    assert PRACTICE.sideways(wood=wood, unheld=6000.0, case=LIVE).value > 0.1
    assert PRACTICE.sideways(wood=wood, unheld=9000.0, case=LIVE).value == 0.01


def test_notches_are_a_quarter_at_the_ends_and_a_sixth_and_short_elsewhere():
    wood = PRACTICE.wood(piece("beam", 3.0, 9.25))
    d = 9.25 * INCH

    def notched(depth, length, *, is_end):
        notch = Notch(depth=depth * INCH, length=length * INCH, is_end=is_end)
        return PRACTICE.notched(wood=wood, width=wood.piece.width, depth=d, notch=notch)

    end = notched(1.5, 5.25, is_end=True)
    assert end.limit == pytest.approx(d / 4.0)
    assert end.pulled_area == pytest.approx(3.0 * 7.75 * INCH**2 * (7.75 / 9.25) ** 2)
    assert notched(2.4, 3.0, is_end=True).pulled_area is None
    assert notched(1.5, 3.0, is_end=False).pulled_area is not None
    assert notched(1.5, 5.25, is_end=False).pulled_area is None
    assert notched(1.6, 3.0, is_end=False).pulled_area is None
    assert notched(1.6, 3.0, is_end=False).area == pytest.approx(3.0 * 7.65 * INCH**2)


@pytest.mark.parametrize(("width", "rule"), [(1.5, None), (3.5, "notch-length"), (5.5, "notch-length")])
def test_a_shallow_notch_that_is_too_long_is_outside_the_rule_by_its_length(width, rule):
    """A half inch out of a 7 1/4 in beam's top, pulled over the middle post, as long as the joist in it is wide."""
    plan = replace(
        LUMBER,
        joists=(0.0, 600.0, 1200.0, 1800.0, 2400.0),
        posts=(0.0, 1200.0, 2400.0),
        run=(-40.0, 2440.0),
        kind=JointKind.LAP_OVER,
        cut=(0.0, 12.0),
        joist=timber(width * INCH, 5.5 * INCH, "treated_pine", "no-2"),
    )
    found = [c for c in reckon(plan).checks if c.rule == "notch-length"]
    assert bool(found) is (rule is not None)
    for check in found:
        assert check.verdict is Verdict.OUTSIDE_RULE
        assert check.capacity == pytest.approx(7.25 * INCH / 3.0)
        assert check.demand == pytest.approx(width * INCH)


def test_a_bearing_by_metal_has_no_bearing_factor():
    wood = PRACTICE.wood(piece())
    contact = Contact(wood=wood, depth=184.0, length=0.0, beyond=100.0, clear=500.0)
    assert PRACTICE.end_bearing(contact).value == 1.0
    assert PRACTICE.end_bearing(replace(contact, length=38.1)).value == pytest.approx(1.25)


def test_snow_brings_its_own_cases_and_the_greater_of_both_sags():
    bare = {c.code for c in PRACTICE.cases()}
    assert bare == {"dead-alone", "live", "person", "sag-live", "tip"}
    snowy = {c.code: c for c in NorthAmerica(use="public", snow_depth=2500.0, person=1.0).cases()}
    assert set(snowy) == bare | {"snow", "live-snow"}
    assert snowy["live-snow"].area == pytest.approx(0.75 * (snowy["live"].area + snowy["snow"].area))
    assert snowy["sag-live"].area == max(snowy["live"].area, snowy["snow"].area)
    assert snowy["sag-live"].dead == 0.0


LUMBER = replace(
    Plan(joists=(0.0, 400.0, 800.0, 1200.0), beams=(0.0, 2000.0), posts=(0.0, 1200.0), run=(-40.0, 1240.0)),
    reach=(0.0, 2450.0),
    joist=timber(1.5 * INCH, 5.5 * INCH, "treated_pine", "no-2"),
    beam=timber(3.0 * INCH, 7.25 * INCH, "treated_pine", "no-2"),
    post=timber(3.5 * INCH, 3.5 * INCH, "treated_pine", "no-2"),
)


def reckon(plan=LUMBER, **wishes):
    frame = make_frame(plan)
    return check_strength(make_job(standard="north-america", **wishes), frame, heights(frame))


def tables(strength):
    return {c.rule: c for c in strength.checks if c.rule.startswith("table-")}


def test_every_table_that_the_floor_falls_under_is_told_beside_the_reckoning():
    found = tables(reckon())
    assert set(found) == {
        "table-decking",
        "table-joist-span",
        "table-joist-overhang",
        "table-beam-span",
        "table-post-height",
        "table-footing",
    }
    assert found["table-joist-span"].demand == pytest.approx(2000.0)
    # Southern pine 2x6 at 16 in: 13 in by the guide, less than a quarter of the span behind it.
    assert found["table-joist-overhang"].capacity == pytest.approx(13.0 * INCH)
    assert found["table-joist-overhang"].demand == pytest.approx(450.0)
    assert found["table-joist-overhang"].verdict is Verdict.OUTSIDE_RULE
    assert not found["table-joist-overhang"].confirmed
    assert found["table-beam-span"].verdict is Verdict.OK
    assert not found["table-post-height"].confirmed


def test_a_tip_is_loaded_by_itself_and_its_sag_is_told():
    strength = reckon()
    tip = [c for c in strength.checks if c.rule == "sag-tip"]
    assert tip
    assert {c.case for c in tip} == {"tip"}
    assert all(c.capacity == pytest.approx(450.0 / 180.0) for c in tip)


def test_the_tip_sags_as_the_overhanging_beam_does():
    """P a2 (L + a) / 3 EI with shear, posts all but rigid: within the give of beam, posts and post heads."""
    stiff = replace(LUMBER, beam=timber(3.0 * INCH, 11.25 * INCH, "treated_pine", "no-2"), posts=LUMBER.joists)
    tip = max(c.demand for c in reckon(stiff).checks if c.rule == "sag-tip")
    wood = PRACTICE.wood(piece(depth=5.5, pitch=400.0))
    b, d = 1.5 * INCH, 5.5 * INCH
    load = 220.0 * 4.4482216152605
    bend = load * 450.0**2 * 2450.0 / (3.0 * wood.modulus * b * d**3 / 12.0)
    shear = load * 450.0 * (1.0 + 450.0 / 2000.0) / (wood.shear_modulus * b * d * 5.0 / 6.0)
    assert tip == pytest.approx(bend + shear, rel=0.08)
    assert tip >= bend


def test_joists_on_both_sides_of_a_beam_are_outside_the_beam_table():
    three = replace(LUMBER, beams=(0.0, 1000.0, 2000.0), reach=(0.0, 2000.0))
    found = [c for c in reckon(three).checks if c.rule == "table-not-listed"]
    assert len(found) == 1
    assert str(found[0].subject).endswith("A-D")


@pytest.mark.parametrize("wish", [{"use": "public"}, {"snow_depth": 900.0}])
def test_other_loads_are_outside_the_tables_altogether(wish):
    assert set(tables(reckon(**wish))) == {"table-loads"}


def test_no_table_is_told_outside_north_america():
    frame = make_frame(Plan())
    strength = check_strength(make_job(), frame, heights(frame))
    assert not tables(strength)


def test_boards_thinner_than_the_standard_stand_by_the_table_and_others_by_the_rules():
    thin = reckon(board=(5.5 * INCH, 1.0 * INCH), board_species="western_redcedar")
    assert not [c for c in thin.checks if c.reason == "size-not-in-standard"]
    thinner = reckon(board=(5.5 * INCH, 0.75 * INCH), board_species="western_redcedar")
    assert [c.subject for c in thinner.checks if c.reason == "size-not-in-standard"] == ["boards"]


@pytest.mark.parametrize("language", list(Language))
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_all_findings_are_said_in_both_languages_and_units(language, unit):
    speaker = Speaker(language, unit)
    plans = (LUMBER, replace(LUMBER, cut=(40.0, 40.0)), replace(LUMBER, post=timber(200.0, 200.0, "teak", "no-2")))
    for plan in plans:
        for check in reckon(plan, snow_depth=300.0).checks:
            said = speaker.check(check)
            assert "{" not in said
            assert ("psi" in said) is (unit == "in" and check.unit == "N/mm2")
    assert {f"check.{rule}" for rule in PRACTICE.clauses} <= set(catalogue())
    assert {f"case.{c.code}" for c in NorthAmerica(use="dwelling", snow_depth=1.0, person=1.0).cases()} <= set(
        catalogue()
    )


def test_a_load_on_a_tip_is_felt_beside_the_own_weight_and_told_without_it():
    """What the tip sags is its own: it goes with the load and not with the weight of the floor."""
    light, heavy = (max(c.demand for c in reckon(board=(140.0, t)).checks if c.rule == "sag-tip") for t in (38.0, 90.0))
    assert heavy == pytest.approx(light, rel=1e-6)


def test_a_6x6_post_is_held_against_the_guides_heights_and_never_as_sure():
    big = replace(LUMBER, post=timber(5.5 * INCH, 5.5 * INCH, "treated_pine", "no-2"))
    found = tables(reckon(big))["table-post-height"]
    assert found.capacity == pytest.approx(14.0 * 12.0 * INCH)
    assert found.fact("row") == "6x6, beam 6 ft, joists 10 ft"
    assert not found.confirmed
    foot = 12.0 * INCH
    row = {"beam_span": 14.0 * foot, "joist_span": 18.0 * foot}
    assert strength_us.big_post_row(species="spruce_pine_fir", **row) is None
    assert strength_us.big_post_row(species="northern_species", **row) is None
    assert strength_us.big_post_row(species="redwood", beam_span=18.1 * foot, joist_span=foot) is None


def test_posts_are_as_slender_as_the_specification_permits_and_by_their_thinner_side():
    """NDS 3.7.1.4: 50; held at both ends over the clear height, else over 2.1 times that."""
    wood = PRACTICE.wood(piece("post", 3.5, 5.5))
    free = PRACTICE.post(wood=wood, height=700.0)
    held = replace(PRACTICE, holds_heads=True).post(wood=wood, height=700.0)
    assert free.limit == held.limit == 50.0
    assert held.slenderness == pytest.approx(700.0 / (3.5 * INCH), rel=1e-12)
    assert free.slenderness == pytest.approx(2.1 * held.slenderness, rel=1e-12)


@pytest.mark.parametrize(
    ("species", "doubts"),
    [
        ("treated_pine", ()),
        ("douglas_fir", ()),
        ("western_hemlock", ("western_hemlock as hem_fir",)),
        ("western_redcedar", ("western_cedars no-2",)),
    ],
)
def test_values_and_names_that_were_not_read_are_told_as_such(species, doubts):
    wood = PRACTICE.wood(piece(species=species))
    assert PRACTICE.strength(Stress.BENDING, wood, LIVE).doubts == doubts
