"""The North American formulas at and past the ends of their ranges; their values stand in tests/reference/strength_us."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules.nds_2018 import beams, bearing, columns, loads, notches, sags, values

BENT = {"F_b": 6.9, "C_D": 1.0, "C_M": 0.85, "C_L": 1.0, "C_F": 1.3, "C_fu": 1.0, "C_i": 0.8, "C_r": 1.15}
PULLED = {"F_t": 4.0, "C_D": 1.0, "C_M": 1.0, "C_F": 1.3, "C_i": 0.8}
SHEARED = {"F_v": 1.2, "C_D": 1.0, "C_M": 0.97, "C_i": 0.8}
ACROSS = {"F_cp": 3.9, "C_M": 0.67, "C_i": 1.0, "C_b": 1.25}
ALONG = {"F_c": 9.3, "C_D": 1.0, "C_M": 0.8, "C_F": 1.1, "C_i": 0.8}
STUD = {"f_c": 1.0, "F_c": 5.0, "f_b": 3.0, "F_b": 8.0, "F_cE": 6.0}
OFF = {"f_c": 1.0, "F_c": 5.0, "e_over_d": 0.5, "F_b": 8.0, "F_cE": 6.0}

REFUSED = [
    *((values.bending, BENT, k, v) for k, v in (("F_b", 0.0), ("C_D", 0.89), ("C_D", 2.01), ("C_M", 0.0))),
    *((values.bending, BENT, k, v) for k, v in (("C_M", 1.01), ("C_L", 1.01), ("C_F", 1.51), ("C_F", 0.39))),
    *((values.bending, BENT, k, v) for k, v in (("C_fu", 0.99), ("C_fu", 1.21), ("C_i", 1.1), ("C_r", 1.16))),
    *((values.bending, BENT, k, v) for k, v in (("C_r", 0.99), ("C_L", 0.0), ("C_i", 0.0), ("F_b", math.nan))),
    *(
        (values.tension, PULLED, k, v)
        for k, v in (("F_t", -1.0), ("C_D", 0.8), ("C_M", 1.1), ("C_F", 1.51), ("C_i", 0))
    ),
    *((values.shear, SHEARED, k, v) for k, v in (("F_v", 0.0), ("C_D", 2.1), ("C_M", 1.1), ("C_i", 1.1))),
    *((values.across, ACROSS, k, v) for k, v in (("F_cp", 0.0), ("C_M", 1.1), ("C_i", 0.0), ("C_b", 0.99))),
    *((values.along, ALONG, k, v) for k, v in (("F_c", 0.0), ("C_D", 0.8), ("C_M", 0.0), ("C_F", 1.16), ("C_F", 0.5))),
    (values.along, ALONG, "C_i", 1.01),
    *((values.modulus, {"E": 9000.0, "C_M": 0.9, "C_i": 0.95}, k, v) for k, v in (("E", 0), ("C_M", 2), ("C_i", 0))),
    *((values.least_modulus, {"E": 9000.0, "cov": 0.25}, k, v) for k, v in (("E", 0.0), ("cov", 0.301), ("cov", -0.1))),
    (values.bent_modulus, {"E": 9000.0}, "E", -1.0),
    *((beams.section_modulus, {"b": 38.0, "d": 140.0}, k, 0.0) for k in "bd"),
    *((beams.bending_stress, {"M": 1.0, "S": 1.0}, k, -1.0) for k in "MS"),
    *((beams.shear_stress, {"V": 1.0, "b": 38.0, "d": 140.0}, k, -1.0) for k in "Vbd"),
    *(
        (rule, {"l_u": 900.0, "d": 140.0}, k, 0.0)
        for rule in (
            beams.length_even,
            beams.length_middle,
            beams.length_overhang_even,
            beams.length_overhang_tip,
        )
        for k in ("l_u", "d")
    ),
    *((beams.slenderness, {"l_e": 900.0, "d": 140.0, "b": 38.0}, k, 0.0) for k in ("l_e", "d", "b")),
    *((beams.critical_stress, {"E_min": 3000.0, "R_B": 20.0}, k, 0.0) for k in ("E_min", "R_B")),
    (beams.critical_stress, {"E_min": 3000.0, "R_B": 20.0}, "R_B", 50.1),
    *((beams.stability_factor, {"F_bE": 9.0, "F_b_star": 9.0}, k, 0.0) for k in ("F_bE", "F_b_star")),
    *((notches.pulled_area, {"b": 38.0, "d": 140.0, "d_n": 110.0}, k, 0.0) for k in ("b", "d_n")),
    (notches.pulled_area, {"b": 38.0, "d": 140.0, "d_n": 110.0}, "d_n", 140.1),
    *((notches.pressed_area, {"b": 38.0, "d": 140.0, "d_n": 110.0, "e": 5.0}, k, -1.0) for k in ("b", "d_n", "e")),
    (notches.pressed_area, {"b": 38.0, "d": 140.0, "d_n": 110.0, "e": 5.0}, "d_n", 141.0),
    *((notches.notched_shear, {"F_v": 1.0, "area": 100.0}, k, 0.0) for k in ("F_v", "area")),
    *((notches.deepest, {"d": 140.0, "b": 38.0, "is_end": False}, k, 0.0) for k in "db"),
    (notches.longest, {"d": 140.0, "is_end": False}, "d", 0.0),
    *((bearing.bearing_stress, {"R": 1.0, "b": 38.0, "l_b": 38.0}, k, -1.0) for k in ("R", "b", "l_b")),
    *((bearing.bearing_factor, {"l_b": 38.0, "beyond": 80.0}, k, -1.0) for k in ("l_b", "beyond")),
    *((columns.slenderness, {"l_e": 900.0, "d": 89.0}, k, 0.0) for k in ("l_e", "d")),
    *((columns.critical_stress, {"E_min": 3000.0, "slender": 20.0}, k, 0.0) for k in ("E_min", "slender")),
    *((columns.stability_factor, {"F_cE": 9.0, "F_c_star": 9.0, "c": 0.8}, k, 0.0) for k in ("F_cE", "F_c_star", "c")),
    (columns.stability_factor, {"F_cE": 9.0, "F_c_star": 9.0, "c": 0.8}, "c", 0.91),
    *(
        (columns.built_up_factor, {"C_P": 0.5, "K_f": 0.6}, k, v)
        for k, v in (("C_P", 0.0), ("C_P", 1.01), ("K_f", 0.59), ("K_f", 1.01))
    ),
    *((columns.pressed_and_bent, STUD, k, v) for k, v in (("f_c", -0.1), ("F_c", 0.0), ("f_b", -1.0), ("F_b", 0.0))),
    *((columns.pressed_beside, OFF, k, v) for k, v in (("e_over_d", 2.01), ("e_over_d", -0.1), ("F_cE", 0.0))),
    *(
        (sags.total_sag, {"lasting": 1.0, "passing": 1.0, "K_cr": 2.0}, k, v)
        for k, v in (("lasting", -1.0), ("passing", -1.0), ("K_cr", 1.4), ("K_cr", 2.01))
    ),
    *((sags.limit, {"L": 900.0, "share": 360.0}, k, 0.0) for k in ("L", "share")),
    *((sags.tip_sag, {"P": 1.0, "a": 300.0, "L": 900.0, "EI": 1e9}, k, -1.0) for k in ("P", "a", "L", "EI")),
    *((loads.snow_load, {"depth_m": 1.0}, "depth_m", v) for v in (-0.1, 10.1)),
    *((loads.live_and_snow, {"L": 1.0, "S": 1.0}, k, -1.0) for k in "LS"),
    *((loads.overhang_reaction, {"q": 1.0, "L": 900.0, "a": 300.0}, k, -1.0) for k in "qLa"),
]


@pytest.mark.parametrize(
    ("rule", "good", "name", "bad"), REFUSED, ids=lambda v: v if isinstance(v, str) else getattr(v, "__name__", "")
)
def test_an_argument_past_its_range_is_refused_by_name(rule, good, name, bad):
    rule(**good)
    with pytest.raises(OutOfRangeError) as refused:
        rule(**{**good, name: bad})
    assert refused.value.fault.code == "rule-range"
    assert refused.value.fault.where == name
    assert refused.value.fault.found.split()[0] == f"{bad:g}"


def test_the_ends_of_the_ranges_are_inside():
    assert values.bending(**{**BENT, "C_D": 0.9, "C_F": 0.4, "C_r": 1.0}) == pytest.approx(6.9 * 0.9 * 0.85 * 0.4 * 0.8)
    assert values.bending(**{**BENT, "C_D": 2.0, "C_F": 1.5, "C_fu": 1.2}) > values.bending(**BENT)
    assert values.tension(**{**PULLED, "C_D": 0.9, "C_F": 0.4}) == pytest.approx(4.0 * 0.9 * 0.4 * 0.8)
    assert values.tension(**{**PULLED, "C_D": 2.0, "C_F": 1.5}) == pytest.approx(4.0 * 2.0 * 1.5 * 0.8)
    assert values.shear(**{**SHEARED, "C_D": 0.9, "C_M": 1.0, "C_i": 1.0}) == pytest.approx(1.2 * 0.9)
    assert values.across(**{**ACROSS, "C_b": 1.0}) == pytest.approx(3.9 * 0.67)
    assert values.along(**{**ALONG, "C_F": 0.6}) == pytest.approx(9.3 * 0.8 * 0.6 * 0.8)
    assert values.along(**{**ALONG, "C_F": 1.15}) == pytest.approx(9.3 * 0.8 * 1.15 * 0.8)
    assert values.least_modulus(E=1660.0, cov=0.3) == pytest.approx(1030.0 * (1.0 - 0.4935))
    assert columns.built_up_factor(C_P=1.0, K_f=1.0) == 1.0
    assert columns.stability_factor(F_cE=1e9, F_c_star=1.0, c=0.9) == pytest.approx(1.0)
    assert columns.pressed_beside(**{**OFF, "e_over_d": 2.0}) > columns.pressed_beside(**OFF)
    assert sags.total_sag(lasting=2.0, passing=0.0, K_cr=1.5) == pytest.approx(3.0)
    assert sags.limit(L=900.0, share=1.0) == 900.0
    assert loads.snow_load(depth_m=10.0) > 0.0
    assert loads.overhang_reaction(q=2.0, L=1.0, a=0.0) == pytest.approx(1.0)
    assert beams.slenderness(l_e=2500.0, d=1.0, b=1.0) == 50.0


def test_a_beam_too_slender_is_refused():
    with pytest.raises(OutOfRangeError) as refused:
        beams.slenderness(l_e=9000.0, d=400.0, b=37.0)
    assert refused.value.fault.where == "R_B"


def test_a_post_pressed_to_its_critical_stress_is_refused():
    with pytest.raises(OutOfRangeError) as refused:
        columns.pressed_and_bent(**{**STUD, "f_c": 6.0})
    assert refused.value.fault.where == "F_cE - f_c"


@pytest.mark.parametrize(
    ("rule", "long", "short"),
    [
        (beams.length_even, 1.63, 2.06),
        (beams.length_middle, 1.37, 1.80),
        (beams.length_overhang_even, 0.90, 1.33),
        (beams.length_overhang_tip, 1.44, 1.87),
    ],
)
def test_the_effective_length_changes_its_form_at_seven_depths(rule, long, short):
    assert rule(l_u=70.0, d=10.0) == pytest.approx(long * 70.0 + 30.0, rel=1e-12)
    assert rule(l_u=70.5, d=10.0) == pytest.approx(long * 70.5 + 30.0, rel=1e-12)
    assert rule(l_u=69.5, d=10.0) == pytest.approx(short * 69.5, rel=1e-12)


def test_stability_factors_run_from_the_critical_stress_to_one():
    """Far on the slender side they are F_E / F, far on the stout side 1, as the equations' own limits say."""
    assert beams.stability_factor(F_bE=0.01, F_b_star=10.0) == pytest.approx(0.001, rel=0.01)
    assert beams.stability_factor(F_bE=1e6, F_b_star=10.0) == pytest.approx(1.0, rel=1e-3)
    assert columns.stability_factor(F_cE=0.01, F_c_star=10.0, c=0.8) == pytest.approx(0.001, rel=0.01)
    assert columns.stability_factor(F_cE=1e6, F_c_star=10.0, c=0.8) == pytest.approx(1.0, rel=1e-3)
    # At r = 1 the root has a closed form.
    assert beams.stability_factor(F_bE=8.0, F_b_star=8.0) == pytest.approx(
        2 / 1.9 - math.sqrt(4 / 1.9**2 - 1 / 0.95), rel=1e-9
    )


