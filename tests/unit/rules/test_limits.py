"""Both sides of the limits that the rules of wood and fixings set: the last value is taken, a hair beyond is refused."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules import (
    coating_time,
    decay,
    ec5_fasteners,
    fasteners,
    ground,
    jp_fasteners,
    ledgers,
    moisture,
    movement,
    nds_fasteners,
    one_span,
    sideways,
    wood,
)
from evenfoot.rules.japan_2000 import beams as japan_beams
from evenfoot.rules.japan_2000 import bearing as japan_bearing
from evenfoot.rules.japan_2000 import columns as japan_columns
from evenfoot.rules.japan_2000 import loads as japan_loads
from evenfoot.rules.japan_2000 import stresses as japan_stresses
from evenfoot.rules.nds_2018 import beams as nds_beams
from evenfoot.rules.nds_2018 import columns as nds_columns
from evenfoot.rules.nds_2018 import loads as nds_loads
from evenfoot.rules.nds_2018 import notches as nds_notches
from evenfoot.rules.nds_2018 import sags as nds_sags
from evenfoot.rules.nds_2018 import values as nds_values

FACTORS = {"k_s1": 1.2, "k_s2": 0.9, "k_s3": 1.1, "k_s4": 1.3, "c_a": 0.7}
WEATHER = {"temperature": 17.0, "humidity": 63.0}
BOARD = {"width": 118.0, "coefficient": 0.0021, "fsp": 28.0}
DRIED = {"total": 7.3, "moisture": 14.0, "fsp": 28.0}
WIDE = {"width": 118.0, "total": 7.3, "start": 22.0, "finish": 11.0}
MOVED = {"board": movement.MovingBoard(**BOARD), "start": 16.0, "finish": 11.0}
GAP = {"board": movement.MovingBoard(**BOARD), "fixing": 16.0}
DENSITY = {"gravity": 0.47, "moisture": 21.0, "fsp": 28.0}
TREATED = DENSITY | {"water": 310.0}
LIFT = {"body_mass": 74.0, "share": 0.23}
RECOAT = {"hours_at_20": 6.5} | WEATHER
SAG = {"w": 1.3, "L": 910.0, "EI": 3.1e9, "GA": 4.7e6}
POINT = {"P": 900.0, "L": 910.0, "EI": 3.1e9, "GA": 4.7e6}
TIES = {"H": 900.0, "arm": 500.0, "length": 2000.0, "n": 3}
NAIL = {"d": 3.4, "length": 38.0, "g": 0.47}
BARE = {"d": 3.4, "rho_k": 350.0, "is_predrilled": False}
BORED = {"d": 3.4, "rho_k": 350.0, "is_predrilled": True}
HELD = {"d": 3.4, "d_h": 7.1, "t_pen": 41.0, "t": 27.0, "rho_k": 350.0}
SCREW = {"d": 8.2, "l_ef": 57.0, "rho_k": 350.0, "alpha": 1.1}
SKEW = {"length": 63.0, "angle": 0.6, "start": 0.31}

ASIDE = {"f_c": 1.1, "F_c": 6.2, "e_over_d": 0.4, "F_b": 7.9, "F_cE": 5.1}
BENT = {"F_b": 6.2, "C_D": 1.15, "C_M": 0.85, "C_L": 0.97, "C_F": 1.2, "C_fu": 1.1, "C_i": 0.8, "C_r": 1.1}
PULLED = {"F_t": 3.9, "C_D": 1.15, "C_M": 0.9, "C_F": 1.2, "C_i": 0.8}
PRESSED = {"F_c": 9.3, "C_D": 1.15, "C_M": 0.8, "C_F": 1.05, "C_i": 0.8}

LIMITS = [
    (coating_time.recoat_hours, RECOAT, "temperature", 40.0, 40.01),
    (coating_time.recoat_hours, RECOAT, "temperature", 5.0, 4.99),
    (coating_time.humidity_factor, {"humidity": 63.0}, "humidity", 85.0, 85.01),
    *((decay.ExposureFactors, FACTORS, name, 0.1, 0.0999) for name in FACTORS),
    *((decay.ExposureFactors, FACTORS, name, 5.0, 5.001) for name in FACTORS),
    (decay.site_exposure, {"index": 61.0}, "index", 150.0, 150.1),
    (decay.exposure_index, {"site": 1.3, "factors": decay.ExposureFactors(**FACTORS)}, "site", 4.0, 4.001),
    (decay.design_index, {"index": 1.7, "gamma_d": 0.9}, "gamma_d", 0.8, 0.7999),
    (decay.design_index, {"index": 1.7, "gamma_d": 0.9}, "gamma_d", 1.0, 1.0001),
    (moisture.equilibrium_moisture, WEATHER, "temperature", -10.0, -10.01),
    (moisture.equilibrium_moisture, WEATHER, "temperature", 60.0, 60.01),
    (moisture.equilibrium_moisture, WEATHER, "humidity", 98.0, 98.01),
    (moisture.dew_point, WEATHER, "temperature", -45.0, -45.01),
    (moisture.dew_point, WEATHER, "temperature", 60.0, 60.01),
    (moisture.dew_point, WEATHER, "humidity", 1.0, 0.999),
    (moisture.dew_point, WEATHER, "humidity", 100.0, 100.01),
    (movement.MovingBoard, BOARD, "width", 1.0, 0.999),
    (movement.MovingBoard, BOARD, "width", 1000.0, 1000.1),
    (movement.MovingBoard, BOARD, "coefficient", 0.006, 0.00601),
    (movement.MovingBoard, BOARD, "fsp", 15.0, 14.99),
    (movement.MovingBoard, BOARD, "fsp", 40.0, 40.01),
    (movement.total_shrinkage_to, DRIED, "total", 20.0, 20.01),
    (movement.total_shrinkage_to, DRIED, "moisture", 250.0, 250.1),
    (movement.total_shrinkage_to, DRIED, "fsp", 15.0, 14.99),
    (movement.total_shrinkage_to, DRIED, "fsp", 40.0, 40.01),
    (movement.coefficient_from_total, {"total": 7.3, "fsp": 28.0}, "total", 20.0, 20.01),
    (movement.coefficient_from_total, {"total": 7.3, "fsp": 28.0}, "fsp", 15.0, 14.99),
    (movement.coefficient_from_total, {"total": 7.3, "fsp": 28.0}, "fsp", 40.0, 40.01),
    (movement.width_change, MOVED, "start", 250.0, 250.1),
    (movement.width_change, MOVED, "finish", 250.0, 250.1),
    (movement.width_change_wide, WIDE, "total", 0.1, 0.0999),
    (movement.width_change_wide, WIDE, "total", 20.0, 20.01),
    (movement.width_change_wide, WIDE, "start", 30.0, 30.01),
    (movement.width_change_wide, WIDE, "finish", 30.0, 30.01),
    (movement.gap_at, GAP | {"gap": 6.0, "moisture": 12.0}, "gap", 100.0, 100.1),
    (movement.gap_to_set, GAP | {"wet": 24.0, "gap_min": 3.0}, "gap_min", 100.0, 100.1),
    (movement.gap_to_allow, GAP | {"dry": 11.0, "gap_max": 9.0}, "gap_max", 100.0, 100.1),
    (wood.density_at, DENSITY, "gravity", 0.1, 0.0999),
    (wood.density_at, DENSITY, "gravity", 1.5, 1.501),
    (wood.density_at, DENSITY, "moisture", 250.0, 250.1),
    (wood.density_at, DENSITY, "fsp", 15.0, 14.99),
    (wood.density_at, DENSITY, "fsp", 40.0, 40.01),
    (wood.fresh_treated_density, TREATED, "water", 700.0, 700.1),
    (wood.mass, {"volume": 3.1e6, "density": 510.0}, "density", 1.0, 0.999),
    (wood.mass, {"volume": 3.1e6, "density": 510.0}, "density", 2000.0, 2000.1),
    (wood.lift_limit, LIFT, "share", 0.01, 0.00999),
    (wood.lift_limit, LIFT, "share", 0.4, 0.4001),
    (wood.lift_limit, LIFT, "body_mass", 30.0, 29.99),
    (wood.lift_limit, LIFT, "body_mass", 150.0, 150.1),
    (japan_beams.sag_limit, {"L": 1820.0, "share": 250.0, "creep": 2.0}, "creep", 1.0, 0.999),
    (japan_beams.sag_limit, {"L": 1820.0, "share": 250.0, "creep": 2.0}, "share", 1.0, 0.999),
    (japan_beams.is_sag_exempt, {"h": 105.0, "L": 1820.0, "ratio": 12.0}, "ratio", 1.0, 0.999),
    (japan_loads.snow_load, {"d": 60.0, "rho": 27.0}, "rho", 20.0, 19.99),
    (japan_loads.slope_factor, {"beta_deg": 21.0}, "beta_deg", 90.0, 90.01),
    (japan_loads.snow_sum, {"P": 1300.0, "S": 1700.0, "share": 0.7}, "share", 1.0, 1.001),
    (japan_stresses.shared_bending, {"F_b": 22.2, "share": 1.15}, "share", 1.0, 0.999),
    (japan_stresses.shared_bending, {"F_b": 22.2, "share": 1.15}, "share", 1.25, 1.2501),
    (japan_bearing.slanting_strength, {"f_c": 6.5, "f_cv": 2.2, "angle_deg": 31.0}, "angle_deg", 90.0, 90.01),
    (nds_beams.critical_stress, {"E_min": 3800.0, "R_B": 21.0}, "R_B", 50.0, 50.01),
    (nds_columns.built_up_factor, {"C_P": 0.43, "K_f": 0.75}, "C_P", 1.0, 1.001),
    (nds_columns.built_up_factor, {"C_P": 0.43, "K_f": 0.75}, "K_f", 0.6, 0.5999),
    (nds_columns.built_up_factor, {"C_P": 0.43, "K_f": 0.75}, "K_f", 1.0, 1.001),
    (nds_columns.pressed_beside, ASIDE, "e_over_d", 2.0, 2.001),
    (nds_columns.stability_factor, {"F_cE": 5.1, "F_c_star": 9.3, "c": 0.8}, "c", 0.8, 0.7999),
    (nds_columns.stability_factor, {"F_cE": 5.1, "F_c_star": 9.3, "c": 0.8}, "c", 0.9, 0.9001),
    (nds_loads.snow_load, {"depth_m": 0.6}, "depth_m", 10.0, 10.01),
    (nds_loads.overhang_reaction, {"q": 2.4e-3, "L": 2900.0, "a": 610.0}, "L", 1.0, 0.999),
    (nds_sags.total_sag, {"lasting": 3.1, "passing": 2.2, "K_cr": 1.7}, "K_cr", 1.5, 1.4999),
    (nds_sags.total_sag, {"lasting": 3.1, "passing": 2.2, "K_cr": 1.7}, "K_cr", 2.0, 2.0001),
    (nds_sags.limit, {"L": 2900.0, "share": 360.0}, "share", 1.0, 0.999),
    *((nds_values.bending, BENT, name, *ends) for name, *ends in (
        ("C_D", 2.0, 2.001), ("C_D", 0.9, 0.899), ("C_F", 0.4, 0.3999), ("C_F", 1.5, 1.5001), ("C_fu", 1.0, 0.999),
        ("C_fu", 1.2, 1.2001), ("C_r", 1.0, 0.999), ("C_r", 1.15, 1.1501), ("C_M", 1.0, 1.001),
    )),
    (nds_values.tension, PULLED, "C_F", 0.4, 0.3999),
    (nds_values.tension, PULLED, "C_F", 1.5, 1.5001),
    (nds_values.along, PRESSED, "C_F", 0.6, 0.5999),
    (nds_values.along, PRESSED, "C_F", 1.15, 1.1501),
    (nds_values.least_modulus, {"E": 9700.0, "cov": 0.25}, "cov", 0.3, 0.3001),
    (one_span.end_shear, {"w": 1.3, "P": 900.0, "L": 910.0}, "L", 1.0, 0.999),
    (one_span.middle_sag, POINT, "EI", 1.0, 0.999),
    (one_span.middle_sag, POINT, "GA", 1.0, 0.999),
    (one_span.even_sag, SAG, "EI", 1.0, 0.999),
    (one_span.even_sag, SAG, "GA", 1.0, 0.999),
    (one_span.even_sag, SAG, "L", 1.0, 0.999),
    (ground.pressure, {"N": 900.0, "W": 110.0, "A": 4.1e4}, "A", 1.0, 0.999),
    (sideways.friction, {"mu": 0.4, "N": 870.0}, "mu", 1.0, 1.001),
    (ledgers.fixings_in, {"length": 1200.0, "end": 50.0, "apart": 400.0}, "length", 100.0, 99.99),
    (sideways.leaning_ties, TIES, "length", 1.0, 0.999),
    (sideways.leaning_ties, TIES, "n", 2, 1),
    (sideways.push, {"share": 0.05, "N": 870.0}, "share", 2.0, 2.001),
    *((getattr(jp_fasteners, name), {"d": 3.4}, "d", 1.0, 0.999) for name in (
        "spacing_along", "end_along", "row_along", "edge_along", "spacing_across",
        "edge_across", "fibre_across", "end_across", "thickness",
    )),
    *((getattr(jp_fasteners, name), {"d": 3.4}, "d", 8.0, 8.001) for name in (
        "spacing_along", "end_along", "row_along", "edge_along", "spacing_across",
        "edge_across", "fibre_across", "end_across", "thickness",
    )),
    *((getattr(nds_fasteners, name), {"d": 3.4}, "d", *ends) for ends in ((1.0, 0.999), (10.0, 10.01)) for name in (
        "edge", "end_loaded", "end_unloaded", "spacing_along", "spacing_across",
    )),
    (nds_fasteners.bore_max, {"d": 3.4, "g": 0.47}, "d", 1.0, 0.999),
    (nds_fasteners.bore_max, {"d": 3.4, "g": 0.47}, "d", 10.0, 10.01),
    *((rule, {"d": 3.4, "g": 0.47}, "g", *ends) for ends in ((0.1, 0.0999), (1.3, 1.3001)) for rule in (
        nds_fasteners.bore_max,
    )),
    *((nds_fasteners.nail_withdrawal, NAIL, "g", *ends) for ends in ((0.1, 0.0999), (1.3, 1.3001))),
    (ec5_fasteners.spacing_along, BARE, "d", 1.0, 0.999),
    (ec5_fasteners.spacing_along, BARE, "d", 8.0, 8.001),
    (ec5_fasteners.spacing_along, BARE, "rho_k", 100.0, 99.99),
    (ec5_fasteners.spacing_along, BARE, "rho_k", 500.0, 500.01),
    (ec5_fasteners.spacing_along, BORED, "rho_k", 100.0, 99.99),
    (ec5_fasteners.thickness_bare, {"d": 3.4, "rho_k": 350.0}, "d", 1.0, 0.999),
    (ec5_fasteners.thickness_bare, {"d": 3.4, "rho_k": 350.0}, "d", 8.0, 8.001),
    (ec5_fasteners.thickness_bare, {"d": 3.4, "rho_k": 350.0}, "rho_k", 100.0, 99.99),
    (ec5_fasteners.nail_withdrawal, HELD, "rho_k", 100.0, 99.99),
    (ec5_fasteners.nail_withdrawal, HELD, "rho_k", 1200.0, 1200.1),
    (ec5_fasteners.screw_withdrawal, SCREW, "d", 6.0, 5.999),
    (ec5_fasteners.screw_withdrawal, SCREW, "d", 12.0, 12.001),
    (ec5_fasteners.screw_withdrawal, SCREW, "l_ef", 1.0, 0.999),
    (ec5_fasteners.screw_withdrawal, SCREW, "rho_k", 100.0, 99.99),
    (ec5_fasteners.screw_withdrawal, SCREW, "rho_k", 1200.0, 1200.1),
    (ec5_fasteners.screw_withdrawal, SCREW, "alpha", math.radians(30.0), math.radians(29.99)),
    (ec5_fasteners.screw_withdrawal, SCREW, "alpha", math.pi / 2, 1.5709),
    (fasteners.pilot_diameter, {"d": 4.5, "ratio": 0.7}, "ratio", 1.0, 1.001),
    (fasteners.skew_penetration, SKEW, "angle", math.pi / 2, 1.5709),
    (fasteners.skew_penetration, SKEW, "start", 1.0, 1.001),
    (fasteners.skew_reach, {"length": 63.0, "angle": 0.6}, "angle", math.pi / 2, 1.5709),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "given", "name", "last", "beyond"), LIMITS)
def test_a_limit_is_taken_and_a_hair_beyond_it_is_refused(rule, given, name, last, beyond):
    assert rule(**(given | {name: last})) is not None
    with pytest.raises(OutOfRangeError) as caught:
        rule(**(given | {name: beyond}))
    assert (caught.value.fault.code, caught.value.fault.where) == ("rule-range", name)


def test_density_at_twelve_percent_moisture_has_both_its_limits():
    for last, beyond in ((100.0, 99.9), (1400.0, 1400.1)):
        assert wood.oven_dry_gravity(last) > 0.0
        with pytest.raises(OutOfRangeError):
            wood.oven_dry_gravity(beyond)


def test_a_year_has_twelve_months_of_at_most_31_days():
    months = {"temperatures": [11.0] * 12, "rain_days": [31.0] * 12}
    assert decay.climate_index(**months) > 0.0
    with pytest.raises(OutOfRangeError):
        decay.climate_index(temperatures=[11.0] * 12, rain_days=[31.1] * 12)
    for count in (11, 13):
        with pytest.raises(OutOfRangeError):
            decay.climate_index(temperatures=[11.0] * count, rain_days=[10.0] * 12)
        with pytest.raises(OutOfRangeError):
            decay.climate_index(temperatures=[11.0] * 12, rain_days=[10.0] * count)


def test_the_branches_of_buckling_in_japan_change_at_30_and_at_100():
    """Notice 1024: 1 up to 30, 1.3 - 0.01 lambda up to 100, then 3000 / lambda²."""
    assert japan_columns.buckling_factor(lambda_=29.9) == 1.0
    assert japan_columns.buckling_factor(lambda_=30.1) == pytest.approx(1.3 - 0.301, rel=1e-12)
    assert japan_columns.buckling_factor(lambda_=99.0) == pytest.approx(1.3 - 0.99, rel=1e-12)
    assert japan_columns.buckling_factor(lambda_=101.0) == pytest.approx(3000.0 / 101.0**2, rel=1e-12)


def test_a_roof_keeps_no_snow_from_60_degrees_on():
    """Order art. 86-4: the root of cos(1.5 beta), nothing beyond 60 degrees."""
    assert japan_loads.slope_factor(beta_deg=59.0) == pytest.approx(math.sqrt(math.cos(math.radians(88.5))), rel=1e-9)
    assert japan_loads.slope_factor(beta_deg=61.0) == 0.0


def test_strength_at_a_slant_goes_straight_from_10_to_70_degrees():
    """Notice 1024: along the grain up to 10 degrees, across it from 70."""
    slant = {"f_c": 6.5, "f_cv": 2.2}
    assert japan_bearing.slanting_strength(**slant, angle_deg=10.0) == 6.5
    assert japan_bearing.slanting_strength(**slant, angle_deg=25.0) == pytest.approx(6.5 - 0.25 * 4.3, rel=1e-12)
    assert japan_bearing.slanting_strength(**slant, angle_deg=10.1) < 6.5
    assert japan_bearing.slanting_strength(**slant, angle_deg=69.9) > 2.2
    assert japan_bearing.slanting_strength(**slant, angle_deg=70.0) == pytest.approx(2.2, rel=1e-12)


def test_north_america_sets_a_slenderness_of_50_and_counts_four_inches_to_a_millimetre():
    """NDS 3.7.1.4: l_e/d at most 50. 4.4.3: no notch in the pulled side of timber 3 1/2 in thick, 88.9 mm."""
    assert nds_columns.SLENDER_MOST == 50.0
    thick = nds_notches.THICK
    assert nds_notches.deepest(d=184.0, b=thick - 1.0, is_end=False) == 0.0
    assert nds_notches.deepest(d=184.0, b=thick - 1.01, is_end=False) > 0.0


@pytest.mark.parametrize(
    ("name", "times"),
    [
        ("spacing_along", 12),
        ("end_along", 15),
        ("row_along", 5),
        ("edge_along", 5),
        ("spacing_across", 8),
        ("edge_across", 8),
        ("fibre_across", 10),
        ("end_across", 10),
        ("thickness", 6),
    ],
)
def test_distances_of_nails_in_japan_are_the_printed_multiples_of_the_shank(name, times):
    """Manual of temporary works, volume 16, page 284."""
    assert getattr(jp_fasteners, name)(d=3.4) == pytest.approx(times * 3.4, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "times"),
    [("edge", 2.5), ("end_loaded", 15), ("end_unloaded", 10), ("spacing_along", 15), ("spacing_across", 5)],
)
def test_distances_of_nails_in_north_america_are_those_of_the_commentary(name, times):
    """NDS 2018 commentary, table C12.1.6.6 as recalled: wood side members, no pilot hole."""
    assert getattr(nds_fasteners, name)(d=3.4) == pytest.approx(times * 3.4, rel=1e-12)


def test_nails_in_dense_timber_keep_the_wider_distances_of_table_8_2():
    """EN 1995-1-1, table 8.2, 420 < rho_k <= 500: a2 7d; a4,t (7 + 2 sin) d below 5 mm, (7 + 5 sin) d from there."""
    dense = {"rho_k": 460.0, "is_predrilled": False, "alpha": 0.7}
    sin = math.sin(0.7)
    assert ec5_fasteners.spacing_across(d=3.4, **dense) == pytest.approx(7.0 * 3.4, rel=1e-12)
    assert ec5_fasteners.edge_loaded(d=3.4, **dense) == pytest.approx((7.0 + 2.0 * sin) * 3.4, rel=1e-12)
    assert ec5_fasteners.edge_loaded(d=5.0, **dense) == pytest.approx((7.0 + 5.0 * sin) * 5.0, rel=1e-12)


def test_a_screw_at_a_slant_holds_by_hand():
    """Eq. (8.38) to (8.40): 0.52 d^-0.5 l_ef^-0.1 rho^0.8, d/8 below 8 mm, over 1.2 cos² + sin²."""
    for d, k_d in ((7.0, 0.875), (9.0, 1.0)):
        axial = 0.52 * d**-0.5 * 57.0**-0.1 * 350.0**0.8 * d * 57.0 * k_d
        turned = 1.2 * math.cos(0.9) ** 2 + math.sin(0.9) ** 2
        found = ec5_fasteners.screw_withdrawal(d=d, l_ef=57.0, rho_k=350.0, alpha=0.9)
        assert found == pytest.approx(axial / turned, rel=1e-12)


def test_the_end_one_of_three_ties_by_hand():
    """Ties at -1, 0 and 1 m: 900 N half a metre off turn by 450 N m, which the outer two share over a lever of 2 m."""
    along, pull = sideways.leaning_ties(**TIES)
    assert (along, pull) == (pytest.approx(300.0, rel=1e-12), pytest.approx(225.0, rel=1e-12))


def test_moisture_in_balance_follows_the_printed_coefficients_in_warm_air_too():
    """FPL-RN-0268, in degrees C: W, K, K1 and K2 as printed, at 55 degrees and 40 %."""
    t, h = 55.0, 0.40
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    printed = (
        1800
        / w
        * (k * h / (1 - k * h) + (k1 * k * h + 2 * k1 * k2 * (k * h) ** 2) / (1 + k1 * k * h + k1 * k2 * (k * h) ** 2))
    )
    assert moisture.equilibrium_moisture(temperature=t, humidity=40.0) == pytest.approx(printed, rel=1e-9)


def test_no_coat_is_laid_above_30_degrees():
    """The trade's own advice for the hot months; as written down beside the rule."""
    assert coating_time.HOTTEST == 30.0


def test_fixings_of_a_ledger_are_even_between_its_ends():
    """Set-out by hand: 1100 mm in four spaces of 275; a ledger as long as its two ends has one space of nothing."""
    assert ledgers.fixings_in(length=1200.0, end=50.0, apart=300.0) == (5, 275.0)
    assert ledgers.fixings_in(length=100.0, end=50.0, apart=300.0) == (2, 0.0)


def test_a_detail_without_a_climate_factor_is_taken_as_it_is():
    plain = decay.ExposureFactors(k_s1=1.2, k_s2=0.9, k_s3=1.1, k_s4=1.3)
    found = decay.exposure_index(site=1.7, factors=plain)
    assert found == pytest.approx(1.2 * 0.9 * 1.1 * 1.3 * 1.7, rel=1e-12)
