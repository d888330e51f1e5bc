"""Fixings, coating and labour against outside figures, to half the last printed digit."""

from __future__ import annotations

import csv
import json
import math
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.rules import ec5_fasteners, jp_fasteners, nds_fasteners
from evenfoot.tables import coating, fasteners, labour
from evenfoot.tables.coating import WoodSurface

HERE = Path(__file__).parent
CLASSES = {"light": (380.0, False), "heavy": (470.0, False), "predrilled": (380.0, True)}
EC5 = {
    "a1": ec5_fasteners.spacing_along,
    "a2": ec5_fasteners.spacing_across,
    "a3t": ec5_fasteners.end_loaded,
    "a4t": ec5_fasteners.edge_loaded,
}
EC5_UNLOADED = {"a3c": ec5_fasteners.end_unloaded, "a4c": ec5_fasteners.edge_unloaded}
JP = {
    "end_along": jp_fasteners.end_along,
    "edge_along": jp_fasteners.edge_along,
    "spacing_along": jp_fasteners.spacing_along,
    "edge_across": jp_fasteners.edge_across,
    "end_across": jp_fasteners.end_across,
}
LB_PER_INCH = 4.4482216152605 / 25.4


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_digit(printed: str) -> float:
    return float(Decimal(1).scaleb(Decimal(printed).as_tuple().exponent)) / 2


def ec5_distance(given: dict) -> float:
    rho, bored = CLASSES[given["cls"]]
    if given["which"] in EC5_UNLOADED:
        return EC5_UNLOADED[given["which"]](d=given["d"], rho_k=rho, is_predrilled=bored)
    rule = EC5[given["which"]]
    return rule(d=given["d"], rho_k=rho, is_predrilled=bored, alpha=math.radians(given["alpha"]))


def stainless_loss(given: dict) -> float:
    carbon = nds_fasteners.nail_withdrawal(d=3.0, length=1.0, g=given["G"])
    return 1.0 - nds_fasteners.stainless_nail_withdrawal(d=3.0, length=1.0, g=given["G"]) / carbon


def wp_two_coats(given: dict) -> float:
    """Kilograms: the least litres of both coats, back into mass with the table's own density."""
    spreads = [coating.spread("water-repellent", WoodSurface.PLANED, coat=n).low for n in (1, 2)]
    return given["area"] * sum(spreads) * 0.90


FORMULAS = {
    "ec5_distance": ec5_distance,
    "jp_distance": lambda g: JP[g["which"]](d=g["d"]),
    "max(7d,(13d-30)*rho/400)": lambda g: ec5_fasteners.thickness_bare(d=g["d"], rho_k=g["rho_k"]),
    "ec5_smooth_withdrawal": lambda g: ec5_fasteners.nail_withdrawal(**g),
    "ec5_screw_withdrawal": lambda g: ec5_fasteners.screw_withdrawal(
        d=g["d"], l_ef=g["l_ef"], rho_k=g["rho_k"], alpha=math.radians(g["alpha"])
    ),
    "nds_carbon_smooth": lambda g: nds_fasteners.nail_withdrawal(d=g["D_in"] * 25.4, length=1000.0, g=g["G"]),
    "1380*G^2.5*D": lambda g: nds_fasteners.nail_withdrawal(d=g["D_in"] * 25.4, length=1.0, g=g["G"]) / LB_PER_INCH,
    "9.515*G^2.5*D*L": lambda g: nds_fasteners.nail_withdrawal(d=g["D"], length=g["L"], g=g["G"]),
    "1-465*G^1.5/(1380*G^2.5)": stainless_loss,
    "54.12*G^2.5*D*L": lambda g: nds_fasteners.nail_withdrawal_ultimate(d=g["D"], length=g["L"], g=g["G"]),
    "table*cm": lambda g: (
        fasteners.hold_jp(g["mark"], group={"I": 1, "II": 2}[g["group"]]).per_mm * 10 * g["cm"] / 9.80665
    ),
    "area*(0.06+0.06)": wp_two_coats,
    "area/rate": lambda g: g["area"] * coating.spread("penetrating", WoodSurface.SAWN, coat=1).high,
}


@pytest.mark.parametrize("row", rows("checks.csv"), ids=lambda r: r["id"])
def test_published_figure(row):
    assert row["source"]
    given = json.loads(row["inputs"])
    tolerance = float(row["tolerance"]) if row["tolerance"] else half_digit(row["expected"])
    assert not row["tolerance"] or row["reason"], "a wider tolerance needs its reason"
    assert FORMULAS[row["rule"]](given) == pytest.approx(float(row["expected"]), abs=tolerance * 1.0001, rel=0)


@pytest.mark.parametrize("row", rows("labour_published.csv"), ids=lambda r: r["task"])
def test_typical_rate_is_what_was_measured(row):
    measured = float(row["hours"]) / float(row["quantity"])
    assert measured == pytest.approx(float(row["expected"]), abs=half_digit(row["expected"]))
    rate = labour.rate(row["task"])
    assert rate.typical == float(row["expected"])
    assert rate.is_confirmed
    assert row["source"] in rate.source.split()
