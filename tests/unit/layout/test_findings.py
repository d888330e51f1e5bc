"""What is said about a layout, in which verdict, and that both languages can say it."""

from pathlib import Path
from runpy import run_path
from types import SimpleNamespace

import pytest

from evenfoot.checks import Verdict
from evenfoot.job.kinds import Closing
from evenfoot.layout import lay_boards
from evenfoot.words import Language, Speaker

floors = SimpleNamespace(**run_path(str(Path(__file__).with_name("floors.py"))))


def lay(outline, *lengths, **changes):
    return lay_boards(floors.job(outline, **changes), floors.yard(*lengths))


def only(layout, rule):
    (check,) = [c for c in layout.checks if c.rule == rule]
    return check


def has(layout, rule):
    return any(c.rule == rule for c in layout.checks)


FLOORS = {
    "plain": lambda: lay(floors.rectangle(4000.0, 3000.0), 4000.0),
    "gap": lambda: lay(floors.rectangle(4000.0, 500.0), 4000.0, gap_max=6.0),
    "rip": lambda: lay(
        floors.rectangle(4000.0, 460.0), 4000.0, closing=Closing.RIP_LAST, gap_min=4.9, gap_max=5.1, rip_min=70.0
    ),
    "out": lambda: lay(floors.rectangle(4000.0, 1500.0), 4000.0, closing=Closing.MOVE_OUTLINE),
    "in": lambda: lay(floors.rectangle(4000.0, 1560.0), 4000.0, closing=Closing.MOVE_OUTLINE),
    "fixed": lambda: lay(floors.rectangle(4000.0, 1560.0), 6000.0, closing=Closing.MOVE_OUTLINE, direction_deg=45.0),
    "narrow": lambda: lay(floors.rectangle(4000.0, 460.0), 4000.0, closing=Closing.RIP_LAST, rip_min=10.0),
    "one": lambda: lay(
        floors.rectangle(4000.0, 40.0), 4000.0, closing=Closing.RIP_LAST, rip_min=10.0, overhang=(0.0, 0.0, 30.0, 30.0)
    ),
    "unstocked": lambda: lay(floors.rectangle(4000.0, 3000.0)),
    "beyond": lambda: lay(floors.rectangle(4000.0, 3000.0), 400.0),
    "missed": lambda: lay(floors.rectangle(4050.0, 3000.0), 4000.0, 5000.0),
    "joined": lambda: lay(floors.rectangle(7000.0, 3000.0), 4000.0),
    "in line": lambda: lay(floors.rectangle(4000.0, 3000.0), 2100.0, spacing_max=2000.0),
    "off": lambda: lay(floors.rectangle(4000.0, 3000.0), 4000.0, overhang=(0.0, 60.0, 40.0, 10.0)),
    "angled": lambda: lay(floors.rectangle(4000.0, 3000.0), 2000.0, direction_deg=45.0),
}


@pytest.mark.parametrize("name", FLOORS)
@pytest.mark.parametrize("language", Language)
def test_every_finding_can_be_said(name, language):
    speaker = Speaker(language, "mm")
    for check in FLOORS[name]().checks:
        assert speaker.check(check).strip()


def test_a_closed_run_tells_rows_gap_and_wish():
    check = only(FLOORS["plain"](), "boards-close")
    assert check.verdict is Verdict.OK
    assert (check.fact("rows"), check.fact("wish_mm")) == (27, 5.0)
    assert check.demand == pytest.approx(165.0 / 26)


def test_a_gap_that_does_not_close_fails_with_what_would_close():
    layout = FLOORS["gap"]()
    check = only(layout, "gap-does-not-close")
    assert check.verdict is Verdict.FAILS
    assert (check.demand, check.capacity) == (pytest.approx(80.0 / 3), 6.0)
    whole = [
        (c.rule, c.fact("count"), c.fact("shortest_mm"), c.fact("longest_mm"))
        for c in layout.checks
        if "count" in dict(c.facts)
    ]
    assert whole == [
        ("whole-boards-close", 3, 321.0, 327.0),
        ("whole-boards-close", 4, 429.0, 438.0),
        ("whole-boards-too-wide", 5, 537.0, 549.0),
    ]


def test_a_rip_too_narrow_fails_with_what_the_edges_could_share():
    check = only(FLOORS["rip"](), "rip-too-narrow")
    assert check.verdict is Verdict.FAILS
    assert (check.demand, check.capacity) == (70.0, pytest.approx(20.0))
    assert check.fact("shared_mm") == pytest.approx(62.5)


@pytest.mark.parametrize(("depth", "is_warned"), [(4 * 110.0 + 52.4, True), (4 * 110.0 + 52.5, False)])
def test_an_edge_board_under_half_a_board_is_warned_of(depth, is_warned):
    layout = lay(floors.rectangle(4000.0, depth), 4000.0, closing=Closing.RIP_LAST, rip_min=10.0)
    assert has(layout, "edge-board-narrow") is is_warned


