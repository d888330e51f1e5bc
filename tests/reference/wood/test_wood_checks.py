"""The rules of wood against published figures and hand-worked ones, each as printed."""

from __future__ import annotations

import csv
import json
import math
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.rules.coating_time import dew_margin, recoat_hours
from evenfoot.rules.decay import ExposureFactors, climate_index, design_index, exposure_index
from evenfoot.rules.moisture import dew_point, equilibrium_moisture
from evenfoot.rules.movement import (
    MovingBoard,
    coefficient_from_total,
    gap_at,
    gap_to_set,
    width_change,
    width_change_wide,
)
from evenfoot.rules.wood import density_at, lift_limit, mass, oven_dry_gravity

HERE = Path(__file__).parent
FSP = 28.0


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def fahrenheit_form(t: float, h: float) -> float:
    """The sorption fit in its other published set of coefficients, degrees Fahrenheit: a peer for ours."""
    w = 330 + 0.452 * t + 0.00415 * t**2
    k = 0.791 + 0.000463 * t - 0.000000844 * t**2
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    a = k * h
    return 1800 / w * (a / (1 - a) + (k1 * a + 2 * k1 * k2 * a * a) / (1 + k1 * a + k1 * k2 * a * a))


def board(i: dict) -> MovingBoard:
    return MovingBoard(width=i.get("w", i.get("D")), coefficient=i.get("c", i.get("C")), fsp=i.get("fsp", FSP))


def exposure(i: dict) -> float:
    factors = ExposureFactors(**{k: i[k] for k in ("k_s1", "k_s2", "k_s3", "k_s4", "c_a")})
    return exposure_index(site=i["I_S0"], factors=factors)


def board_mass(i: dict) -> float:
    density = density_at(gravity=oven_dry_gravity(i["rho12"]), moisture=i["M"], fsp=FSP)
    return mass(volume=math.prod(i["mm"]), density=density)


def to_set(i: dict) -> float:
    return gap_to_set(board(i), fixing=i["m_fix"], wet=i["m_wet"], gap_min=i["g_min"])


FORMULAS: dict[str, Callable[[dict], float | bool]] = {
    "equilibrium_moisture": lambda i: equilibrium_moisture(temperature=i["T"], humidity=100 * i["h"]),
    "fahrenheit": lambda i: fahrenheit_form(i["T"], i["h"]),
    "coefficient_from_total": lambda i: coefficient_from_total(total=i["S"], fsp=i["fsp"]),
    "width_change": lambda i: width_change(board(i), start=i["Mi"], finish=i["Mf"]),
    "width_change_wide": lambda i: width_change_wide(width=i["D"], total=i["S"], start=i["Mi"], finish=i["Mf"]),
    "gap_to_set": to_set,
    "gap_at": lambda i: gap_at(board(i), gap=i["g_fix"], fixing=i["m_fix"], moisture=i["m"]),
    "pitch": lambda i: i["w"] + to_set(i),
    "climate_index": lambda i: climate_index(temperatures=i["T"], rain_days=i["D"]),
    "exposure_index": exposure,
    "design_index": lambda i: design_index(index=exposure(i), gamma_d=i["gamma"]),
    "accepted": lambda i: i["I_Sd"] < i["I_Rd"],
    "dew_point": lambda i: dew_point(temperature=i["T"], humidity=i["RH"]),
    "dew_allows": lambda i: (
        dew_margin(surface=i["surface"], dew_point=dew_point(temperature=i["T"], humidity=i["RH"])) >= 3.0
    ),
    "recoat_hours": lambda i: recoat_hours(hours_at_20=i["t20"], temperature=i["T"], humidity=i["RH"]),
    "density_at": lambda i: density_at(gravity=i["G0"], moisture=i["M"], fsp=FSP),
    "oven_dry_gravity": lambda i: oven_dry_gravity(i["rho12"]),
    "mass": board_mass,
    "lift_limit": lambda i: lift_limit(share=0.40, body_mass=i["body"]),
}


def tolerance_of(row: dict[str, str]) -> float:
    """Half the last printed digit, unless the row gives a wider one with its reason."""
    digits = -Decimal(row["expected"]).as_tuple().exponent
    half = 0.5 * 10.0**-digits * (1 + 1e-9)
    if not row["tolerance"]:
        return half
    assert row["reason"], f"{row['id']}: a wider tolerance needs its reason"
    return max(float(row["tolerance"]), half)


@pytest.mark.parametrize("row", rows("checks.csv"), ids=lambda r: r["id"])
def test_rule_gives_the_printed_figure(row):
    got = FORMULAS[row["formula"]](json.loads(row["inputs"]))
    if row["expected"] in {"true", "false"}:
        assert got is (row["expected"] == "true")
    else:
        assert got == pytest.approx(float(row["expected"]), rel=0, abs=tolerance_of(row))


@pytest.mark.parametrize("row", rows("emc_table.csv"), ids=lambda r: r["RH_pct"])
def test_the_table_of_equilibrium_moisture_comes_out(row):
    humidity = float(row.pop("RH_pct"))
    assert row
    for head, printed in row.items():
        temperature = float(head.removeprefix("T").removesuffix("C"))
        got = equilibrium_moisture(temperature=temperature, humidity=humidity)
        assert got == pytest.approx(float(printed), rel=0, abs=0.05 + 1e-9), head


@pytest.mark.parametrize("temperature", [0.0, 12.5, 21.1, 30.0, 45.0])
@pytest.mark.parametrize("humidity", [15.0, 50.0, 65.0, 82.5, 95.0])
def test_both_published_sets_of_sorption_coefficients_agree(temperature, humidity):
    ours = equilibrium_moisture(temperature=temperature, humidity=humidity)
    theirs = fahrenheit_form(temperature * 1.8 + 32.0, humidity / 100)
    assert ours == pytest.approx(theirs, abs=0.12)


@pytest.mark.parametrize("row", rows("movement_ranges.csv"), ids=lambda r: r["id"])
def test_movement_lies_in_the_published_range(row):
    c = (float(row["c_radial"]) + float(row["c_tangential"])) / 2
    one = MovingBoard(width=float(row["width_mm"]), coefficient=c, fsp=float(row["fsp"]))
    moved = width_change(one, start=float(row["dry"]), finish=float(row["wet"]))
    assert float(row["low_mm"]) <= moved <= float(row["high_mm"])
