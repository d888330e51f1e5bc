"""Each figure of North American practice on record against what its clause prints, and the sums of whole tables."""

from __future__ import annotations

import csv
import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from test_worked import rows
from us_quantities import FOOT, INCH, LIVE, POUND, PRACTICE, PSF, PSI, piece, stock_modulus, strength_of

from evenfoot.rules import wood
from evenfoot.rules.nds_2018 import values
from evenfoot.strength.standards import Stress
from evenfoot.tables import strength_us
from evenfoot.tables.strength_us.factors import figures

DATA = Path(__file__).parents[3] / "src" / "evenfoot" / "tables" / "data"
UNITS = {"-": 1.0, "in": INCH, "ft": FOOT, "lb": POUND, "psi": PSI, "psf": PSF, "pcf": POUND / FOOT**3}


def shipped(name):
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows("figures.csv"), ids=lambda r: r["figure"])
def test_each_factor_is_the_figure_of_its_clause(row):
    found = strength_us.factor(row["figure"])
    assert found.value == pytest.approx(float(row["printed"]) * UNITS[row["unit"]], rel=1e-12)


def test_no_factor_is_without_its_printed_figure():
    assert {row["figure"] for row in rows("figures.csv")} == set(figures())


@pytest.mark.parametrize(
    ("table", "count", "sums"),
    [
        (
            "us_lumber.csv",
            16,
            {
                "F_b_psi": "12850",
                "F_t_psi": "7675",
                "F_v_psi": "2525",
                "F_cp_psi": "7960",
                "F_c_psi": "16000",
                "E_psi": "20200000",
                "E_min_psi": "7370000",
                "G": "7.52",
            },
        ),
        (
            "us_sizes.csv",
            9,
            {
                "dressed_in": "58.50",
                "bending_thin": "11.4",
                "bending_4in": "11.8",
                "tension": "11.4",
                "along": "9.60",
                "flat_thin": "10.10",
                "flat_4in": "7.45",
            },
        ),
        ("us_deck_footings.csv", 21, {"southern_pine_ft": "252", "round_in": "614", "square_in": "542"}),
        ("us_deck_posts.csv", 16, {"tributary_ft2": "1440", "value_in": "2016"}),
        ("us_decking.csv", 2, {"square_in": "40", "diagonal_in": "28"}),
    ],
)
def test_a_slip_in_any_cell_of_a_table_shows_in_its_column_sum(table, count, sums):
    found = shipped(table)
    assert len(found) == count
    for name, expected in sums.items():
        assert sum(Decimal(r[name]) for r in found if r[name]) == Decimal(expected), name


def test_every_printed_modulus_for_buckling_follows_from_the_modulus():
    """Appendix D.4 with a spread of 0.25, to the 10,000 psi that the Supplement prints."""
    spread = strength_us.factor("modulus.spread").value
    for row in shipped("us_lumber.csv"):
        found = values.least_modulus(E=float(row["E_psi"]), cov=spread)
        assert abs(found - float(row["E_min_psi"])) <= 5000.0, row["species"]


def test_wet_timber_weighs_what_the_handbook_gives_for_southern_pine():
    """Specific gravity 0.55 by oven-dry weight and volume, at 28 %: rounded up to whole tens of lb/ft3."""
    density = wood.density_at(gravity=0.55, moisture=28.0, fsp=30.0)
    pcf = density * 9.80665e-9 / UNITS["pcf"]
    assert 35.0 < pcf <= strength_us.factor("dead.wet-timber").value / UNITS["pcf"] == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("part", "name", "size", "stress", "psi"),
    [
        # F_b C_F against 1150 psi decides whether wet service counts: 900 x 1.3 is over it, 900 x 1.2 is not.
        ("joist", "douglas_fir", "2x6", Stress.BENDING, 900 * 1.3 * 0.85 * 0.8 * 1.15),
        ("joist", "douglas_fir", "2x8", Stress.BENDING, 900 * 1.2 * 0.8 * 1.15),
        ("joist", "treated_pine", "2x6", Stress.BENDING, 1000 * 1.15),
        ("beam", "treated_pine", "2x6", Stress.BENDING, 1000),
        ("beam", "western_redcedar", "4x10", Stress.BENDING, 700 * 1.2),
        ("beam", "redwood_old", "4x6", Stress.BENDING, 925 * 1.3 * 0.85),
        ("board", "treated_pine", "2x6", Stress.BENDING, 1000 * 1.15),
        ("board", "western_redcedar", "2x6", Stress.BENDING, 700 * 1.3 * 1.15),
        ("joist", "western_hemlock", "2x10", Stress.SHEAR, 150 * 0.97 * 0.8),
        ("joist", "treated_pine", "2x10", Stress.SHEAR, 175 * 0.97),
        ("beam", "douglas_fir", "4x8", Stress.ACROSS, 625 * 0.67),
        ("post", "treated_pine", "4x4", Stress.ALONG, 1450 * 0.8),
        ("post", "western_redcedar", "4x4", Stress.ALONG, 650 * 1.15),
        ("post", "norway_spruce", "4x6", Stress.ALONG, 1150 * 1.1 * 0.8 * 0.8),
        ("post", "treated_pine", "6x6", Stress.ALONG, 525),
        ("post", "douglas_fir", "6x6", Stress.ALONG, 700 * 0.91),
    ],
)
def test_adjusted_values_are_the_products_of_the_printed_factors(part, name, size, stress, psi):
    one = piece(part, name, size, pitch=16.0 * INCH if part == "joist" else float("inf"))
    if part == "board":
        one = type(one)(
            part=one.part, species=one.species, grade=one.grade, width=one.depth, depth=one.width, pitch=one.pitch
        )
    assert strength_of(stress, one) / PSI == pytest.approx(psi, rel=1e-9)