def test_a_notch_takes_what_the_equations_say_in_closed_form():
    cut = {"b": 38.0, "d": 140.0, "d_n": 112.0}
    assert notches.pulled_area(**cut) == pytest.approx(38.0 * 112.0 * 0.64, rel=1e-12)
    assert notches.pulled_area(b=38.0, d=140.0, d_n=140.0) == pytest.approx(38.0 * 140.0, rel=1e-12)
    assert notches.pressed_area(**cut, e=0.0) == pytest.approx(38.0 * 140.0, rel=1e-12)
    assert notches.pressed_area(**cut, e=56.0) == pytest.approx(38.0 * (140.0 - 14.0), rel=1e-12)
    assert notches.pressed_area(**cut, e=112.0) == pytest.approx(38.0 * 112.0, rel=1e-12)
    assert notches.pressed_area(**cut, e=500.0) == pytest.approx(38.0 * 112.0, rel=1e-12)


def test_thick_timber_is_not_notched_where_it_is_pulled_away_from_its_ends():
    assert notches.deepest(d=235.0, b=88.9, is_end=False) == 0.0
    assert notches.deepest(d=235.0, b=87.0, is_end=False) == pytest.approx(235.0 / 6.0, rel=1e-12)
    assert notches.deepest(d=235.0, b=88.9, is_end=True) == pytest.approx(235.0 / 4.0, rel=1e-12)
    assert notches.longest(d=235.0, is_end=True) == math.inf


