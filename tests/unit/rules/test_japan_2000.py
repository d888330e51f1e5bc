"""The Japanese formulas at and past the ends of their ranges; their values stand in tests/reference/strength_jp."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules import one_span
from evenfoot.rules.japan_2000 import beams, bearing, columns, loads, sections, stresses

REFUSED = [
    (stresses.allowable_stress, {"F": 0.0, "n": 1.1, "K_m": 0.7}, "F", "0"),
    (stresses.allowable_stress, {"F": 22.2, "n": 1.09, "K_m": 0.7}, "n", "1.09"),
    (stresses.allowable_stress, {"F": 22.2, "n": 2.01, "K_m": 0.7}, "n", "2.01"),
    (stresses.allowable_stress, {"F": 22.2, "n": 1.1, "K_m": 0.0}, "K_m", "0"),
    (stresses.allowable_stress, {"F": 22.2, "n": 1.1, "K_m": 1.01}, "K_m", "1.01"),
    (stresses.allowable_stress, {"F": math.nan, "n": 1.1, "K_m": 0.7}, "F", "nan"),
    (stresses.allowable_bearing, {"F_cv": 6.0, "n": 1.1, "K_m": 0.7, "alpha_end": 0.79}, "alpha_end", "0.79"),
    (sections.area, {"b": -105.0, "h": 105.0}, "b", "-105"),
    (sections.section_modulus, {"b": 105.0, "h": 0.0}, "h", "0"),
    (sections.second_moment, {"b": math.inf, "h": 90.0}, "b", "inf"),
    (sections.notched_modulus_compression, {"b": 105.0, "h": 105.0, "n": 105.0}, "h - n", "0"),
    (sections.notched_modulus_compression, {"b": 105.0, "h": 105.0, "n": -1.0}, "n", "-1"),
    (sections.notched_modulus_tension, {"b": 105.0, "h": 105.0, "n": 35.01}, "n", "35.01"),
    (sections.notched_area_compression, {"b": 105.0, "h": 105.0, "n": 106.0}, "h - n", "-1"),
    (sections.notched_area_tension, {"b": 105.0, "h": 120.0, "n": 40.1}, "n", "40.1"),
    (beams.bending_stress, {"M": -1.0, "Z_e": 1.0}, "M", "-1"),
    (beams.bending_stress, {"M": 1.0, "Z_e": 0.0}, "Z_e", "0"),
    (beams.shear_stress, {"Q": -1.0, "A_e": 1.0}, "Q", "-1"),
    (beams.shear_stress, {"Q": 1.0, "A_e": 0.0}, "A_e", "0"),
    (beams.sag_limit, {"L": 0.0, "share": 250.0, "creep": 2.0}, "L", "0"),
    (beams.sag_limit, {"L": 910.0, "share": 0.9, "creep": 2.0}, "share", "0.9"),
    (beams.sag_limit, {"L": 910.0, "share": 250.0, "creep": 0.9}, "creep", "0.9"),
    (beams.is_sag_exempt, {"h": 0.0, "L": 910.0, "ratio": 12.0}, "h", "0"),
    (beams.is_sag_exempt, {"h": 90.0, "L": 0.0, "ratio": 12.0}, "L", "0"),
    (beams.is_sag_exempt, {"h": 90.0, "L": 910.0, "ratio": 0.5}, "ratio", "0.5"),
    (columns.radius_of_gyration, {"b": 0.0, "h": 90.0}, "b", "0"),
    (columns.radius_of_gyration, {"b": 90.0, "h": -1.0}, "h", "-1"),
    (columns.slenderness, {"l_k": 0.0, "i": 30.3}, "l_k", "0"),
    (columns.slenderness, {"l_k": 400.0, "i": 0.0}, "i", "0"),
    (columns.buckling_factor, {"lambda_": 0.0}, "lambda_", "0"),
    (columns.column_stress, {"N": -1.0, "A": 11025.0}, "N", "-1"),
    (columns.column_stress, {"N": 1.0, "A": 0.0}, "A", "0"),
    (columns.allowable_column_stress, {"eta": 1.1, "f_c": 5.3}, "eta", "1.1"),
    (columns.allowable_column_stress, {"eta": 0.0, "f_c": 5.3}, "eta", "0"),
    (columns.allowable_column_stress, {"eta": 1.0, "f_c": 0.0}, "f_c", "0"),
    (bearing.bearing_stress, {"N": -1.0, "A_b": 1.0}, "N", "-1"),
    (bearing.bearing_stress, {"N": 1.0, "A_b": 0.0}, "A_b", "0"),
    (bearing.is_end_bearing, {"beyond": -1.0, "h": 105.0, "reach": 1.0}, "beyond", "-1"),
    (bearing.is_end_bearing, {"beyond": 1.0, "h": 0.0, "reach": 1.0}, "h", "0"),
    (bearing.is_end_bearing, {"beyond": 1.0, "h": 105.0, "reach": 0.0}, "reach", "0"),
    (bearing.wood_under_seat, {"N": -1.0, "least": 30.0, "heavy": 60.0, "N_heavy": 4000.0}, "N", "-1"),
    (bearing.wood_under_seat, {"N": 1.0, "least": 0.0, "heavy": 60.0, "N_heavy": 4000.0}, "least", "0"),
    (bearing.wood_under_seat, {"N": 1.0, "least": 30.0, "heavy": 29.0, "N_heavy": 4000.0}, "heavy", "29"),
    (bearing.wood_under_seat, {"N": 1.0, "least": 30.0, "heavy": 60.0, "N_heavy": 0.0}, "N_heavy", "0"),
    (loads.snow_load, {"d": -1.0, "rho": 20.0}, "d", "-1"),
    (loads.snow_load, {"d": 30.0, "rho": 19.0}, "rho", "19"),
    (loads.snow_sum, {"P": -1.0, "S": 600.0, "share": 1.0}, "P", "-1"),
    (loads.snow_sum, {"P": 1300.0, "S": -1.0, "share": 1.0}, "S", "-1"),
    (loads.snow_sum, {"P": 1300.0, "S": 600.0, "share": 0.0}, "share", "0"),
    (loads.snow_sum, {"P": 1300.0, "S": 600.0, "share": 1.1}, "share", "1.1"),
    (columns.pressed_and_bent, {"sigma_c": -1.0, "f_k": 1.0, "sigma_b": 1.0, "f_b": 1.0}, "sigma_c", "-1"),
    (columns.pressed_and_bent, {"sigma_c": 1.0, "f_k": 0.0, "sigma_b": 1.0, "f_b": 1.0}, "f_k", "0"),
    (columns.pressed_and_bent, {"sigma_c": 1.0, "f_k": 1.0, "sigma_b": -1.0, "f_b": 1.0}, "sigma_b", "-1"),
    (columns.pressed_and_bent, {"sigma_c": 1.0, "f_k": 1.0, "sigma_b": 1.0, "f_b": 0.0}, "f_b", "0"),
    (beams.pulled_and_bent, {"sigma_t": -1.0, "f_t": 1.0, "sigma_b": 1.0, "f_b": 1.0}, "sigma_t", "-1"),
    (beams.pulled_and_bent, {"sigma_t": 1.0, "f_t": 0.0, "sigma_b": 1.0, "f_b": 1.0}, "f_t", "0"),
    (beams.pulled_and_bent, {"sigma_t": 1.0, "f_t": 1.0, "sigma_b": -1.0, "f_b": 1.0}, "sigma_b", "-1"),
    (beams.pulled_and_bent, {"sigma_t": 1.0, "f_t": 1.0, "sigma_b": 1.0, "f_b": 0.0}, "f_b", "0"),
    (bearing.slanting_strength, {"f_c": 1.0, "f_cv": 0.0, "angle_deg": 20.0}, "f_cv", "0"),
    (bearing.slanting_strength, {"f_c": 0.9, "f_cv": 1.0, "angle_deg": 20.0}, "f_c", "0.9"),
    (bearing.slanting_strength, {"f_c": 2.0, "f_cv": 1.0, "angle_deg": 91.0}, "angle_deg", "91"),
    (stresses.shared_bending, {"F_b": 0.0, "share": 1.15}, "F_b", "0"),
    (stresses.shared_bending, {"F_b": 22.2, "share": 1.26}, "share", "1.26"),
    (stresses.size_factor, {"h": 0.0}, "h", "0"),
    (loads.slope_factor, {"beta_deg": 90.1}, "beta_deg", "90.1"),
    (one_span.middle_sag, {"P": -1.0, "L": 910.0, "EI": 1e10, "GA": 1e6}, "P", "-1 N"),
    (one_span.middle_sag, {"P": 1.0, "L": 910.0, "EI": 0.0, "GA": 1e6}, "EI", "0 N mm2"),
    (one_span.middle_sag, {"P": 1.0, "L": 910.0, "EI": 1e10, "GA": 0.0}, "GA", "0 N"),
    (one_span.middle_moment, {"w": -1.0, "P": 0.0, "L": 910.0}, "w", "-1 N/mm"),
    (one_span.middle_moment, {"w": 1.0, "P": -1.0, "L": 910.0}, "P", "-1 N"),
    (one_span.end_shear, {"w": 1.0, "P": 0.0, "L": 0.5}, "L", "0.5 mm"),
    (one_span.overhang_moment, {"w": 1.0, "P": 0.0, "a": -1.0}, "a", "-1 mm"),
    (one_span.even_sag, {"w": 1.0, "L": 910.0, "EI": 0.0, "GA": 1e6}, "EI", "0 N mm2"),
    (one_span.even_sag, {"w": 1.0, "L": 910.0, "EI": 1e10, "GA": 0.0}, "GA", "0 N"),
]


@pytest.mark.parametrize(("rule", "given", "where", "found"), REFUSED, ids=lambda v: getattr(v, "__name__", None))
def test_an_argument_out_of_range_is_refused_by_name(rule, given, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        rule(**given)
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found) == (where, "rule-range", found)


def test_the_ends_of_the_ranges_are_inside():
    assert stresses.allowable_stress(F=3.0, n=1.1, K_m=1.0) == pytest.approx(1.1, rel=1e-12)
    assert stresses.allowable_stress(F=3.0, n=2.0, K_m=1.0) == pytest.approx(2.0, rel=1e-12)
    assert stresses.allowable_bearing(F_cv=3.0, n=2.0, K_m=1.0, alpha_end=1.0) == pytest.approx(2.0, rel=1e-12)
    assert stresses.allowable_bearing(F_cv=3.0, n=2.0, K_m=1.0, alpha_end=0.8) == pytest.approx(1.6, rel=1e-12)
    assert beams.sag_limit(L=910.0, share=1.0, creep=1.0) == 910.0
    assert beams.is_sag_exempt(h=91.0, L=90.0, ratio=1.0)
    assert columns.allowable_column_stress(eta=1.0, f_c=5.0) == 5.0
    assert loads.snow_sum(P=1.0, S=2.0, share=1.0) == 3.0
    assert loads.snow_load(d=0.0, rho=20.0) == 0.0
    assert one_span.middle_moment(w=8.0, P=0.0, L=1.0) == pytest.approx(1.0)
    assert one_span.overhang_moment(w=1.0, P=1.0, a=0.0) == 0.0
    assert one_span.even_sag(w=0.0, L=1.0, EI=1.0, GA=1.0) == 0.0


@pytest.mark.parametrize(
    ("call", "found"),
    [
        (lambda: stresses.allowable_bearing(F_cv=6.0, n=2.0, K_m=1.0, alpha_end=1.01), "1.01"),
        (lambda: columns.allowable_column_stress(eta=1.01, f_c=5.0), "1.01"),
        (lambda: loads.snow_sum(P=1.0, S=1.0, share=1.01), "1.01"),
        (lambda: beams.sag_limit(L=910.0, share=0.99, creep=1.0), "0.99"),
        (lambda: one_span.middle_moment(w=1.0, P=0.0, L=0.99), "0.99 mm"),
    ],
)
def test_just_past_the_ends_is_outside(call, found):
    with pytest.raises(OutOfRangeError) as caught:
        call()
    assert caught.value.fault.found == found


def test_notches_are_allowed_to_a_third_exactly():
    assert sections.notched_modulus_tension(b=105.0, h=105.0, n=35.0) > 0.0
    assert sections.notched_area_tension(b=105.0, h=105.0, n=35.0) > 0.0


def test_buckling_rows_meet_each_other():
    assert columns.buckling_factor(lambda_=30.0) == 1.0
    assert columns.buckling_factor(lambda_=30.0001) == pytest.approx(1.0, abs=1e-5)
    assert columns.buckling_factor(lambda_=100.0) == pytest.approx(0.3, rel=1e-12)
    assert columns.buckling_factor(lambda_=100.0001) == pytest.approx(0.3, abs=1e-5)
    assert columns.buckling_factor(lambda_=30.4) == pytest.approx(0.996, rel=1e-12)
    assert columns.buckling_factor(lambda_=101.0) == pytest.approx(3000.0 / 10201.0, rel=1e-12)
    assert columns.buckling_factor(lambda_=150.0) == pytest.approx(3000.0 / 22500.0, rel=1e-12)


def test_the_twelfth_of_the_span_is_still_to_be_checked():
    assert not beams.is_sag_exempt(h=100.0, L=1200.0, ratio=12.0)
    assert beams.is_sag_exempt(h=100.1, L=1200.0, ratio=12.0)


def test_snow_weighs_by_depth_and_adds_to_the_live_load():
    assert loads.snow_load(d=37.0, rho=20.0) == pytest.approx(740.0, rel=1e-12)
    assert loads.snow_sum(P=1300.0, S=4500.0, share=0.7) == pytest.approx(4450.0, rel=1e-12)


def test_spans_are_those_of_statics():
    w, length, ei, ga = 0.77, 1130.0, 6.3e9, 2.1e6
    assert one_span.middle_moment(w=w, P=913.0, L=length) == pytest.approx(w * length**2 / 8 + 913.0 * length / 4)
    assert one_span.end_shear(w=w, P=913.0, L=length) == pytest.approx(w * length / 2 + 913.0)
    assert one_span.overhang_moment(w=w, P=80.0, a=310.0) == pytest.approx(w * 310.0**2 / 2 + 80.0 * 310.0)
    shear = 1.2 * w * length**2 / (8 * ga)
    bending = 5 * w * length**4 / (384 * ei)
    assert one_span.even_sag(w=w, L=length, EI=ei, GA=ga) == pytest.approx(bending + shear, rel=1e-12)


def test_a_roof_keeps_no_snow_from_sixty_degrees_and_a_shallow_beam_loses_nothing():
    assert loads.slope_factor(beta_deg=60.1) == 0.0
    assert loads.slope_factor(beta_deg=90.0) == 0.0
    assert stresses.size_factor(h=300.0) == 1.0
    assert stresses.size_factor(h=299.0) == 1.0
    assert bearing.slanting_strength(f_c=5.0, f_cv=1.4, angle_deg=0.0) == 5.0
    assert bearing.slanting_strength(f_c=5.0, f_cv=1.4, angle_deg=90.0) == pytest.approx(1.4, rel=1e-12)


def test_a_load_at_mid_span_bends_and_shears():
    length, ei, ga = 1130.0, 6.3e9, 2.1e6
    found = one_span.middle_sag(P=913.0, L=length, EI=ei, GA=ga)
    assert found == pytest.approx(913.0 * length**3 / 48 / ei + 1.2 * 913.0 * length / 4 / ga, rel=1e-12)
