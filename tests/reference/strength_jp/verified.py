"""The printed figures of Japanese timber practice beside ours."""

from __future__ import annotations

import math
import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import Row, read, worked

from evenfoot.rules import one_span
from evenfoot.rules.japan_2000 import beams, bearing, columns, loads, sections, stresses
from evenfoot.tables import strength_jp
from evenfoot.units import parse_length, parse_ratio

HERE = Path(__file__).parent


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


def sag_person(i):
    return one_span.middle_sag(P=i["P"], L=i["L"], EI=i["E"] * sections.second_moment(**section(i)), GA=1e30)


def bent(i):
    return beams.bending_stress(M=moment(i), Z_e=sections.section_modulus(**section(i)))


def sheared(i):
    return beams.shear_stress(Q=shear(i), A_e=sections.area(**section(i)))


def notch(i):
    return {"b": i["b"], "h": i["h"], "n": i["n"]}


QUANTITIES = {
    "sag_middle": (
        "mm",
        lambda i: one_span.middle_sag(
            P=i["P"], L=i["L"], EI=i["E"] * sections.second_moment(b=i["b"], h=i["h"]), GA=1e30
        ),
    ),
    "slope": ("-", lambda i: loads.slope_factor(beta_deg=i["beta"])),
    "slant": (
        "N/mm2",
        lambda i: bearing.slanting_strength(f_c=i["f_c"], f_cv=i["f_cv"], angle_deg=i["angle"]),
    ),
    "shared": ("N/mm2", lambda i: stresses.shared_bending(F_b=i["F_b"], share=i["share"])),
    "size": ("-", lambda i: stresses.size_factor(h=i["h"])),
    "pressed_bent": ("-", lambda i: columns.pressed_and_bent(**i)),
    "pulled_bent": ("-", lambda i: beams.pulled_and_bent(**i)),
    "lambda": ("-", slender),
    "eta": ("-", eta),
    "column_kn": ("kN", lambda i: column(i) / 1000.0),
    "column_area_m2": ("m2", lambda i: column(i) / 1000.0 / i["q"]),
    "column_stress": ("N/mm2", lambda i: columns.column_stress(N=i["N"], A=sections.area(**section(i)))),
    "pressed_depth": ("mm", lambda i: math.sqrt(6.0 * sections.notched_modulus_compression(**notch(i)) / i["b"])),
    "pulled_depth": ("mm", lambda i: math.sqrt(6.0 * sections.notched_modulus_tension(**notch(i)) / i["b"])),
    "pressed_percent": (
        "%",
        lambda i: 100.0 * sections.notched_modulus_compression(**notch(i)) / sections.section_modulus(**section(i)),
    ),
    "line_load": ("N/mm", load),
    "moment": ("N mm", moment),
    "Z": ("mm3", lambda i: sections.section_modulus(**section(i))),
    "I": ("mm4", lambda i: sections.second_moment(**section(i))),
    "sigma_b": ("N/mm2", bent),
    "f": ("N/mm2", allowed),
    "ratio_b": ("-", lambda i: bent(i) / allowed(i)),
    "shear": ("N", shear),
    "tau": ("N/mm2", sheared),
    "ratio_s": ("-", lambda i: sheared(i) / allowed(i)),
    "sag": ("mm", sag),
    "sag_person": ("mm", sag_person),
    "sag_creep": ("mm", lambda i: 2.0 * sag(i)),
    "span_250": ("mm", lambda i: beams.sag_limit(L=i["L"], share=250.0, creep=1.0)),
    "bearing": (
        "N/mm2",
        lambda i: stresses.allowable_bearing(F_cv=i["F_cv"], n=i["n"], K_m=i["K_m"], alpha_end=i["alpha_end"]),
    ),
    "Z_0": ("mm3", lambda i: sections.notched_modulus_compression(**notch(i))),
    "Z_e": ("mm3", lambda i: sections.notched_modulus_tension(**notch(i))),
    "Z_e_share": ("-", lambda i: sections.notched_modulus_tension(**notch(i)) / sections.section_modulus(**section(i))),
    "A_0": ("mm2", lambda i: sections.notched_area_compression(**notch(i))),
    "A_e": ("mm2", lambda i: sections.notched_area_tension(**notch(i))),
    "A_e_share": ("-", lambda i: sections.notched_area_tension(**notch(i)) / sections.area(**section(i))),
}


def figure(name):
    return strength_jp.factor(name).value


def strength(row):
    return getattr(strength_jp.wood_strength(species=row["species"], grade=row["grade"]), row["figure"])


TRADE = {
    "length_mm": ("mm", lambda i: float(parse_length(i["written"], unit="mm"))),
    "fall_mm": ("mm", lambda i: i["depth"] * float(parse_ratio(i["ratio"]))),
}


def rows():
    yield from worked(HERE, "worked.csv", QUANTITIES)
    yield from worked(HERE, "trade.csv", TRADE)
    for row in read(HERE, "figures.csv"):
        yield Row(
            table=f"{HERE.name}/figures.csv",
            id=row["figure"],
            quantity="value",
            source=row["where"],
            expected=row["printed"],
            work=partial(figure, row["figure"]),
            unit=strength_jp.factor(row["figure"]).unit,
            tolerance="0",
            note="exact",
        )
    for row in read(HERE, "strengths.csv"):
        yield Row(
            table=f"{HERE.name}/strengths.csv",
            id=f"{row['species']}:{row['grade']}",
            quantity=row["figure"],
            source=row["where"],
            expected=row["printed"],
            work=partial(strength, row),
            unit="N/mm2",
            tolerance="0",
            note="exact",
        )
