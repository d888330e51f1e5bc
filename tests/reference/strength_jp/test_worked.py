"""Published and hand-worked figures of Japanese timber practice against the public rule functions, as printed."""

from __future__ import annotations

import csv
import math
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.rules import one_span
from evenfoot.rules.japan_2000 import beams, bearing, columns, sections, stresses
from evenfoot.tables import strength_jp

HERE = Path(__file__).parent


def rows(name):
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_last_digit(printed: str) -> float:
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0 ** min(exponent, 0) * (1.0 + 1e-7)


def load(i):
    return (i["dead"] + i["live"]) * 1e-6 * i["width"] if "width" in i else 0.0


def moment(i):
    return one_span.middle_moment(w=load(i), P=i.get("P", 0.0), L=i["L"])


def section(i):
    return {"b": i["b"], "h": i["h"]}


def shear(i):
    return one_span.end_shear(w=load(i), P=0.0, L=i["L"])


def allowed(i):
    return stresses.allowable_stress(F=i["F"], n=i["n"], K_m=i["K_m"])


def slender(i):
    return columns.slenderness(l_k=i["l_k"], i=columns.radius_of_gyration(**section(i)))


def eta(i):
    return columns.buckling_factor(lambda_=slender(i))


def column(i):
    return columns.allowable_column_stress(eta=eta(i), f_c=allowed(i)) * sections.area(**section(i))


def sag(i):
    return one_span.even_sag(w=load(i), L=i["L"], EI=i["E"] * sections.second_moment(**section(i)), GA=1e30)


def bent(i):
    return beams.bending_stress(M=moment(i), Z_e=sections.section_modulus(**section(i)))


def sheared(i):
    return beams.shear_stress(Q=shear(i), A_e=sections.area(**section(i)))


def notch(i):
    return {"b": i["b"], "h": i["h"], "n": i["n"]}


QUANTITIES = {
    "lambda": slender,
    "eta": eta,
    "column_kn": lambda i: column(i) / 1000.0,
    "column_area_m2": lambda i: column(i) / 1000.0 / i["q"],
    "column_stress": lambda i: columns.column_stress(N=i["N"], A=sections.area(**section(i))),
    "pressed_depth": lambda i: math.sqrt(6.0 * sections.notched_modulus_compression(**notch(i)) / i["b"]),
    "pulled_depth": lambda i: math.sqrt(6.0 * sections.notched_modulus_tension(**notch(i)) / i["b"]),
    "pressed_percent": lambda i: (
        100.0 * sections.notched_modulus_compression(**notch(i)) / sections.section_modulus(**section(i))
    ),
    "line_load": load,
    "moment": moment,
    "Z": lambda i: sections.section_modulus(**section(i)),
    "I": lambda i: sections.second_moment(**section(i)),
    "sigma_b": bent,
    "f": allowed,
    "ratio_b": lambda i: bent(i) / allowed(i),
    "shear": shear,
    "tau": sheared,
    "ratio_s": lambda i: sheared(i) / allowed(i),
    "sag": sag,
    "sag_creep": lambda i: 2.0 * sag(i),
    "span_250": lambda i: beams.sag_limit(L=i["L"], share=250.0, creep=1.0),
    "bearing": lambda i: stresses.allowable_bearing(F_cv=i["F_cv"], n=i["n"], K_m=i["K_m"], alpha_end=i["alpha_end"]),
    "Z_0": lambda i: sections.notched_modulus_compression(**notch(i)),
    "Z_e": lambda i: sections.notched_modulus_tension(**notch(i)),
    "Z_e_share": lambda i: sections.notched_modulus_tension(**notch(i)) / sections.section_modulus(**section(i)),
    "A_0": lambda i: sections.notched_area_compression(**notch(i)),
    "A_e": lambda i: sections.notched_area_tension(**notch(i)),
    "A_e_share": lambda i: sections.notched_area_tension(**notch(i)) / sections.area(**section(i)),
}


@pytest.mark.parametrize("row", rows("worked.csv"), ids=lambda r: f"{r['id']}:{r['quantity']}:{r['expected']}")
def test_the_rules_give_the_printed_figure(row):
    inputs = {k: float(v) for k, v in (pair.split("=") for pair in row["inputs"].split())}
    found = QUANTITIES[row["quantity"]](inputs)
    tolerance = float(row["tolerance"]) if row["tolerance"] else half_last_digit(row["expected"])
    if row["tolerance"]:
        assert row["note"], "a wider tolerance needs its reason"
    assert abs(found - float(row["expected"])) <= tolerance


@pytest.mark.parametrize("row", rows("figures.csv"), ids=lambda r: r["figure"])
def test_each_factor_is_the_figure_of_its_clause(row):
    assert strength_jp.factor(row["figure"]).value == pytest.approx(float(row["printed"]), rel=1e-12)


def test_no_factor_is_without_its_printed_figure():
    known = {row["figure"] for row in rows("figures.csv")}
    assert known == set(strength_jp._factors())


@pytest.mark.parametrize("row", rows("strengths.csv"), ids=lambda r: f"{r['species']}:{r['grade']}:{r['figure']}")
def test_strengths_are_as_printed(row):
    found = strength_jp.wood_strength(species=row["species"], grade=row["grade"])
    assert getattr(found, row["figure"]) == float(row["printed"])


@pytest.mark.parametrize(
    ("table", "count", "sums"),
    [
        ("jp_ungraded.csv", 22, {"F_c": "443.4", "F_t": "354.0", "F_b": "579.9", "F_s": "50.7"}),
        ("jp_visual.csv", 60, {"F_c": "1318.8", "F_t": "889.2", "F_b": "1470.6", "F_s": "124.2"}),
        (
            "jp_machine.csv",
            54,
            {"F_c": "1414.8", "F_t": "1061.4", "F_b": "1758.6", "F_s": "111.6", "E_min": "505600"},
        ),
        ("jp_stiffness.csv", 21, {"F_cv": "167.4", "E_0": "168000"}),
        ("jp_live.csv", 6, {"i": "16300", "ro": "13400", "ha": "7500"}),
    ],
)
def test_a_slip_in_any_cell_of_a_table_shows_in_its_column_sum(table, count, sums):
    found = strength_jp.read_rows(table)
    assert len(found) == count
    for name, expected in sums.items():
        assert sum(Decimal(r[name]) for r in found) == Decimal(expected), name


@pytest.mark.parametrize(
    ("use", "floor", "frame", "sag_load"),
    [("dwelling_room", 1800, 1300, 600), ("assembly_other", 3500, 3200, 2100), ("shop", 2900, 2400, 1300)],
)
def test_live_loads_are_those_of_the_order(use, floor, frame, sag_load):
    found = strength_jp.live_load(use)
    assert (found.floor, found.frame, found.sag) == (floor, frame, sag_load)
    assert found.is_confirmed


def test_end_and_seat_rules_change_at_their_limits():
    assert bearing.is_end_bearing(beyond=104.9, h=105.0, reach=1.0)
    assert not bearing.is_end_bearing(beyond=105.0, h=105.0, reach=1.0)
    seat = {"least": 30.0, "heavy": 60.0, "N_heavy": 4000.0}
    assert bearing.wood_under_seat(N=3999.0, **seat) == 30.0
    assert bearing.wood_under_seat(N=4000.0, **seat) == 60.0