def test_a_bearing_is_helped_only_when_short_and_away_from_the_end():
    assert bearing.bearing_factor(l_b=152.3, beyond=76.3) == pytest.approx(161.825 / 152.3, rel=1e-9)
    assert bearing.bearing_factor(l_b=152.4, beyond=76.3) == 1.0
    assert bearing.bearing_factor(l_b=152.3, beyond=76.1) == 1.0


def test_a_load_off_centre_adds_its_moment():
    """NDS 15.4.1 by hand: (1/5)2 + 1 x 3 x (1 + 0.234/6) / (8 x (1 - 1/6))."""
    assert columns.pressed_beside(**OFF) == pytest.approx(0.04 + 3.0 * 1.039 / (8.0 * 5.0 / 6.0), rel=1e-9)
    assert columns.pressed_beside(**{**OFF, "e_over_d": 0.0}) == pytest.approx(0.04, rel=1e-12)


def test_sag_that_lasts_counts_by_its_creep_and_tips_bend_by_the_beam_formula():
    assert sags.total_sag(lasting=2.5, passing=4.0, K_cr=2.0) == pytest.approx(9.0, rel=1e-12)
    assert sags.tip_sag(P=1000.0, a=600.0, L=1800.0, EI=5e10) == pytest.approx(1000 * 600**2 * 2400 / 1.5e11, rel=1e-12)


def test_snow_grows_heavier_with_depth_until_its_density_stops():
    """p_g = 14 h / (1 - 0.13 h) with h in feet until 0.13 p_g + 14 reaches 30, which is at p_g = 123.1 lb/ft2."""
    edge = 123.0769 / 30.0 * 0.3048
    below, above_ = loads.snow_load(depth_m=edge * 0.999), loads.snow_load(depth_m=edge * 1.001)
    assert above_ / below == pytest.approx(1.002, abs=0.003)
    assert loads.snow_load(depth_m=0.0) == 0.0
    assert loads.snow_load(depth_m=4.0) == pytest.approx(2.0 * loads.snow_load(depth_m=2.0), rel=1e-12)
    assert loads.live_and_snow(L=40.0, S=20.0) == 45.0
