from __future__ import annotations

import numpy as np
import pytest

from evenfoot.solvers import beam_element

L, E_I, G_A = np.array([913.0, 1471.0]), np.array([6.1e10, 2.9e10]), np.array([4.7e6, np.inf])


def test_forces_of_a_rigid_motion_are_nothing():
    moved = np.zeros((2, 4, 2))
    moved[:, 0::2, 0] = 3.0  # lifted
    moved[:, 0, 1], moved[:, 1, 1], moved[:, 2, 1], moved[:, 3, 1] = 0.0, 0.01, 0.01 * L, 0.01  # turned
    forces = beam_element.end_forces(stiffness=beam_element.stiffness(length=L, ei=E_I, ga=G_A), moved=moved)
    assert np.allclose(forces, 0.0, atol=1e-6)


def test_written_out_forces_equal_the_stiffness_matrix():
    moved = np.random.default_rng(5).normal(size=(2, 4, 3))
    k = beam_element.stiffness(length=L, ei=E_I, ga=G_A)
    assert np.allclose(beam_element.end_forces(stiffness=k, moved=moved), k @ moved, rtol=1e-12)
    assert np.allclose(k, np.swapaxes(k, 1, 2))


def test_tip_stiffness_is_that_of_a_cantilever_that_bends_and_shears():
    k = beam_element.stiffness(length=L, ei=E_I, ga=G_A)
    for n in range(2):
        flexible = np.linalg.inv(k[n][2:, 2:])
        shear = L[n] / G_A[n] if np.isfinite(G_A[n]) else 0.0
        assert flexible[0, 0] == pytest.approx(L[n] ** 3 / (3 * E_I[n]) + shear, rel=1e-9)
        assert flexible[1, 1] == pytest.approx(L[n] / E_I[n], rel=1e-9)


def test_field_of_a_fixed_beam_under_even_load_is_the_textbook_curve():
    q, moved = np.array([[0.7], [0.7]]), np.zeros((2, 4, 1))
    own = {"x": L[:, None, None] / 2, "moved": moved, "q": q, "length": L, "ei": E_I, "ga": G_A}
    shear = np.array([0.7 * L[0] ** 2 / (8 * G_A[0]), 0.0])
    assert beam_element.sag(**own)[:, 0, 0] == pytest.approx(0.7 * L**4 / (384 * E_I) + shear, rel=1e-9)
    assert beam_element.tilt(**own)[0] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("at", [0.13, 0.5, 0.81])
def test_slope_and_curvature_are_the_derivatives_of_the_field(at):
    moved = np.random.default_rng(3).normal(size=(2, 4, 3)) * np.array([1.0, 0.01, 1.0, 0.01])[:, None]
    q, x, h = np.array([[0.4, 1.1, 0.0], [1.1, 0.0, 0.9]]), at * L[:, None, None], 1e-2
    own = {"moved": moved, "q": q, "length": L, "ei": E_I, "ga": G_A}
    first, second = beam_element.tilt(x=x, **own)
    before, after = x - h, x + h
    sink = beam_element.sag(x=after, **own) - beam_element.sag(x=before, **own)
    bend = beam_element.tilt(x=after, **own)[0] - beam_element.tilt(x=before, **own)[0]
    assert first == pytest.approx(sink / (2 * h), rel=1e-6)
    assert second == pytest.approx(bend / (2 * h), rel=1e-6)


def test_many_cases_at_once_are_each_case_alone_at_its_own_places():
    rng = np.random.default_rng(11)
    moved, q, x = rng.normal(size=(2, 4, 5)), rng.normal(size=(2, 5)), rng.uniform(size=(2, 3, 5)) * L[:, None, None]
    own = {"length": L, "ei": E_I, "ga": G_A}
    together = beam_element.sag(x=x, moved=moved, q=q, **own)
    slopes = beam_element.tilt(x=x, moved=moved, q=q, **own)
    for k in range(5):
        case = {"x": x[:, :, k : k + 1], "moved": moved[:, :, k : k + 1], "q": q[:, k : k + 1]}
        assert np.array_equal(together[:, :, k : k + 1], beam_element.sag(**case, **own))
        for all_at_once, alone in zip(slopes, beam_element.tilt(**case, **own), strict=True):
            assert np.array_equal(all_at_once[:, :, k : k + 1], alone)


