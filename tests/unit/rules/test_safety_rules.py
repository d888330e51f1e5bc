"""The small rules of ground, sway, guards and swinging against closed forms, and their refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenfoot.errors import OutOfRangeError
from evenfoot.rules import ground, guards, ledgers, shaking, sideways, standing


def test_pressure_is_load_and_footing_over_the_base():
    assert ground.pressure(N=3170.0, W=230.0, A=340.0 * 250.0) == pytest.approx(0.04, rel=1e-12)


@given(st.floats(1, 1e6), st.floats(1e-3, 5), st.floats(0, 400))
def test_a_base_of_the_area_wanted_presses_exactly_the_ground_value(load, q, thickness):
    gamma = 2e-6
    area = ground.base_area(N=load, q=q, gamma=gamma, t=thickness)
    if area >= 1.0:
        assert ground.pressure(N=load, W=gamma * thickness * area, A=area) == pytest.approx(q, rel=1e-9)
    assert ground.square_side(A=area) ** 2 == pytest.approx(area, rel=1e-12)
    assert math.pi / 4 * ground.round_diameter(A=area) ** 2 == pytest.approx(area, rel=1e-12)


def test_a_push_and_the_friction_against_it():
    assert sideways.push(share=0.05, N=23400.0) == pytest.approx(1170.0, rel=1e-12)
    assert sideways.friction(mu=0.37, N=4100.0) == pytest.approx(1517.0, rel=1e-12)


@given(st.floats(1, 1e5), st.floats(0, 5000), st.floats(500, 20000), st.integers(2, 40))
def test_ties_together_balance_the_push_and_its_turn(push, arm, length, n):
    along, pull = sideways.leaning_ties(H=push, arm=arm, length=length, n=n)
    assert along * n == pytest.approx(push, rel=1e-9)
    places = [length * (k / (n - 1) - 0.5) for k in range(n)]
    pulls = [pull * x / places[-1] for x in places]
    assert sum(p * x for p, x in zip(pulls, places, strict=True)) == pytest.approx(push * arm, rel=1e-9, abs=1e-9)
    assert sum(pulls) == pytest.approx(0.0, abs=1e-6 * (1 + abs(pull)))


def test_two_forces_at_right_angles_add_as_they_do():
    assert sideways.both(along=3.0, pull=4.0) == 5.0


def test_a_post_on_flat_ends_rights_itself_by_width_over_height():
    assert sideways.upright_share(b=105.0, h=420.0) == 0.25


def test_a_guard_post_takes_the_rail_between_posts_or_the_single_load():
    assert guards.post_push(p=0.6, s=1150.0, P=890.0) == 890.0
    assert guards.post_push(p=0.8, s=1150.0, P=890.0) == pytest.approx(920.0, rel=1e-12)
    moment = guards.foot_moment(H=920.0, h=1100.0, t=65.0)
    assert moment == pytest.approx(920.0 * 1165.0, rel=1e-12)
    # Moments about the lower fixing, which presses: pull * a = H * (h + t + a).
    assert guards.upper_pull(M=moment, H=920.0, a=110.0) * 110.0 == pytest.approx(920.0 * (1165.0 + 110.0), rel=1e-12)


def test_a_run_of_whole_spacings_gets_no_fixing_more():
    assert ledgers.fixings_in(length=1050.0, end=25.0, apart=250.0) == (5, 250.0)
    assert ledgers.fixings_in(length=1050.2, end=25.0, apart=250.0)[0] == 6
    assert ledgers.fixings_in(length=60.0, end=25.0, apart=250.0) == (2, 10.0)


def test_a_mass_on_a_spring_swings_at_its_closed_form():
    """10 kg on 8 N/mm: f = sqrt(k/m) / 2 pi with k in N/m."""
    stiffness, kg = 8.0, 10.0
    sag = 3.7
    expected = math.sqrt(stiffness * 1000.0 / kg) / (2 * math.pi)
    found = shaking.rayleigh_frequency(work=stiffness * sag * sag, motion=kg * sag * sag)
    assert found == pytest.approx(expected, rel=1e-12)


def test_ground_that_bears_100_kpa_is_a_bed_of_12_000_kn_per_m3():
    """40 SF q_a with SF = 3, as the book's units have it (kN/m3 of kPa)."""
    assert ground.bed_modulus(q=0.1) == pytest.approx(12_000.0 * 1e-6, rel=1e-12)


def test_a_kilogram_weighs_what_it_does():
    assert shaking.mass(weight=98.0665) == pytest.approx(10.0, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "where"),
    [
        (lambda: ground.base_area(N=1.0, q=0.001, gamma=1e-5, t=200.0), "q"),
        (lambda: ground.pressure(N=-1.0, W=0.0, A=10.0), "N"),
        (lambda: ground.pressure(N=1.0, W=-1.0, A=10.0), "W"),
        (lambda: ground.pressure(N=1.0, W=0.0, A=0.0), "A"),
        (lambda: ground.square_side(A=-1.0), "A"),
        (lambda: ground.bed_modulus(q=0.0), "q"),
        (lambda: ground.round_diameter(A=-1.0), "A"),
        (lambda: sideways.push(share=2.1, N=1.0), "share"),
        (lambda: sideways.friction(mu=1.1, N=1.0), "mu"),
        (lambda: sideways.leaning_ties(H=1.0, arm=1.0, length=100.0, n=1), "n"),
        (lambda: sideways.upright_share(b=0.0, h=1.0), "b"),
        (lambda: guards.post_push(p=-1.0, s=1.0, P=1.0), "p"),
        (lambda: guards.foot_moment(H=1.0, h=1.0, t=-1.0), "t"),
        (lambda: guards.upper_pull(M=1.0, H=1.0, a=0.0), "a"),
        (lambda: ledgers.fixings_in(length=40.0, end=25.0, apart=10.0), "length"),
        (lambda: ledgers.fixings_in(length=100.0, end=25.0, apart=0.0), "apart"),
        (lambda: shaking.rayleigh_frequency(work=0.0, motion=1.0), "work"),
        (lambda: shaking.mass(weight=-1.0), "weight"),
        (lambda: standing.shared_pushes(H=-1.0, stiffness=[1.0], heights=[1.0]), "H"),
        (lambda: standing.shared_pushes(H=1.0, stiffness=[1.0], heights=[0.0]), "heights"),
        (lambda: standing.used_together(sigma_m=1.0, f_m=0.0, sigma_c=1.0, f_c=1.0), "f_m"),
    ],
)
def test_an_argument_out_of_range_is_named(call, where):
    with pytest.raises(OutOfRangeError) as raised:
        call()
    assert (raised.value.fault.code, raised.value.fault.where) == ("rule-range", where)


def test_cantilevers_under_one_top_move_alike_and_add_up():
    pushes = standing.shared_pushes(H=913.0, stiffness=[3e9, 3e9, 5e9], heights=[400.0, 700.0, 700.0])
    moved = [f * h**3 / (3 * ei) for f, ei, h in zip(pushes, [3e9, 3e9, 5e9], [400.0, 700.0, 700.0], strict=True)]
    assert sum(pushes) == pytest.approx(913.0, rel=1e-12)
    assert moved == pytest.approx([moved[0]] * 3, rel=1e-12)


def test_bending_and_pressure_add_up():
    assert standing.used_together(sigma_m=3.0, f_m=12.0, sigma_c=2.0, f_c=5.0) == pytest.approx(0.65, rel=1e-12)
