"""The printed figures of Eurocode 5 and EN 338 beside ours."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import Row, read, worked

from evenfoot.rules import one_span
from evenfoot.rules.ec5_2004 import actions, bearing, bending, columns, deflection, shear, strength, vibration
from evenfoot.tables import strength_eu

HERE = Path(__file__).parent


def factor(name):
    return strength_eu.factor(name).value


def wood(i):
    """The softwood class of the example, as C=24."""
    return strength_eu.strength_class(species_id="norway_spruce", grade=f"c{i['C']:.0f}")


def section(i):
    return {"b": i["b"], "h": i["h"]}


def modulus(i):
    return bending.section_modulus(**section(i))


def design(X_k, i):
    return strength.design_strength(X_k=X_k, k_mod=i["k_mod"], gamma_M=factor("safety.timber"))


def sum_up(dead, live):
    live = actions.design_sum(Q_1=live, others=(), gamma_Q=factor("live.heavy"))
    return factor("dead.heavy") * dead + live


def design_load(i):
    return sum_up(i["g"], i["q"]) * i["width"]


def design_moment(i):
    return one_span.middle_moment(w=design_load(i), P=0.0, L=i["L"])


def bent(moment, i):
    return bending.bending_stress(M=moment, W=modulus(i))


def f_m_d(i):
    row = wood(i)
    k_h = strength.depth_factor(
        h=i["h"], rho_k=row.rho_k, h_full=factor("bending.depth"), most=factor("bending.depth-most")
    )
    return design(row.f_m_k * k_h * i["k_sys"], i)


def f_v_d(i):
    return design(wood(i).f_v_k * i["k_sys"], i)


def line_moment(i):
    return one_span.middle_moment(w=i["w"], P=0.0, L=i["L"])


def line_shear(i):
    return one_span.end_shear(w=i["w"], P=0.0, L=i["L"])


def line_tau(i):
    return shear.shear_stress(V=line_shear(i), **section(i), k_cr=i["k_cr"])


def sag(i, w=None, *, is_shear_stiff=False):
    second = modulus(i) * i["h"] / 2.0
    stiff = 1e30 if is_shear_stiff else wood(i).G_mean * i["b"] * i["h"]
    return one_span.even_sag(w=i["w"] if w is None else w, L=i["L"], EI=wood(i).E_0_mean * second, GA=stiff)


def crept(i):
    dead = deflection.final_share_dead(k_def=i["k_def"])
    live = deflection.final_share_leading(k_def=i["k_def"], psi_2=i["psi_2"])
    return i["G"] * dead + i["Q"] * live


def k_v(i):
    return shear.notch_factor(h=i["h"], h_ef=i["h_ef"], x=i["x"], k_n=i["k_n"])


def slender(i):
    return columns.slenderness(l_ef=i["l_ef"], side=i["side"])


def relative(i):
    row = wood(i)
    return columns.relative_slenderness(lambda_=slender(i), f_c_0_k=row.f_c_0_k, E_0_05=row.E_0_05)


def k_c(i):
    return columns.buckling_factor(lambda_rel=relative(i), beta_c=i["beta_c"])


def post_stress(i):
    return i["N"] / (i["b"] * i["h"])


def post_may(i):
    return k_c(i) * design(wood(i).f_c_0_k, i)


def critical(i):
    return bending.critical_stress(**section(i), l_ef=i["l_ef"], E_0_05=i["E_0_05"])


def contact(i):
    return bearing.effective_contact(l=i["l"], a=i["a"], l_1=i["l_1"], reach=factor("bearing.reach"))


def f_c_90_d(i):
    return design(wood(i).f_c_90_k, i)


def k_c_90(i):
    return bearing.bearing_factor(
        l_1=i["l_1"], h=i["h"], apart=factor("bearing.apart"), most=factor("bearing.softwood")
    )


QUANTITIES = {
    "design_load_kn_m": ("kN/m", design_load),
    "design_moment_knm": ("kN m", lambda i: design_moment(i) * 1e-6),
    "bent_by_floor": ("N/mm2", lambda i: bent(design_moment(i), i)),
    "f_m_d": ("N/mm2", f_m_d),
    "f_v_d": ("N/mm2", f_v_d),
    "bending_use": ("-", lambda i: bent(design_moment(i), i) / f_m_d(i)),
    "bending_percent": ("%", lambda i: 100.0 * bent(design_moment(i), i) / f_m_d(i)),
    "sag": ("mm", sag),
    "sag_bent": ("mm", lambda i: sag(i, is_shear_stiff=True)),
    "sag_creep": ("mm", lambda i: sag(i, crept(i)) - sag(i, i["G"] + i["Q"])),
    "sag_final_dead": (
        "mm",
        lambda i: sag(i, i["w"] * deflection.final_share_dead(k_def=i["k_def"]), is_shear_stiff=True),
    ),
    "sag_final_live": (
        "mm",
        lambda i: sag(
            i, i["w"] * deflection.final_share_leading(k_def=i["k_def"], psi_2=i["psi_2"]), is_shear_stiff=True
        ),
    ),
    "sag_final_bent": ("mm", lambda i: sag(i, crept(i), is_shear_stiff=True)),
    "sag_limit": ("mm", lambda i: deflection.sag_limit(l=i["L"], share=i["share"])),
    "W": ("mm3", modulus),
    "I": ("mm4", lambda i: modulus(i) * i["h"] / 2.0),
    "line_moment_knm": ("kN m", lambda i: line_moment(i) * 1e-6),
    "line_bent": ("N/mm2", lambda i: bent(line_moment(i), i)),
    "line_shear": ("N", line_shear),
    "line_shear_kn": ("kN", lambda i: line_shear(i) * 1e-3),
    "line_tau": ("N/mm2", line_tau),
    "shear_use": ("-", lambda i: line_tau(i) / f_v_d(i)),
    "shear_may_kn": (
        "kN",
        lambda i: 1e-3 * f_v_d(i) / shear.shear_stress(V=1.0, **section(i), k_cr=i["k_cr"]),
    ),
    "sigma_crit": ("N/mm2", critical),
    "lambda_m": ("-", lambda i: bending.relative_slenderness(f_m_k=i["f_m_k"], sigma_m_crit=critical(i))),
    "k_crit": ("-", lambda i: bending.lateral_factor(lambda_rel_m=i["lambda"])),
    "design_shear_n": ("N", lambda i: sum_up(i["G"], i["Q"])),
    "alpha": ("-", lambda i: i["h_ef"] / i["h"]),
    "k_v": ("-", k_v),
    "notch_tau": ("N/mm2", lambda i: shear.shear_stress(V=i["V"], b=i["b"], h=i["h_ef"], k_cr=i["k_cr"])),
    "notch_may": ("N/mm2", lambda i: k_v(i) * design(i["f_v_k"], i)),
    "lambda": ("-", slender),
    "lambda_rel": ("-", relative),
    "lambda_rel_of": (
        "-",
        lambda i: columns.relative_slenderness(lambda_=i["lambda"], f_c_0_k=i["f_c_0_k"], E_0_05=i["E_0_05"]),
    ),
    "k": ("-", lambda i: columns.instability(lambda_rel=relative(i), beta_c=i["beta_c"])),
    "k_of": ("-", lambda i: columns.instability(lambda_rel=i["lambda_rel"], beta_c=i["beta_c"])),
    "k_c": ("-", k_c),
    "k_c_of": ("-", lambda i: columns.buckling_factor(lambda_rel=i["lambda_rel"], beta_c=i["beta_c"])),
    "post_load_kn": ("kN", lambda i: sum_up(i["G"], i["Q"])),
    "post_stress": ("N/mm2", post_stress),
    "post_may": ("N/mm2", post_may),
    "post_use": ("-", lambda i: post_stress(i) / post_may(i)),
    "post_use_of": ("-", lambda i: post_stress(i) / (i["k_c"] * design(i["f_c_0_k"], i))),
    "contact": ("mm", contact),
    "contact_stress": ("N/mm2", lambda i: i["F"] / (i["b"] * contact(i))),
    "f_c_90_d": ("N/mm2", f_c_90_d),
    "contact_may": ("N/mm2", lambda i: k_c_90(i) * f_c_90_d(i)),
    "f_1": ("Hz", lambda i: vibration.lowest_frequency(l_m=i["l"], EI_l=i["EI_l"], m=i["m"])),
    "n_40": (
        "-",
        lambda i: vibration.modes_below_40(f_1=i["f_1"], b_m=i["b"], l_m=i["l"], EI_l=i["EI_l"], EI_b=i["EI_b"]),
    ),
    "kick": (
        "m/(N s2)",
        lambda i: vibration.kick_speed(n_40=i["n_40"], m=i["m"], b_m=i["b"], l_m=i["l"]),
    ),
}

SPECIES = {"c": "norway_spruce", "d": "european_oak"}


def of_class(grade, symbol):
    return getattr(strength_eu.strength_class(species_id=SPECIES[grade[0]], grade=grade), symbol)


def of_floor(use, quantity):
    found = strength_eu.floor_load(use)
    name, _, end = quantity.partition("_")
    return getattr(found, f"{name}_range")[end == "high"] if end else getattr(found, name)


def rows():
    yield from worked(HERE, "worked.csv", QUANTITIES)
    for row in read(HERE, "en338.csv"):
        for symbol in row:
            if symbol in {"grade", "source"}:
                continue
            yield Row(
                table=f"{HERE.name}/en338.csv",
                id=row["grade"],
                quantity=symbol,
                source=row["source"],
                expected=row[symbol],
                work=partial(of_class, row["grade"], symbol),
                unit="kg/m3" if symbol.startswith("rho") else "N/mm2",
                tolerance="0",
                note="exact",
            )
    for row in read(HERE, "figures.csv"):
        yield Row(
            table=f"{HERE.name}/figures.csv",
            id=row["figure"],
            quantity="value",
            source=row["where"],
            expected=row["printed"],
            work=partial(factor, row["figure"]),
            unit=strength_eu.factor(row["figure"]).unit,
            tolerance="0",
            note="exact",
        )
    for row in read(HERE, "floor_loads.csv"):
        for name in ("area", "point"):
            for quantity in (name, f"{name}_low", f"{name}_high"):
                yield Row(
                    table=f"{HERE.name}/floor_loads.csv",
                    id=row["use"],
                    quantity=quantity,
                    source=row["where"],
                    expected=row[quantity],
                    work=partial(of_floor, row["use"], quantity),
                    unit="N/m2" if name == "area" else "N",
                    tolerance="0",
                    note="exact",
                )
