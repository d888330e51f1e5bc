"""How a floor feels, against closed forms of the simple beam."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, replace
from test_stability import job_with

from evenfoot.checks import Verdict
from evenfoot.solvers import grillage
from evenfoot.strength import check_strength
from evenfoot.strength.comfort import lowest_frequency
from evenfoot.strength.loads import Share


def beam(*, length, ei, ga, elements, ends=((0, "ground"), (-1, "ground"))):
    nodes = elements + 1
    held = [k % nodes for k, _ in ends]
    grid = grillage.Grillage(
        ends=np.array([[k, k + 1] for k in range(elements)]),
        length=np.full(elements, length / elements),
        ei=np.full(elements, ei),
        ga=np.full(elements, ga),
        level=np.arange(nodes),
        n_levels=nodes,
        spring_level=np.zeros(0, dtype=np.int64),
        spring=np.zeros(0),
        upper=np.array(held, dtype=np.int64),
        lower=np.full(len(held), grillage.GROUND, dtype=np.int64),
    )
    return grillage.prepare(grid)


def weights(elements, nodes, line=0.0, at=None):
    levels = np.zeros(nodes)
    if at is not None:
        levels[at[0]] = at[1]
    return Share(own=np.full(elements, line), line=np.zeros(elements), at_levels=levels, area=1.0, dead=1.0)


@pytest.mark.parametrize("elements", [1, 2, 7])
def test_a_simple_beam_swings_at_its_closed_form(elements):
    """f = pi / 2 L2 sqrt(EI / m); the load goes along in steps of elements, which costs up to 2 in 1000 with one or two."""
    length, ei, line = 2730.0, 7.9e9, 0.037
    found = lowest_frequency(
        beam(length=length, ei=ei, ga=np.inf, elements=elements), weights(elements, elements + 1, line)
    )
    kg_per_mm = line / 9.80665
    exact = math.pi / (2 * length**2) * math.sqrt(ei * 1000.0 / kg_per_mm)
    assert found >= exact * (1 - 1e-9)
    assert found == pytest.approx(exact, rel=3e-4 if elements > 2 else 2e-3)


def test_a_mass_in_the_middle_of_a_light_beam_swings_as_on_a_spring():
    length, ei, weight = 1830.0, 4.1e9, 812.0
    prepared = beam(length=length, ei=ei, ga=np.inf, elements=2)
    found = lowest_frequency(prepared, weights(2, 3, at=(1, weight)))
    stiffness = 48.0 * ei / length**3
    assert found == pytest.approx(math.sqrt(stiffness * 9806.65 / weight) / (2 * math.pi), rel=1e-9)


def test_an_overhanging_end_with_a_mass_swings_at_its_closed_form():
    """Back span L, overhang a, mass at the tip: k = 3 EI / (a2 (L + a)). Nothing lifts: the tip hangs on a heavier middle."""
    span, out, ei = 1500.0, 500.0, 5.3e9
    prepared = beam(length=2000.0, ei=ei, ga=np.inf, elements=4, ends=((0, "g"), (3, "g")))
    levels = np.array([0.0, 0.0, 0.0, 0.0, 20.0])
    share = Share(own=np.full(4, 1e-9), line=np.zeros(4), at_levels=levels, area=1.0, dead=1.0)
    # Held down at its far end by a weight there, which does not move.
    share = Share(own=share.own, line=share.line, at_levels=levels + np.array([5e4, 0, 0, 0, 0]), area=1.0, dead=1.0)
    stiffness = 3.0 * ei / (out**2 * (span + out))
    exact = math.sqrt(stiffness * 9806.65 / 20.0) / (2 * math.pi)
    assert lowest_frequency(prepared, share) == pytest.approx(exact, rel=1e-4)


def feel(plan=None, height=0.0, **given):
    frame = make_frame(plan or Plan())
    strength = check_strength(job_with(**given), frame, heights(frame, height))
    return {c.rule: c for c in strength.checks if c.rule in {"floor-swing", "person-sag"}}


def test_one_kilonewton_on_a_joist_sags_it_as_statics_says():
    """The outer joists stand right over posts, beams on rigid feet; person 1 N so that the softest place is his."""
    found = feel(replace(Plan(), joists=(0.0, 910.0), posts=(0.0, 910.0)))["person-sag"]
    e, i, a, span = 9000.0, 45.0 * 90.0**3 / 12.0, 45.0 * 90.0, 1210.0
    bend = 1000.0 * span**3 / (48.0 * e * i)
    shear = 1000.0 * span / (4.0 * e / 15.0 * a * 5.0 / 6.0)
    assert found.demand == pytest.approx(bend + shear, rel=1e-6)
    assert found.fact("neighbour") == 0
    assert found.verdict is Verdict.OK


def test_a_soft_beam_takes_the_next_joist_along():
    four = replace(Plan(), joists=(0.0, 300.0, 600.0, 900.0), posts=(0.0, 900.0))
    firm = feel(four)["person-sag"]
    soft = feel(replace(four, beam=replace(four.beam, depth=50.0)))["person-sag"]
    assert soft.fact("neighbour") > firm.fact("neighbour") + 5
    assert soft.demand > firm.demand


def test_a_longer_floor_swings_slower():
    short = feel()["floor-swing"]
    long = feel(replace(Plan(), beams=(0.0, 2420.0), reach=(0.0, 2420.0)))["floor-swing"]
    assert long.demand < short.demand / 2
    assert short.fact("feel_code") == "feel.calm"


def test_the_figures_that_comfort_is_told_against_are_the_published_ones():
    from evenfoot.tables import safety

    found = {name: safety.figure(f"comfort.{name}").value for name in ("frequency", "step", "sag")}
    assert found == {"frequency": 8.0, "step": 2.0, "sag": 1.5}
    assert safety.figure("concrete.weight").value == pytest.approx(150 * 4.4482216152605 / 0.3048**3 / 1000, rel=0.005)


@pytest.mark.parametrize("standard", ["europe", "north-america"])
def test_comfort_is_told_by_every_standard(standard):
    from evenfoot.job import kinds
    from evenfoot.strength.standards import practice_for

    species, grade = ("european_larch", "c24") if standard == "europe" else ("treated_pine", "no-2")
    spec = {"species": species, "strength_grade": grade}
    plan = Plan(
        joist=replace(Plan().joist, width=38.1, depth=184.15, **spec),
        beam=replace(Plan().beam, width=88.9, depth=184.15, **spec),
        post=replace(Plan().post, width=88.9, depth=88.9, **spec),
    )
    job = replace(job_with(), standard=kinds.Standard(standard))
    assert practice_for(job) is not None
    frame = make_frame(plan)
    strength = check_strength(job, frame, heights(frame, 400.0))
    rules = {c.rule for c in strength.checks}
    assert {"floor-swing", "person-sag", "sway", "footing-pressure"} <= rules, {
        c.reason for c in strength.checks if c.rule == "unchecked"
    }
    dead = sum(p.force for p in strength.post_loads if p.case == "dead")
    push = next(c for c in strength.checks if c.rule == "sway").demand
    # 5 % of own weight and plain live load: 1.92 kN/m2 in North America; Europe's balcony and dwelling rows lie between.
    area = (932.5 + 22.5) * (1210.0 + 105.0)
    low, high = (1.9e-3, 1.93e-3) if standard == "north-america" else (1.4e-3, 5.1e-3)
    assert 0.05 * (dead + low * area) * 0.99 <= push <= 0.05 * (dead + high * area) * 1.01