def test_duration_counts_in_all_strengths_but_across_the_grain():
    cases = {c.code: c for c in type(PRACTICE)(use="dwelling", snow_depth=300.0, person=1.0).cases()}
    one = piece("beam", "treated_pine", "2x8")
    for stress in (Stress.BENDING, Stress.SHEAR, Stress.ALONG):
        assert strength_of(stress, one, cases["snow"]) == pytest.approx(1.15 * strength_of(stress, one), rel=1e-9)
        assert strength_of(stress, one, cases["dead-alone"]) == pytest.approx(0.9 * strength_of(stress, one), rel=1e-9)
    assert strength_of(Stress.ACROSS, one, cases["snow"]) == strength_of(Stress.ACROSS, one)


@pytest.mark.parametrize(
    ("name", "size", "psi"),
    [
        ("treated_pine", "2x8", 1.4e6 * 0.9),
        ("douglas_fir", "2x8", 1.6e6 * 0.9 * 0.95),
        ("western_redcedar", "2x8", 1.0e6 * 0.9),
    ],
)
def test_moduli_are_wet_and_incised(name, size, psi):
    assert stock_modulus(piece("joist", name, size)) / PSI == pytest.approx(psi, rel=1e-9)
    kept = PRACTICE.wood(piece("joist", name, size))
    assert kept.modulus == pytest.approx(1.03 * psi * PSI, rel=1e-9)
    assert kept.shear_modulus == pytest.approx(kept.modulus / 16.0, rel=1e-12)


@pytest.mark.parametrize("row", shipped("us_deck_posts.csv"), ids=lambda r: f"{r['size']}-{r['tributary_ft2']}")
def test_posts_stand_as_tall_as_the_code_allows_and_up_to_3_in_more(row):
    """50 psf on the area, both ends held; the code stops at 14 ft. The table itself is recalled, not read."""
    one = piece("post", row["group"].replace("southern_pine", "treated_pine"), row["size"])
    made = PRACTICE.wood(one)
    load = 50.0 * PSF * float(row["tributary_ft2"]) * FOOT**2

    def holds(height):
        free = PRACTICE.post(wood=made, height=height)
        rule = type(free)(
            slenderness=free.slenderness / strength_us.factor("post.free-top").value,
            limit=free.limit,
            length=height,
            doubts=(),
        )
        factor = PRACTICE.buckling(wood=made, rule=rule, case=LIVE)
        strength = PRACTICE.strength(Stress.ALONG, made, LIVE).value * factor.value
        return load / (one.width * one.depth) <= strength and rule.slenderness <= rule.limit

    printed = float(row["value_in"])
    assert holds(printed * INCH)
    if printed < 168.0:
        assert not holds((printed + 3.0) * INCH)


@pytest.mark.parametrize("name", ["treated_pine", "douglas_fir"])
@pytest.mark.parametrize(
    "row", shipped("us_deck_footings.csv"), ids=lambda r: f"{r['beam_span_ft']}x{r['joist_span_ft']}"
)
def test_big_posts_of_the_guide_stand_by_the_specification(row, name):
    """50 psf, joists with an overhang of a quarter, ends held: as tall as the guide's cell and in no case less."""
    one = piece("post", name, "6x6")
    made = PRACTICE.wood(one)
    beam, joist = float(row["beam_span_ft"]) * FOOT, float(row["joist_span_ft"]) * FOOT
    found = strength_us.big_post_row(species=made.species, beam_span=beam, joist_span=joist)
    assert found is not None
    assert found.limit == pytest.approx(12.0 * float(row[f"{made.species}_ft"]) * INCH)
    assert not found.is_confirmed
    held = type(PRACTICE)(use="dwelling", snow_depth=0.0, person=1.0, holds_heads=True)
    rule = held.post(wood=made, height=found.limit)
    strength = held.strength(Stress.ALONG, made, LIVE).value * held.buckling(wood=made, rule=rule, case=LIVE).value
    assert 50.0 * PSF * beam * 0.78125 * joist / (one.width * one.depth) <= strength
