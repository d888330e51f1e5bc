"""Where the rules for nails and screws begin and end."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules import ec5_fasteners, fasteners, jp_fasteners, nds_fasteners

EC5 = [
    ec5_fasteners.spacing_along,
    ec5_fasteners.spacing_across,
    ec5_fasteners.end_loaded,
    ec5_fasteners.end_unloaded,
    ec5_fasteners.edge_unloaded,
]


def refused(call, where: str, found: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        call()
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found) == (where, "rule-range", found)


@pytest.mark.parametrize("rule", EC5)
def test_dense_timber_is_refused_unless_bored(rule):
    refused(lambda: rule(d=4.2, rho_k=500.5, is_predrilled=False), "rho_k", "500.5 kg/m3")
    assert rule(d=4.2, rho_k=1070.0, is_predrilled=True) > 0
    assert rule(d=4.2, rho_k=500.0, is_predrilled=False) > 0


@pytest.mark.parametrize("rule", EC5)
def test_thick_and_thin_diameters_are_refused(rule):
    refused(lambda: rule(d=8.5, rho_k=350.0, is_predrilled=True), "d", "8.5 mm")
    refused(lambda: rule(d=0.5, rho_k=350.0, is_predrilled=True), "d", "0.5 mm")


@pytest.mark.parametrize("rule", EC5)
def test_boring_never_asks_for_more_room_and_dense_wood_never_for_less(rule):
    bored = rule(d=4.3, rho_k=410.0, is_predrilled=True)
    light = rule(d=4.3, rho_k=420.0, is_predrilled=False)
    heavy = rule(d=4.3, rho_k=420.1, is_predrilled=False)
    assert bored < light < heavy


@pytest.mark.parametrize(
    ("d", "alpha", "bored", "expected"),
    [
        (4.9, 90.0, False, 7 * 4.9),
        (5.0, 90.0, False, 10 * 5.0),
        (4.9, -90.0, True, 5 * 4.9),
        (5.0, 90.0, True, 7 * 5.0),
        (4.9, 0.0, False, 5 * 4.9),
    ],
)
def test_a_loaded_edge_jumps_at_five_millimetres(d, alpha, bored, expected):
    got = ec5_fasteners.edge_loaded(d=d, rho_k=350.0, is_predrilled=bored, alpha=math.radians(alpha))
    assert got == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("d", "bored", "rho", "expected"), [(4.9, False, 350.0, 10), (5.0, False, 350.0, 12), (5.0, False, 470.0, 15)]
)
def test_spacing_along_the_grain_jumps_at_five_millimetres(d, bored, rho, expected):
    got = ec5_fasteners.spacing_along(d=d, rho_k=rho, is_predrilled=bored)
    assert got == pytest.approx(expected * d, rel=1e-12)


def test_an_angle_past_half_a_turn_is_refused():
    refused(lambda: ec5_fasteners.spacing_along(d=4.0, rho_k=350.0, is_predrilled=True, alpha=4.0), "alpha", "4 rad")


def test_thick_nails_in_dense_wood_need_the_second_expression():
    assert ec5_fasteners.thickness_bare(d=4.0, rho_k=500.0) == pytest.approx(28.0)
    assert ec5_fasteners.thickness_bare(d=6.0, rho_k=500.0) == pytest.approx((13 * 6 - 30) * 500 / 400)
    refused(lambda: ec5_fasteners.thickness_bare(d=4.0, rho_k=50.0), "rho_k", "50 kg/m3")


def test_a_nail_that_goes_in_less_than_eight_shanks_holds_nothing():
    given = {"d": 3.4, "d_h": 7.9, "t": 30.0, "rho_k": 350.0}
    assert ec5_fasteners.nail_withdrawal(t_pen=8 * 3.4, **given) == pytest.approx(0.0, abs=1e-9)
    assert ec5_fasteners.nail_withdrawal(t_pen=8.1 * 3.4, **given) > 0
    full = ec5_fasteners.nail_withdrawal(t_pen=12 * 3.4, **given)
    assert full == pytest.approx(20e-6 * 350**2 * 3.4 * 12 * 3.4)


def test_the_head_pulls_through_a_thin_board_first():
    short = ec5_fasteners.nail_withdrawal(d=3.4, d_h=5.0, t_pen=90.0, t=10.0, rho_k=350.0)
    assert short == pytest.approx(20e-6 * 350**2 * 3.4 * 10 + 70e-6 * 350**2 * 25)


def test_screws_outside_six_to_twelve_millimetres_are_refused():
    refused(lambda: ec5_fasteners.screw_withdrawal(d=5.9, l_ef=40.0, rho_k=350.0, alpha=math.pi / 2), "d", "5.9 mm")
    steep = ec5_fasteners.screw_withdrawal(d=6.0, l_ef=40.0, rho_k=350.0, alpha=math.pi / 2)
    assert ec5_fasteners.screw_withdrawal(d=6.0, l_ef=40.0, rho_k=350.0, alpha=math.radians(30)) < steep
    refused(lambda: ec5_fasteners.screw_withdrawal(d=6.0, l_ef=40.0, rho_k=350.0, alpha=0.5), "alpha", "0.5 rad")


@pytest.mark.parametrize(
    ("rule", "factor"),
    [
        (jp_fasteners.spacing_along, 12),
        (jp_fasteners.end_along, 15),
        (jp_fasteners.row_along, 5),
        (jp_fasteners.edge_along, 5),
        (jp_fasteners.spacing_across, 8),
        (jp_fasteners.edge_across, 8),
        (jp_fasteners.fibre_across, 10),
        (jp_fasteners.end_across, 10),
        (jp_fasteners.thickness, 6),
        (nds_fasteners.edge, 2.5),
        (nds_fasteners.end_loaded, 15),
        (nds_fasteners.end_unloaded, 10),
        (nds_fasteners.spacing_along, 15),
        (nds_fasteners.spacing_across, 5),
    ],
)
def test_distances_count_in_shanks(rule, factor):
    assert rule(d=3.75) == pytest.approx(factor * 3.75, rel=1e-12)
    refused(lambda: rule(d=0.9), "d", "0.9 mm")


@pytest.mark.parametrize(("g", "share"), [(0.6, 0.75), (0.61, 0.90)])
def test_a_bore_may_be_wider_in_dense_wood(g, share):
    assert nds_fasteners.bore_max(d=4.0, g=g) == pytest.approx(share * 4.0)
    refused(lambda: nds_fasteners.bore_max(d=4.0, g=1.5), "g", "1.5")


def test_ring_nails_and_screws_hold_what_their_equations_say():
    assert nds_fasteners.ring_nail_withdrawal(d=3.0, length=40.0, g=0.5) == pytest.approx(12.41 * 0.25 * 120, rel=5e-4)
    assert nds_fasteners.screw_withdrawal(d=4.2, length=30.0, g=0.42) == pytest.approx(19.65 * 0.42**2 * 126, rel=5e-4)
    refused(lambda: nds_fasteners.screw_withdrawal(d=4.2, length=-1.0, g=0.42), "length", "-1 mm")
    assert nds_fasteners.bored_share() == pytest.approx(2 / 3)


@pytest.mark.parametrize(
    ("d", "ratio", "hole"), [(4.2, 0.65, 2.7), (4.5, 0.65, 2.9), (5.5, 0.75, 4.1), (4.2, 0.0, 0.0)]
)
def test_pilot_holes_are_drill_sizes(d, ratio, hole):
    assert fasteners.pilot_diameter(d=d, ratio=ratio) == pytest.approx(hole)
    refused(lambda: fasteners.pilot_diameter(d=d, ratio=1.1), "ratio", "1.1")


@pytest.mark.parametrize(
    ("board", "needed"), [(19.0, 39.0), (20.0, 40.0), (30.0, 60.0), (15.0, 35.0), (12.0, 12 + 6 * 4.2)]
)
def test_a_board_screw_is_twice_the_board_and_deep_in_the_joist(board, needed):
    got = fasteners.board_screw_length(board=board, d=4.2, times=2.0, into_joist=20.0, into_joist_d=6.0)
    assert got == pytest.approx(max(needed, board + 6 * 4.2))


def test_a_board_nail_is_two_and_a_half_boards():
    assert fasteners.board_nail_length(board=36.0, times=2.5) == 90.0


def test_a_slanting_screw_reaches_as_far_as_geometry_says():
    """75 mm at 30 degrees, begun a third of its length from the joint: 75 (cos 30 - 1/3) past it, 37.5 mm in."""
    assert fasteners.skew_penetration(length=75.0, angle=math.pi / 6, start=1 / 3) == pytest.approx(
        75 * math.sqrt(3) / 2 - 25
    )
    assert fasteners.skew_reach(length=75.0, angle=math.pi / 6) == pytest.approx(37.5)
