"""The rules of wood refuse what they do not cover, and agree with closed forms inside."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules.coating_time import recoat_hours
from evenfoot.rules.decay import ExposureFactors, climate_index, design_index, exposure_index, site_exposure
from evenfoot.rules.moisture import dew_point, equilibrium_moisture
from evenfoot.rules.movement import (
    MovingBoard,
    coefficient_from_total,
    gap_at,
    gap_to_allow,
    gap_to_set,
    total_shrinkage_to,
    width_change,
    width_change_wide,
)
from evenfoot.rules.wood import density_at, fresh_treated_density, lift_limit, mass, oven_dry_gravity

BOARD = MovingBoard(width=120.0, coefficient=0.0023, fsp=28.0)
MILD = ExposureFactors(k_s1=1.0, k_s2=1.0, k_s3=1.0, k_s4=1.0)

REFUSED = [
    (lambda: equilibrium_moisture(temperature=-10.1, humidity=50.0), "temperature", "-10.1 degrees C", "-10 degrees C"),
    (lambda: equilibrium_moisture(temperature=20.0, humidity=98.5), "humidity", "98.5 %", "98 %"),
    (lambda: dew_point(temperature=20.0, humidity=0.0), "humidity", "0 %", "1 %"),
    (lambda: MovingBoard(width=0.0, coefficient=0.002, fsp=28.0), "width", "0 mm", "1 mm"),
    (lambda: MovingBoard(width=90.0, coefficient=-0.002, fsp=28.0), "coefficient", "-0.002 per %", "0 per %"),
    (lambda: total_shrinkage_to(total=21.0, moisture=12.0, fsp=30.0), "total", "21 %", "20 %"),
    (lambda: coefficient_from_total(total=7.0, fsp=14.0), "fsp", "14 %", "15 %"),
    (lambda: width_change(BOARD, start=12.0, finish=-1.0), "finish", "-1 %", "0 %"),
    (lambda: width_change_wide(width=90.0, total=7.0, start=31.0, finish=12.0), "start", "31 %", "30 %"),
    (lambda: gap_at(BOARD, gap=-1.0, fixing=15.0, moisture=12.0), "gap", "-1 mm", "0 mm"),
    (lambda: gap_to_set(BOARD, fixing=15.0, wet=25.0, gap_min=-3.0), "gap_min", "-3 mm", "0 mm"),
    (lambda: gap_to_allow(BOARD, fixing=15.0, dry=10.0, gap_max=101.0), "gap_max", "101 mm", "100 mm"),
    (lambda: oven_dry_gravity(90.0), "density_12", "90 kg/m3", "100 kg/m3"),
    (lambda: density_at(gravity=0.4, moisture=251.0, fsp=28.0), "moisture", "251 %", "250 %"),
    (
        lambda: fresh_treated_density(gravity=0.4, moisture=30.0, fsp=30.0, water=701.0),
        "water",
        "701 kg/m3",
        "700 kg/m3",
    ),
    (lambda: mass(volume=-1.0, density=400.0), "volume", "-1 mm3", "0 mm3"),
    (lambda: lift_limit(share=0.5, body_mass=60.0), "share", "0.5", "0.4"),
    (
        lambda: recoat_hours(hours_at_20=24.0, temperature=4.9, humidity=60.0),
        "temperature",
        "4.9 degrees C",
        "5 degrees C",
    ),
    (lambda: recoat_hours(hours_at_20=24.0, temperature=20.0, humidity=85.1), "humidity", "85.1 %", "85 %"),
    (lambda: ExposureFactors(k_s1=1.0, k_s2=0.0, k_s3=1.0, k_s4=1.0), "k_s2", "0", "0.1"),
    (lambda: climate_index(temperatures=(10.0,) * 11, rain_days=(8.0,) * 12), "temperatures", "11 months", "12 months"),
    (lambda: climate_index(temperatures=(10.0,) * 12, rain_days=(32.0,) * 12), "rain_days", "32", "31"),
    (lambda: site_exposure(151.0), "index", "151", "150"),
    (lambda: exposure_index(site=4.1, factors=MILD), "site", "4.1", "4"),
    (lambda: design_index(index=1.0, gamma_d=0.7), "gamma_d", "0.7", "0.8"),
    (lambda: gap_at(BOARD, gap=math.nan, fixing=15.0, moisture=12.0), "gap", "nan mm", ""),
]


@pytest.mark.parametrize(("ask", "where", "found", "nearest"), REFUSED)
def test_values_outside_a_rule_are_refused_with_the_nearest(ask, where, found, nearest):
    with pytest.raises(OutOfRangeError) as caught:
        ask()
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found, fault.nearest) == ("rule-range", where, found, nearest)
    assert fault.allowed


def test_both_ends_of_every_limit_are_accepted():
    assert recoat_hours(hours_at_20=24.0, temperature=5.0, humidity=85.0) == pytest.approx(24 * 2**1.5 * 2, rel=1e-12)
    assert equilibrium_moisture(temperature=60.0, humidity=0.0) == 0.0
    assert equilibrium_moisture(temperature=-10.0, humidity=98.0) > 25.0
    assert density_at(gravity=0.4, moisture=250.0, fsp=28.0) > 1000.0


def test_density_at_12_per_cent_is_what_it_came_from():
    for density in (380.0, 551.0, 1070.0):
        gravity = oven_dry_gravity(density)
        assert density_at(gravity=gravity, moisture=12.0, fsp=28.0) == pytest.approx(density, rel=1e-9)


def test_oven_dry_density_is_the_gravity():
    assert density_at(gravity=0.437, moisture=0.0, fsp=28.0) == pytest.approx(437.0, rel=1e-12)


def test_above_saturation_only_the_water_weighs_more():
    at_28, at_56 = (density_at(gravity=0.4, moisture=m, fsp=28.0) for m in (28.0, 56.0))
    assert at_56 / at_28 == pytest.approx(1.56 / 1.28, rel=1e-12)


def test_fresh_treated_timber_is_dry_wood_and_its_water():
    """0.4 oven-dry at 28 % swells by 0.009 x 0.4 x 28: 400 / 1.1008 kg of wood in a cubic metre, and 600 of water."""
    got = fresh_treated_density(gravity=0.4, moisture=28.0, fsp=28.0, water=600.0)
    assert got == pytest.approx(400 / 1.1008 + 600, rel=1e-9)


def test_air_at_saturation_has_its_own_temperature_as_dew_point():
    assert dew_point(temperature=17.3, humidity=100.0) == pytest.approx(17.3, abs=1e-9)


def test_wood_moves_neither_above_saturation_nor_without_a_change():
    assert width_change(BOARD, start=28.0, finish=60.0) == 0.0
    assert width_change(BOARD, start=15.0, finish=15.0) == 0.0
    assert gap_at(BOARD, gap=4.0, fixing=35.0, moisture=90.0) == 4.0


def test_the_two_limits_of_the_gap_close_on_each_other():
    """120 mm x 0.0023 x (25 - 12) swings 3.588 mm: limits that far apart leave exactly one gap."""
    least = gap_to_set(BOARD, fixing=17.0, wet=25.0, gap_min=3.0)
    most = gap_to_allow(BOARD, fixing=17.0, dry=12.0, gap_max=3.0 + 3.588)
    assert least == pytest.approx(most, abs=1e-9)
    assert gap_at(BOARD, gap=least, fixing=17.0, moisture=25.0) == pytest.approx(3.0, abs=1e-9)


def test_total_shrinkage_is_whole_when_oven_dry_and_none_when_green():
    assert total_shrinkage_to(total=7.4, moisture=0.0, fsp=30.0) == 7.4
    assert total_shrinkage_to(total=7.4, moisture=30.0, fsp=30.0) == 0.0
    assert total_shrinkage_to(total=7.4, moisture=80.0, fsp=30.0) == 0.0


@pytest.mark.parametrize(("total", "start", "finish"), [(7.4, 12.0, 8.0), (3.3, 14.0, 6.0), (9.1, 8.0, 14.0)])
def test_coefficient_agrees_with_the_wide_range_form_inside_its_printed_range(total, start, finish):
    """Two handbook forms of one line; they may differ by the width that they count from, under 3 % here."""
    c = coefficient_from_total(total=total, fsp=30.0)
    narrow = width_change(MovingBoard(width=140.0, coefficient=c, fsp=30.0), start=start, finish=finish)
    assert narrow == pytest.approx(width_change_wide(width=140.0, total=total, start=start, finish=finish), rel=0.03)


@pytest.mark.parametrize(("index", "kind"), [(34.0, "low"), (50.0, "moderate"), (78.0, "high")])
def test_site_factor_rises_with_the_climate(index, kind):
    assert site_exposure(index) == pytest.approx(index / 40.0, rel=1e-12), kind
