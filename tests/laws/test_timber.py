"""Laws of wood: wetter is heavier, wetter is tighter, and back again is where it was."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.rules.decay import ExposureFactors, exposure_index
from evenfoot.rules.moisture import dew_point, equilibrium_moisture
from evenfoot.rules.movement import (
    MovingBoard,
    gap_at,
    gap_to_allow,
    gap_to_set,
    total_shrinkage_to,
    width_change,
)
from evenfoot.rules.wood import density_at, fresh_treated_density, mass, oven_dry_gravity
from evenfoot.tables import species, species_ids

moistures = st.floats(0.0, 120.0)
boards = st.builds(
    MovingBoard,
    width=st.floats(20.0, 300.0),
    coefficient=st.floats(0.0005, 0.005),
    fsp=st.floats(20.0, 32.0),
)
woods = st.sampled_from([species(name) for name in species_ids()])


@settings(max_examples=80)
@given(one=woods, a=moistures, b=moistures)
def test_wetter_timber_is_never_lighter(one, a, b):
    gravity = oven_dry_gravity(one.density)
    drier, wetter = (density_at(gravity=gravity, moisture=m, fsp=one.fsp) for m in sorted((a, b)))
    assert drier <= wetter + 1e-9


@settings(max_examples=60)
@given(one=woods, moisture=moistures, water=st.floats(0.0, 700.0))
def test_fresh_treated_timber_is_never_lighter_than_its_moisture_says(one, moisture, water):
    gravity = oven_dry_gravity(one.density)
    fresh = fresh_treated_density(gravity=gravity, moisture=moisture, fsp=one.fsp, water=water)
    assert fresh >= density_at(gravity=gravity, moisture=moisture, fsp=one.fsp)


@settings(max_examples=60)
@given(one=woods, moisture=st.floats(0.0, 25.0), share=st.floats(0.01, 0.99))
def test_mass_adds_up_over_cuts(one, moisture, share):
    density = density_at(gravity=oven_dry_gravity(one.density), moisture=moisture, fsp=one.fsp)
    whole = mass(volume=1e7, density=density)
    assert mass(volume=1e7 * share, density=density) + mass(volume=1e7 * (1 - share), density=density) == pytest.approx(
        whole, rel=1e-12
    )


@settings(max_examples=100)
@given(board=boards, gap=st.floats(0.0, 20.0), fixing=moistures, a=moistures, b=moistures)
def test_the_gap_closes_as_boards_take_up_water(board, gap, fixing, a, b):
    dry, wet = sorted((a, b))
    assert gap_at(board, gap=gap, fixing=fixing, moisture=dry) >= gap_at(board, gap=gap, fixing=fixing, moisture=wet)


@settings(max_examples=100)
@given(board=boards, gap=st.floats(48.0, 52.0), a=moistures, b=moistures)
def test_out_and_back_again_the_gap_is_as_set(board, gap, a, b):
    """No board drawn here moves by more than 48 mm, so the gap stays inside the 0 to 100 mm of the rule."""
    there = gap_at(board, gap=gap, fixing=a, moisture=b)
    assert gap_at(board, gap=there, fixing=b, moisture=a) == pytest.approx(gap, abs=1e-9)


@settings(max_examples=100)
@given(board=boards, start=moistures, middle=moistures, finish=moistures)
def test_movement_does_not_depend_on_the_way(board, start, middle, finish):
    by_way = width_change(board, start=start, finish=middle) + width_change(board, start=middle, finish=finish)
    assert by_way == pytest.approx(width_change(board, start=start, finish=finish), abs=1e-9)


@settings(max_examples=100)
@given(board=boards, fixing=moistures, wet=moistures, gap_min=st.floats(0.0, 10.0))
def test_the_least_gap_keeps_its_minimum_and_no_less_does(board, fixing, wet, gap_min):
    least = gap_to_set(board, fixing=fixing, wet=wet, gap_min=gap_min)
    assert gap_at(board, gap=least, fixing=fixing, moisture=wet) >= gap_min - 1e-9
    assert least >= gap_min
    if least > gap_min + 0.01:
        assert gap_at(board, gap=least - 0.01, fixing=fixing, moisture=wet) < gap_min


@settings(max_examples=100)
@given(board=boards, fixing=moistures, dry=moistures, gap_max=st.floats(0.0, 20.0))
def test_the_greatest_gap_keeps_its_maximum(board, fixing, dry, gap_max):
    most = gap_to_allow(board, fixing=fixing, dry=dry, gap_max=gap_max)
    assert most <= gap_max
    if most >= 0.0:
        assert gap_at(board, gap=most, fixing=fixing, moisture=dry) <= gap_max + 1e-9


@settings(max_examples=60)
@given(total=st.floats(0.5, 15.0), fsp=st.floats(20.0, 32.0), a=moistures, b=moistures)
def test_drier_wood_has_shrunk_more(total, fsp, a, b):
    dry, wet = (total_shrinkage_to(total=total, moisture=m, fsp=fsp) for m in sorted((a, b)))
    assert 0.0 <= wet <= dry <= total


@settings(max_examples=80)
@given(temperature=st.floats(-10.0, 60.0), a=st.floats(0.0, 98.0), b=st.floats(0.0, 98.0))
def test_damper_air_keeps_wood_wetter(temperature, a, b):
    drier, damper = (equilibrium_moisture(temperature=temperature, humidity=h) for h in sorted((a, b)))
    assert drier <= damper + 1e-9


@settings(max_examples=80)
@given(temperature=st.floats(-20.0, 50.0), humidity=st.floats(1.0, 100.0))
def test_dew_falls_at_or_below_the_temperature_of_the_air(temperature, humidity):
    assert dew_point(temperature=temperature, humidity=humidity) <= temperature + 1e-9


@settings(max_examples=60)
@given(
    factors=st.lists(st.floats(0.2, 2.0), min_size=4, max_size=4), more=st.floats(1.0, 2.0), site=st.floats(0.1, 4.0)
)
def test_every_factor_counts_alike_in_the_exposure(factors, more, site):
    base = exposure_index(site=site, factors=ExposureFactors(**dict(zip(KEYS, factors, strict=True))))
    for n in range(4):
        raised = [f * more if i == n else f for i, f in enumerate(factors)]
        got = exposure_index(site=site, factors=ExposureFactors(**dict(zip(KEYS, raised, strict=True))))
        assert got == pytest.approx(base * more, rel=1e-9)


KEYS = ("k_s1", "k_s2", "k_s3", "k_s4")