def test_moment_and_shear_of_a_simple_span():
    q, length = 0.83, 1290.0
    ends = np.array([[[-q * length / 2], [0.0], [-q * length / 2], [0.0]]])
    x = np.array([[length / 2]])
    load = np.array([[q]])
    assert beam_element.moment(ends=ends, x=x, q=load)[0, 0] == pytest.approx(q * length**2 / 8, rel=1e-12)
    assert beam_element.shear(ends=ends, x=np.array([[0.0]]), q=load)[0, 0] == pytest.approx(q * length / 2)
    assert beam_element.peak(ends=ends, q=load)[0, 0] == pytest.approx(length / 2)
    assert np.isnan(beam_element.peak(ends=ends, q=np.zeros((1, 1)))[0, 0])


@pytest.mark.parametrize("share", [0.17, 0.5, 0.83])
def test_a_load_within_an_element_is_the_element_cut_in_two_there(share):
    """Nodal forces and the sink under the load, against two elements that meet under it with their middle let go."""
    for n in range(2):
        one = {"length": L[n : n + 1], "ei": E_I[n : n + 1], "ga": G_A[n : n + 1]}
        at = share * one["length"]
        whole = np.zeros((6, 6))
        for part, first in ((at, 0), (one["length"] - at, 2)):
            k = beam_element.stiffness(length=part, ei=one["ei"], ga=one["ga"])[0]
            whole[first : first + 4, first : first + 4] += k
        middle, ends = [2, 3], [0, 1, 4, 5]
        sunk = np.linalg.inv(whole[np.ix_(middle, middle)])[:, 0]
        held = -whole[np.ix_(ends, middle)] @ sunk
        assert beam_element.point_load(at=at, **one)[0] == pytest.approx(held, rel=1e-9)
        assert beam_element.point_give(at=at, **one)[0] == pytest.approx(sunk[0], rel=1e-9)


def test_a_load_within_a_slender_element_has_the_textbook_end_moments():
    a, b = 400.0, 900.0
    found = beam_element.point_load(
        at=np.array([a]), length=np.array([a + b]), ei=np.array([1.0]), ga=np.array([np.inf])
    )[0]
    length = a + b
    expected = [
        b**2 * (3 * a + b) / length**3,
        a * b**2 / length**2,
        a**2 * (a + 3 * b) / length**3,
        -(a**2) * b / length**2,
    ]
    assert found == pytest.approx(expected, rel=1e-12)


def test_a_load_at_an_end_stands_on_the_node():
    ends = {"length": L, "ei": E_I, "ga": G_A}
    assert beam_element.point_load(at=np.zeros(2), **ends) == pytest.approx(np.array([[1.0, 0, 0, 0]] * 2))
    assert beam_element.point_load(at=L, **ends) == pytest.approx(np.array([[0, 0, 1.0, 0]] * 2), abs=1e-12)
    assert beam_element.point_give(at=np.array([0.0, L[1]]), **ends) == pytest.approx([0.0, 0.0])


@pytest.mark.parametrize(
    ("ratio", "beta"), [(1.0, 0.1406), (1.5, 0.196), (2.0, 0.229), (3.0, 0.263), (5.0, 0.291), (10.0, 0.312)]
)
def test_torsion_constants_of_rectangles_are_the_published_ones(ratio, beta):
    """J = beta b a3. Source: Timoshenko and Goodier, Theory of Elasticity, 3rd ed. 1970, art. 109, table 15."""
    digits = 5e-5 if beta == 0.1406 else 5e-4
    for width, depth in ((60.0, 60.0 * ratio), (60.0 * ratio, 60.0)):
        assert beam_element.twist_constant(width=width, depth=depth) / (60.0**4 * ratio) == pytest.approx(
            beta, abs=digits
        )
