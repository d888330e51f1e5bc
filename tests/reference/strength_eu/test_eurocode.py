"""Published figures of Eurocode 5 and EN 338 against the public rule functions, and both sides of every limit."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import load

from evenfoot.errors import OutOfRangeError
from evenfoot.rules.ec5_2004 import actions, bearing, bending, columns, deflection, shear, strength, vibration
from evenfoot.tables import strength_eu
from evenfoot.tables.figures import read_figures, read_rows

verified = load(Path(__file__).parent)
ROWS = tuple(verified.rows())


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.id}:{r.quantity}:{r.expected}")
def test_ours_is_the_printed_figure(row):
    assert not row.tolerance or row.note, "a wider tolerance needs its reason"
    assert row.is_met, (row.ours, row.expected, row.allowed)


def test_no_class_and_no_factor_is_without_its_printed_figures():
    assert {r.id for r in ROWS if r.table.endswith("/en338.csv")} == {r["grade"] for r in read_rows("eu_classes.csv")}
    assert {r.id for r in ROWS if r.table.endswith("/figures.csv")} == set(read_figures("eu_factors.toml"))


@pytest.mark.parametrize("row", read_rows("eu_classes.csv"), ids=lambda r: r["grade"])
def test_classes_keep_the_relations_by_which_the_standard_derives_them(row):
    """EN 384: f_t from f_m in the 2016 edition only roughly; E_0,05, G, E_90 and rho_mean by fixed shares, rounded."""
    is_soft = row["group"] == "softwood"
    modulus = float(row["E_0_mean"])
    assert float(row["E_0_05"]) == pytest.approx((0.67 if is_soft else 0.84) * modulus, rel=0.02)
    assert float(row["G_mean"]) == pytest.approx(modulus / 16.0, rel=0.02)
    assert float(row["E_90_mean"]) == pytest.approx(modulus / (30.0 if is_soft else 15.0), rel=0.02)
    assert float(row["rho_mean"]) == pytest.approx(1.2 * float(row["rho_k"]), abs=10.0)
    assert row["grade"][1:] == row["f_m_k"]


def test_the_depth_gains_below_150_mm_at_most_30_percent_and_not_in_dense_wood():
    k_h = {"rho_k": 350.0, "h_full": 150.0, "most": 1.3}
    assert strength.depth_factor(h=150.0, **k_h) == 1.0
    assert strength.depth_factor(h=149.9, **k_h) == pytest.approx((150 / 149.9) ** 0.2, rel=1e-12)
    reached = 150.0 / 1.3**5
    assert strength.depth_factor(h=reached - 0.01, **k_h) == 1.3
    assert strength.depth_factor(h=reached + 0.01, **k_h) < 1.3
    assert strength.depth_factor(h=95.0, **(k_h | {"rho_k": 700.0})) > 1.0
    assert strength.depth_factor(h=95.0, **(k_h | {"rho_k": 700.1})) == 1.0


def test_the_three_branches_of_lateral_buckling_meet_at_their_limits():
    """1.56 - 0.75 x 0.75 is 0.9975, and 1.56 - 0.75 x 1.4 is 0.51 beside 1 / 1.96 = 0.5102: so the standard has it."""
    assert bending.lateral_factor(lambda_rel_m=0.75) == 1.0
    assert bending.lateral_factor(lambda_rel_m=0.7500001) == pytest.approx(0.9975, abs=1e-6)
    assert bending.lateral_factor(lambda_rel_m=1.4) == pytest.approx(0.51, rel=1e-12)
    assert bending.lateral_factor(lambda_rel_m=1.4000001) == pytest.approx(0.5102, abs=5e-5)


def test_the_effective_length_of_an_even_load_on_the_pressed_edge():
    """Table 6.1: 0.9 l and 2 h more."""
    assert bending.effective_length(l=3210.0, h=195.0) == pytest.approx(0.9 * 3210 + 390, rel=1e-12)


def test_a_stocky_post_does_not_buckle():
    assert columns.buckling_factor(lambda_rel=0.3, beta_c=0.2) == 1.0
    just_above = columns.buckling_factor(lambda_rel=0.3001, beta_c=0.2)
    assert 0.9999 < just_above < 1.0


def test_a_very_slender_post_bears_nearly_what_euler_says():
    """k_c lambda_rel² tends to 1 from below: the elastic limit."""
    for slender in (20.0, 60.0):
        share = columns.buckling_factor(lambda_rel=slender, beta_c=0.2) * slender**2
        assert 1.0 - 0.25 / slender < share < 1.0


def test_a_post_bent_both_ways_counts_seven_tenths_of_the_lesser_bending():
    """6.1.6(2): k_m = 0.7 for rectangles."""
    assert columns.bent_post(pressed=0.31, bent=0.22, bent_other=0.4) == pytest.approx(0.31 + 0.22 + 0.28, rel=1e-12)


def test_the_contact_grows_by_30_mm_only_where_there_is_wood():
    contact = {"l": 45.0, "a": 500.0, "l_1": 800.0, "reach": 30.0}
    assert bearing.effective_contact(**contact) == 105.0
    assert bearing.effective_contact(**(contact | {"a": 12.0})) == 45.0 + 12.0 + 30.0
    assert bearing.effective_contact(**(contact | {"a": 0.0})) == 75.0
    assert bearing.effective_contact(**(contact | {"l": 22.0})) == 66.0
    assert bearing.effective_contact(**(contact | {"l_1": 37.0})) == 45.0 + 37.0
    assert bearing.effective_contact(**(contact | {"l_1": 0.0})) == 45.0


def test_softwood_bears_half_as_much_again_from_two_depths_on():
    k = {"h": 145.0, "apart": 2.0, "most": 1.5}
    assert bearing.bearing_factor(l_1=290.0, **k) == 1.5
    assert bearing.bearing_factor(l_1=289.9, **k) == 1.0


def test_a_notch_takes_nothing_when_it_is_nothing_and_little_when_it_is_tapered():
    whole = {"h": 195.0, "h_ef": 195.0, "x": 40.0, "k_n": 5.0}
    assert shear.notch_factor(**whole) == 1.0
    square = {"h": 195.0, "h_ef": 120.0, "x": 47.5, "k_n": 5.0}
    assert shear.notch_factor(**square) < shear.notch_factor(**square, i=2.0) < shear.notch_factor(**square, i=20.0)
    assert shear.notch_factor(**square, i=20.0) == 1.0


def test_the_taper_of_a_notch_adds_eleven_tenths_of_its_run_over_rise():
    """Eq. (6.62) by hand: 1 + 1.1 i^1.5 / sqrt(h)."""
    square = {"h": 245.0, "h_ef": 140.0, "x": 60.0, "k_n": 5.0}
    gain = shear.notch_factor(**square, i=1.7) / shear.notch_factor(**square)
    assert gain == pytest.approx(1.0 + 1.1 * 1.7**1.5 / math.sqrt(245.0), rel=1e-12)


def test_kick_of_a_floor_may_be_what_figure_7_2_and_damping_say():
    """Eq. (7.4) with b = 120, 1 % damping: 120^(9/100 - 1)."""
    assert vibration.kick_limit(b=120.0, f_1=9.0) == pytest.approx(120.0**-0.91, rel=1e-12)
    with pytest.raises(OutOfRangeError):
        vibration.kick_limit(b=120.0, f_1=8.0)
    assert vibration.kick_limit(b=120.0, f_1=8.01) > 0.0


def test_modes_below_40_hz_by_hand():
    """Eq. (7.7): ((40/32)² - 1) 0.75⁴ 16 = 2.84765625, its fourth root; none at 40 Hz itself."""
    floor = {"b_m": 3.9, "l_m": 5.2, "EI_l": 4.8e6, "EI_b": 3.0e5}
    assert vibration.modes_below_40(f_1=32.0, **floor) == pytest.approx(2.84765625**0.25, rel=1e-12)
    assert vibration.modes_below_40(f_1=40.0, **floor) == 0.0


def test_sums_of_loads_are_those_of_en_1990():
    """1.5 x 2.5 + 1.5 x 0.5 x 1.75 and, without factors of safety, 2.5 + 0.5 x 1.75."""
    others = ((0.5, 1.75),)
    assert actions.design_sum(Q_1=2.5, others=others, gamma_Q=1.5) == pytest.approx(5.0625, rel=1e-12)
    assert actions.characteristic_sum(Q_1=2.5, others=others) == pytest.approx(3.375, rel=1e-12)
    assert actions.snow_load(d=640.0, gamma=3.5e-6) == pytest.approx(2.24e-3, rel=1e-12)


def test_creep_grows_what_lasts():
    assert deflection.final_share_dead(k_def=2.0) == 3.0
    assert deflection.final_share_leading(k_def=2.0, psi_2=0.3) == pytest.approx(1.6, rel=1e-12)
    assert deflection.final_share_other(k_def=2.0, psi_0=0.7, psi_2=0.3) == pytest.approx(1.3, rel=1e-12)
    assert deflection.sag_limit(l=900.0, share=150.0, overhang=2.0) == 12.0


@pytest.mark.parametrize(
    ("work_out", "where", "found"),
    [
        (lambda: strength.design_strength(X_k=24.0, k_mod=1.11, gamma_M=1.3), "k_mod", "1.11"),
        (lambda: strength.design_strength(X_k=0.0, k_mod=0.7, gamma_M=1.3), "X_k", "0 N/mm2"),
        (lambda: strength.design_strength(X_k=24.0, k_mod=0.7, gamma_M=0.99), "gamma_M", "0.99"),
        (lambda: strength.depth_factor(h=math.nan, rho_k=350.0, h_full=150.0, most=1.3), "h", "nan mm"),
        (lambda: shear.notch_factor(h=145.0, h_ef=145.1, x=20.0, k_n=5.0), "h_ef", "145.1 mm"),
        (lambda: shear.shear_stress(V=10.0, b=45.0, h=145.0, k_cr=1.01), "k_cr", "1.01"),
        (lambda: columns.buckling_factor(lambda_rel=0.0, beta_c=0.2), "lambda_rel", "0"),
        (lambda: bending.lateral_factor(lambda_rel_m=math.inf), "lambda_rel_m", "inf"),
        (lambda: deflection.final_share_other(k_def=2.0, psi_0=0.5, psi_2=0.51), "psi_2", "0.51"),
        (lambda: actions.snow_load(d=500.0, gamma=3.5), "gamma", "3.5 N/mm3"),
        (lambda: actions.design_sum(Q_1=1.0, others=((1.2, 1.0),), gamma_Q=1.5), "psi_0", "1.2"),
        (lambda: vibration.lowest_frequency(l_m=5.0, EI_l=1e6, m=0.0), "m", "0 kg/m2"),
    ],
)
def test_arguments_outside_a_rule_are_named(work_out, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        work_out()
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == ("rule-range", where, found)


def test_grades_are_read_in_either_case_and_by_kind_of_wood():
    assert strength_eu.strength_class(species_id="european_larch", grade="C24").f_m_k == 24.0
    assert strength_eu.strength_class(species_id="european_oak", grade="d30").f_m_k == 30.0
    with pytest.raises(OutOfRangeError) as caught:
        strength_eu.strength_class(species_id="european_larch", grade="D30")
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.nearest) == ("strength_grade", "grade-not-in-standard", "c30")
    assert fault.allowed.startswith("c14, ")
    with pytest.raises(OutOfRangeError) as caught:
        strength_eu.strength_class(species_id="european_oak", grade="c24")
    assert caught.value.fault.nearest == "d24"
    with pytest.raises(OutOfRangeError) as caught:
        strength_eu.strength_class(species_id="european_lerch", grade="c24")
    assert (caught.value.fault.code, caught.value.fault.nearest) == ("species-not-in-standard", "european_larch")
    with pytest.raises(OutOfRangeError) as caught:
        strength_eu.floor_load("balconi")
    assert (caught.value.fault.code, caught.value.fault.nearest) == ("live-load-unknown", "balcony")
    with pytest.raises(OutOfRangeError) as caught:
        strength_eu.factor("duration.shrt")
    assert (caught.value.fault.code, caught.value.fault.nearest) == ("factor-unknown", "duration.short")