def test_a_sliver_at_the_house_is_told_with_the_gap_that_avoids_it():
    check = only(FLOORS["narrow"](), "edge-board-narrow")
    assert check.verdict is Verdict.OUTSIDE_RULE
    assert (check.fact("row"), check.fact("width_mm")) == (5, pytest.approx(20.0))
    assert (check.fact("count"), check.fact("gap_mm")) == (4, pytest.approx(40.0 / 3))
    assert check.fact("shared_mm") == pytest.approx(62.5)


def test_drift_is_told_unconfirmed_from_ten_rows_on():
    check = only(FLOORS["plain"](), "board-drift")
    assert check.demand == pytest.approx(27 * 25.4 / 16)
    assert not check.confirmed
    assert check.fact("at_row") == 22
    assert not has(lay(floors.rectangle(4000.0, 9 * 105.0 + 8 * 5.0), 4000.0), "board-drift")
    assert has(lay(floors.rectangle(4000.0, 10 * 105.0 + 9 * 5.0), 4000.0), "board-drift")


@pytest.mark.parametrize(("reach", "is_usual"), [(19.9, False), (20.0, True), (32.0, True), (32.1, False)])
def test_board_ends_past_the_frame_are_held_against_what_is_usual(reach, is_usual):
    layout = lay(floors.rectangle(4000.0, 3000.0), 4000.0, overhang=(0.0, 0.0, 25.0, reach))
    (check,) = [c for c in layout.checks if c.rule.startswith("board-end") and c.fact("side_code") == "side.right"]
    assert check.verdict is (Verdict.OK if is_usual else Verdict.OUTSIDE_RULE)
    assert check.confirmed


def test_board_ends_at_the_wall_may_be_short():
    layout = lay(floors.rectangle(4000.0, 3000.0), 4000.0, direction_deg=90.0, overhang=(0.0, 25.0, 0.0, 0.0))
    assert [c.verdict for c in layout.checks if c.rule.startswith("board-end")] == [Verdict.OK, Verdict.OK]


@pytest.mark.parametrize(("reach", "is_off"), [(52.5, False), (52.6, True)])
def test_an_edge_board_more_than_half_past_the_joists_fails(reach, is_off):
    layout = lay(floors.rectangle(4000.0, 3000.0), 4000.0, overhang=(0.0, reach, 25.0, 25.0))
    assert has(layout, "edge-board-off-frame") is is_off


def test_boards_that_are_not_stocked_fail_with_what_is_needed():
    layout = FLOORS["unstocked"]()
    check = only(layout, "boards-not-stocked")
    assert check.verdict is Verdict.FAILS
    assert check.demand == 4000.0
    assert len(layout.pieces) == 27
    need = check.fact("need_mm")
    short = {"boards-beyond-stock", "joints-in-line"}
    assert not short & {c.rule for c in lay(floors.rectangle(4000.0, 3000.0), need).checks}
    assert short & {c.rule for c in lay(floors.rectangle(4000.0, 3000.0), need - 0.1).checks}


def test_boards_that_no_joist_can_join_fail_and_stay_whole():
    layout = FLOORS["beyond"]()
    check = only(layout, "boards-beyond-stock")
    assert (check.verdict, check.capacity) == (Verdict.FAILS, 400.0)
    assert {piece.length for piece in layout.pieces} == {4000.0}


@pytest.mark.parametrize(("length", "is_told"), [(4210.0, True), (4211.0, False)])
def test_stock_missed_by_a_twentieth_is_told(length, is_told):
    layout = lay(floors.rectangle(length, 3000.0), 4000.0, 5000.0)
    assert has(layout, "stock-just-missed") is is_told


def test_joints_in_line_fail():
    check = only(FLOORS["in line"](), "joints-in-line")
    assert check.verdict is Verdict.FAILS
    assert (check.fact("rows"), check.fact("row")) == (26, 2)


def test_staggered_joints_are_told_and_counted():
    check = only(FLOORS["joined"](), "joints-staggered")
    assert (check.verdict, check.fact("joints")) == (Verdict.OK, 27)


def test_corner_pieces_on_one_joist_are_named():
    layout = FLOORS["angled"]()
    check = only(layout, "pieces-on-one-joist")
    assert check.verdict is Verdict.OUTSIDE_RULE
    named = str(check.fact("marks")).split(", ")
    assert check.subject == named[0] == "b1.1"


def test_scraps_are_left_out_and_told():
    """At the house a lip 3 mm long reaches 4 mm further in: one gap and a strip of 1 mm, 3 mm2."""
    lip = ((0.0, -4.0), (3.0, -4.0), (3.0, 0.0), (4000.0, 0.0), (4000.0, 1509.0), (0.0, 1509.0))
    layout = lay(lip, 4000.0, gap=3.0, gap_min=3.0, gap_max=3.0, closing=Closing.RIP_LAST, rip_min=0.5)
    check = only(layout, "scraps-left-out")
    assert (check.fact("count"), check.demand) == (1, pytest.approx(3.0))
    assert layout.counts.pieces == 14
    assert Speaker().check(check)
