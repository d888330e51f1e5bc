"""Fixings: the right one, often enough, bored where needed, with room or a finding that says so."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import fixing_item, make_built, make_job, make_shop, replace

from evenfoot.checks import Verdict
from evenfoot.estimate import price_job
from evenfoot.estimate.fixing import choose_fixings
from evenfoot.estimate.fixing.choice import Wish, for_boards, for_clamp, for_skew
from evenfoot.frame import JointKind, Role
from evenfoot.job import kinds
from evenfoot.words import Language, Speaker


def chosen(job, built=None, **changes):
    found = choose_fixings(job, make_shop(**changes), built or make_built(job))
    return {f.use: f for f in found.fixings}, {c.rule: c for c in reversed(found.checks)}


def wish(density: float = 380.0, standard: str = "japan", longest: float = 200.0) -> Wish:
    return Wish(standard=kinds.Standard(standard), density=density, longest=longest)


@pytest.mark.parametrize(
    ("board", "mark"),
    [(18.0, "3.8x38"), (19.0, "3.8x51"), (26.0, "3.8x51"), (27.0, "4.2x65"), (30.0, "4.2x65"), (38.0, "4.2x75")],
)
def test_the_shortest_screw_of_about_twice_the_board_is_taken(board, mark):
    assert for_boards(wish(), board, make_shop(fixings=())).mark == mark


def test_dense_boards_take_the_thicker_screws():
    assert for_boards(wish(density=1025.0, standard="europe"), 30.0, make_shop(fixings=())).mark == "5.5x65"
    assert for_boards(wish(density=600.0, standard="europe"), 30.0, make_shop(fixings=())).mark == "4.2x65"


def test_a_screw_that_is_too_thick_for_the_board_gives_way_to_a_thinner_one_in_japan():
    """5.5 x 6 = 33 mm of board wanted; 5.0 x 6 = 30 mm; a 29 mm board has neither and takes the shorter."""
    for board, mark in ((33.0, "5.5x65"), (30.0, "5.0x75"), (29.0, "5.5x65")):
        assert for_boards(wish(density=1025.0), board, make_shop(fixings=())).mark == mark


def test_europe_takes_no_screw_thinner_than_4_2():
    assert for_boards(wish(), 25.0, make_shop(fixings=())).mark == "3.8x51"
    assert for_boards(wish(standard="europe"), 25.0, make_shop(fixings=())).mark == "4.2x65"


def test_the_shop_s_own_screws_go_first_while_not_much_longer():
    assert for_boards(wish(), 30.0, make_shop(fixings=(fixing_item("4.5x75", 100, "1"),))).mark == "4.5x75"
    assert for_boards(wish(), 30.0, make_shop(fixings=(fixing_item("4.5x90", 100, "1"),))).mark == "4.2x65"


def test_boards_too_thick_for_any_screw_are_nailed_with_two_and_a_half_boards():
    assert for_boards(wish(), 50.0, make_shop()).mark == "N125"
    assert for_boards(wish(longest=90.0), 50.0, make_shop()) is None
    assert for_boards(wish(), 61.0, make_shop()) is None


def test_a_clamp_goes_six_shanks_into_the_lower_tongue_and_not_through_it():
    assert for_clamp(wish(), 52.5, 52.5, make_shop()).mark == "4.5x90"
    assert for_clamp(wish(), 44.5, 44.5, make_shop(fixings=())).mark == "4.2x75"
    assert for_clamp(wish(), 92.0, 92.0, make_shop()).kind == "nail-n"
    assert for_clamp(wish(), 60.0, 30.0, make_shop()) is None


def test_a_slanting_screw_stays_inside_the_timber_it_starts_in():
    assert for_skew(wish(), 90.0, make_shop(fixings=())).mark == "4.5x90"
    assert for_skew(wish(), 45.0, make_shop(fixings=())).length == 75.0
    assert for_skew(wish(), 38.0, make_shop(fixings=())).length == 65.0
    assert for_skew(wish(), 20.0, make_shop(fixings=())) is None


@pytest.mark.parametrize("direction", [0.0, 90.0, 45.0])
def test_two_screws_hold_every_board_on_every_joist(direction):
    job = make_job(direction_deg=direction)
    built = make_built(job)
    board = chosen(job, built)[0]["board-joist"]
    assert (board.per_crossing, board.crossings, board.count) == (2, built.layout.screws, 2 * built.layout.screws)


@pytest.mark.parametrize(
    ("style", "joint", "use", "kind", "per"),
    [
        ("flush", "lap-over", "lap", None, 1),
        ("stacked", "bearing", "bearing", JointKind.BEARING, 2),
        ("flush", "housing", "housing", JointKind.HOUSING, 2),
        ("flush", "butt", "butt", JointKind.BUTT, 4),
    ],
)
def test_every_meeting_of_timbers_is_fixed(style, joint, use, kind, per):
    job = make_job(style=style, joint=joint, post_joist="lap-under" if use == "lap" else joint, joist=(45.0, 105.0))
    built = make_built(job)
    fixing = chosen(job, built)[0][use]
    laps = (JointKind.LAP_OVER, JointKind.LAP_UNDER)
    wanted = sum(j.kind in laps if kind is None else j.kind is kind for j in built.frame.joints)
    assert (fixing.crossings, fixing.count) == (wanted, per * wanted)
    heads = sum(j.kind is JointKind.POST_HEAD for j in built.frame.joints)
    assert chosen(job, built)[0]["post-head"].crossings == heads > 0


def test_both_ends_of_every_block_are_fixed():
    job = make_job(style="stacked", joint="bearing", joist=(45.0, 105.0), size=(7000.0, 2710.0))
    built = make_built(job)
    blocks = sum(m.role is Role.BLOCK for m in built.frame.members)
    assert chosen(job, built)[0]["block"].crossings == 2 * blocks > 0


def test_hangers_are_left_to_their_maker_and_said():
    fixings, checks = chosen(make_job(style="hung", joint="hanger", joist=(45.0, 105.0)))
    assert "hanger" not in fixings
    assert checks["hanger-nails"].verdict is Verdict.NOT_CHECKED


def test_butted_ends_are_never_called_strong_enough():
    _, checks = chosen(make_job(joint="butt", post_joist="butt", joist=(45.0, 105.0)))
    assert checks["fixings-carry-load"].verdict is Verdict.NOT_CHECKED


@pytest.mark.parametrize(
    ("standard", "end", "edge", "spacing"),
    [("japan", 10, 5, 12), ("europe", 10, 5, 10), ("north-america", 10, 2.5, 15)],
)
def test_distances_follow_the_standard_of_the_job(standard, end, edge, spacing):
    board = chosen(make_job(standard=standard, board=(30.0, 140.0)))[0]["board-joist"]
    d = board.shank
    assert (board.end_distance, board.edge_distance, board.spacing) == pytest.approx((end * d, edge * d, spacing * d))
    assert board.is_confirmed is False


def test_dense_wood_in_europe_gets_the_distances_of_bored_holes():
    board = chosen(make_job(standard="europe", board_species="robinia"))[0]["board-joist"]
    assert board.end_distance == pytest.approx(7 * board.shank)
    assert board.pilot == pytest.approx(round(0.75 * board.shank, 1))


@pytest.mark.parametrize(
    ("species", "always"), [("sugi", 0.0), ("hiba", 0.65), ("douglas_fir", 0.65), ("european_oak", 0.75)]
)
def test_pilot_holes_follow_the_denser_wood(species, always):
    board = chosen(make_job(board_species=species))[0]["board-joist"]
    assert board.pilot == pytest.approx(round(always * board.shank, 1))
    assert board.pilot_near == pytest.approx(round(max(always, 0.65) * board.shank, 1))


def test_a_narrow_joist_brings_pilot_holes_everywhere():
    """45 mm: 22.5 mm to its edge, less than 6 shanks of 4.2; 90 mm is wide enough."""
    stacked = {"style": "stacked", "joint": "bearing"}
    assert chosen(make_job(joist=(45.0, 105.0), **stacked))[0]["board-joist"].pilot > 0
    assert chosen(make_job(joist=(90.0, 105.0), **stacked))[0]["board-joist"].pilot == 0


def test_lap_and_slanting_screws_always_get_pilot_holes():
    fixings, _ = chosen(make_job())
    for use in ("lap", "post-head"):
        assert fixings[use].pilot == fixings[use].pilot_near > 0


def test_screws_of_a_whole_board_are_evenly_spaced_along_the_joist():
    board = chosen(make_job())[0]["board-joist"]
    assert board.set_in == pytest.approx((120.0 - 5.0) / 4)
    assert 120.0 - 2 * board.set_in == pytest.approx(2 * board.set_in + 5.0)


def test_a_joist_too_narrow_for_a_screw_fails_in_japan_and_is_bored_in_europe():
    slim = {"style": "stacked", "joint": "bearing", "joist": (36.0, 105.0)}
    _, japan = chosen(make_job(**slim))
    assert japan["joist-holds-screw"].verdict is Verdict.OUTSIDE_RULE
    assert japan["joist-holds-screw"].demand == pytest.approx(2 * 5 * 4.2)
    assert japan["joist-holds-screw"].capacity == 36.0
    assert japan["joist-holds-screw"].fact("informative_mm") == pytest.approx(2 * 3 * 4.2)
    _, europe = chosen(make_job(standard="europe", **slim))
    assert europe["joist-holds-screw"].verdict is Verdict.OK
    assert europe["joist-holds-screw"].reason == "room-with-pilot-holes"


def test_a_board_thinner_than_six_shanks_is_outside_the_rule_in_japan_and_bored():
    fixings, checks = chosen(make_job(board=(20.0, 120.0)))
    check = checks["board-thickness"]
    assert (check.verdict, check.remedy) == (Verdict.OUTSIDE_RULE, "bore-pilot-holes")
    assert (check.demand, check.capacity) == pytest.approx((6 * 3.8, 20.0))
    assert fixings["board-joist"].pilot > 0
    _, europe = chosen(make_job(board=(29.0, 120.0), standard="europe"))
    assert europe["board-thickness"].demand == pytest.approx(7 * 4.2)
    assert (europe["board-thickness"].verdict, europe["board-thickness"].reason) == (
        Verdict.OK,
        "room-with-pilot-holes",
    )


def test_no_fixing_fits_is_a_finding_and_orders_nothing():
    job = make_job(board=(70.0, 120.0))
    fixings, checks = chosen(job)
    assert "board-joist" not in fixings
    assert checks["no-fixing-fits"].verdict is Verdict.FAILS
    assert not [o for o in price_job(job, make_shop(), make_built(job)).order if o.label == "N150"]


def test_plain_steel_outdoors_fails():
    _, checks = chosen(make_job(board=(50.0, 120.0), board_species="western_redcedar"))
    check = checks["fixing-metal"]
    assert (check.verdict, check.subject, check.reason) == (Verdict.FAILS, "board-joist", "wood-with-tannin")
    _, checks = chosen(make_job())
    assert checks["fixings-stainless"].verdict is Verdict.OK
    assert "fixing-metal" not in checks


def test_every_finding_can_be_said_in_both_languages():
    jobs = [
        make_job(),
        make_job(style="hung", joint="hanger", joist=(38.0, 140.0), standard="north-america", board=(60.0, 120.0)),
        make_job(style="stacked", joint="bearing", joist=(45.0, 105.0), size=(7000.0, 2710.0), direction_deg=45.0),
        make_job(joint="butt", post_joist="butt", joist=(36.0, 105.0), board=(30.0, 70.0), standard="europe"),
    ]
    for job in jobs:
        shop = make_shop(rates=(("whistle", 1.0),))
        for check in price_job(job, shop, make_built(job)).checks:
            for language in Language:
                assert Speaker(language).check(check)


def test_words_exist_for_every_code_of_an_estimate():
    speaker = Speaker()
    for style, joint in (("flush", "lap-over"), ("hung", "hanger"), ("stacked", "bearing")):
        job = make_job(style=style, joint=joint, joist=(45.0, 105.0))
        e = price_job(job, make_shop(), make_built(job))
        codes = [f"work.{w.task}" for w in e.work]
        codes += [f"fixing.{f.use}" for f in e.fixings] + [f"order.{o.kind}" for o in e.order]
        codes += [o.label for o in e.order if o.kind in ("coating", "footing", "hanger")]
        assert [code for code in codes if not speaker.knows(code)] == []


def test_a_floor_without_boards_on_joists_is_no_crash():
    job = make_job()
    built = make_built(job)
    bare = replace(built, layout=replace(built.layout, pieces=(), screws=0))
    assert {f.use: f for f in choose_fixings(job, make_shop(), bare).fixings}["board-joist"].count == 0
