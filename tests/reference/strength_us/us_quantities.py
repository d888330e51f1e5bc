"""How each printed quantity is worked with the public rules; inputs in inches, pounds and psi as printed."""

from __future__ import annotations

import math

from evenfoot.rules import one_span
from evenfoot.rules.nds_2018 import beams, bearing, columns, loads, notches, sags, values
from evenfoot.strength.standards import NorthAmerica, Part, Piece, Stress
from evenfoot.tables import strength_us

INCH, FOOT = 25.4, 304.8
POUND = 0.45359237 * 9.80665
PSI, PSF, PLF = POUND / INCH**2, POUND / FOOT**2, POUND / FOOT
DEPTHS = {"4": 3.5, "6": 5.5, "8": 7.25, "10": 9.25, "12": 11.25}
PRACTICE = NorthAmerica(use="dwelling", snow_depth=0.0, person=300.0 * POUND)
LIVE = next(c for c in PRACTICE.cases() if c.code == "live")


def piece(part, wood, size, *, plies=1, pitch=math.inf):
    thick, deep = size.split("x")
    width = {"2": 1.5, "3": 2.5, "4": 3.5, "6": 5.5}[thick] * plies * INCH
    return Piece(part=Part(part), species=wood, grade="no-2", width=width, depth=DEPTHS[deep] * INCH, pitch=pitch)


def strength_of(stress, one, case=LIVE):
    return PRACTICE.strength(stress, PRACTICE.wood(one), case).value


def stock_modulus(one):
    """E' as the tables take it: shear in it, as printed."""
    return PRACTICE.wood(one).modulus / values.bent_modulus(E=1.0)


def second(i):
    return i["b"] * i["d"] ** 3 / 12.0 * INCH**4


def section(i):
    return beams.section_modulus(b=i["b"] * INCH, d=i["d"] * INCH)


def moment_span(i, strength, w):
    """The span [mm] at which an even load w [N/mm] brings the stress to ``strength``."""
    low, high = 1.0, 1e5
    for _ in range(80):
        middle = (low + high) / 2.0
        stress = beams.bending_stress(M=one_span.middle_moment(w=w, P=0.0, L=middle), S=section(i))
        low, high = (middle, high) if stress <= strength else (low, middle)
    return low


def stiff_span(*, w, ei, share):
    """The span [mm] at which an even load w [N/mm] sags to L / share, bending alone."""
    low, high = 1.0, 1e5
    for _ in range(80):
        middle = (low + high) / 2.0
        sag = one_span.even_sag(w=w, L=middle, EI=ei, GA=1e30)
        low, high = (middle, high) if sag <= sags.limit(L=middle, share=share) else (low, middle)
    return low


def hud_line(i, psf):
    return psf * PSF * i["spacing"] * INCH


def hud_bending(i):
    return values.bending(F_b=i["F_b"] * PSI, C_D=1.0, C_M=1.0, C_L=1.0, C_F=i["C_F"], C_fu=1.0, C_i=1.0, C_r=i["C_r"])


def hud_shear_span(i):
    strength = values.shear(F_v=i["F_v"] * PSI, C_D=1.0, C_M=1.0, C_i=1.0) * i["C_H"]
    w = hud_line(i, i["live"] + i["dead"])
    return strength / beams.shear_stress(V=w / 2.0, b=i["b"] * INCH, d=i["d"] * INCH)


def hud_bearing_span(i):
    strength = values.across(F_cp=i["F_cp"] * PSI, C_M=1.0, C_i=1.0, C_b=1.0)
    w = hud_line(i, i["live"] + i["dead"])
    return strength / bearing.bearing_stress(R=w / 2.0, b=i["b"] * INCH, l_b=i["l_b"] * INCH)


def stable(i, length):
    slender = beams.slenderness(l_e=length, d=i["d"] * INCH, b=i["b"] * INCH)
    critical = beams.critical_stress(E_min=i["E_min"] * PSI, R_B=slender)
    return slender, critical, beams.stability_factor(F_bE=critical, F_b_star=i["F_b"] * PSI)


def middle_length(i):
    return beams.length_middle(l_u=i["l_u"] * INCH, d=i["d"] * INCH)


def column(i, f_c):
    slender = columns.slenderness(l_e=i.get("K_e", 1.0) * i["height"] * INCH, d=i["d"] * INCH)
    critical = columns.critical_stress(E_min=i["E_min"] * PSI, slender=slender)
    return critical, columns.stability_factor(F_cE=critical, F_c_star=f_c, c=columns.C_SAWN)


def post_star(i):
    return values.along(F_c=i["F_c"] * PSI, C_D=i.get("C_D", 1.0), C_M=1.0, C_F=i.get("C_F", 1.0), C_i=1.0)


def post(i):
    return column(i, post_star(i))[1]


def wall(i):
    """The stud of example E1.7, which takes its height for the effective length; sheathing holds it."""
    slender = beams.slenderness(l_e=i["height"] * INCH, d=i["d"] * INCH, b=i["b"] * INCH)
    return slender, i["F_b"] * PSI * i["C_D"]


def wall_use(i):
    critical, factor = column(i, post_star(i))
    w = i["wind_psf"] * PSF * i["tributary"] * INCH
    bent = beams.bending_stress(M=one_span.middle_moment(w=w, P=0.0, L=i["height"] * INCH), S=section(i))
    pressed = i["axial"] * POUND / (i["b"] * i["d"] * INCH**2)
    return columns.pressed_and_bent(
        f_c=pressed, F_c=factor * post_star(i), f_b=bent, F_b=i["F_b"] * PSI * i["C_D"], F_cE=critical
    )


def reaction_line(i):
    """Load on a beam [N/mm] from joists on one side with an overhang."""
    q = i["psf"] * PSF
    return loads.overhang_reaction(q=q, L=i["joist"] * INCH, a=i.get("overhang", 0.0) * INCH)


def beam_stress(i):
    moment = one_span.middle_moment(w=reaction_line(i), P=0.0, L=i["L"] * INCH)
    return beams.bending_stress(M=moment, S=section(i))


def beam_strength(i):
    return strength_of(Stress.BENDING, piece("beam", i["wood"], i["size"], plies=int(i.get("plies", 1))))


def joist_strength(i):
    return strength_of(Stress.BENDING, piece("joist", i["wood"], i["size"], pitch=16.0 * INCH))


def joist_stress(i):
    w = i["psf"] * PSF * i["spacing"] * INCH
    return beams.bending_stress(M=one_span.middle_moment(w=w, P=0.0, L=i["L"] * INCH), S=section(i))


def joist_sag(i):
    w = i["psf"] * PSF * i["spacing"] * INCH
    return one_span.even_sag(w=w, L=i["L"] * INCH, EI=i["E"] * PSI * second(i), GA=1e30)


def end_reaction(i):
    return one_span.end_shear(w=i["psf"] * PSF * i["joist"] * INCH / 2.0, P=0.0, L=i["L"] * INCH)


def notched(i):
    shear = strength_of(Stress.SHEAR, piece("beam", i["wood"], i["size"]))
    left = (i["d"] - i["notch"]) * INCH
    return notches.notched_shear(F_v=shear, area=notches.pulled_area(b=i["b"] * INCH, d=i["d"] * INCH, d_n=left))


def tip(i):
    return sags.tip_sag(P=i["P"] * POUND, a=i["a"] * INCH, L=i["L"] * INCH, EI=i["E"] * PSI * second(i))


def quarter(i):
    return i["joist"] * INCH / strength_us.factor("table.overhang-share").value


QUANTITIES = {
    "A": lambda i: i["b"] * i["d"],
    "S": lambda i: section(i) / INCH**3,
    "I": lambda i: second(i) / INCH**4,
    "l_e_middle": lambda i: middle_length(i) / INCH,
    "l_e_even": lambda i: beams.length_even(l_u=i["l_u"], d=i["d"]),
    "l_e_overhang": lambda i: beams.length_overhang_even(l_u=i["l_u"], d=i["d"]),
    "l_e_tip": lambda i: beams.length_overhang_tip(l_u=i["l_u"], d=i["d"]),
    "C_b": lambda i: bearing.bearing_factor(l_b=i["l_b"] * INCH, beyond=3.0 * INCH),
    "R_B": lambda i: stable(i, middle_length(i))[0],
    "F_bE": lambda i: stable(i, middle_length(i))[1] / PSI,
    "C_L": lambda i: stable(i, middle_length(i))[2],
    "F_b_stable": lambda i: stable(i, middle_length(i))[2] * i["F_b"],
    "F_b": lambda i: hud_bending(i) / PSI,
    "span_bending_ft": lambda i: moment_span(i, hud_bending(i), hud_line(i, i["live"] + i["dead"])) / FOOT,
    "span_shear_ft": lambda i: hud_shear_span(i) / FOOT,
    "span_bearing_ft": lambda i: hud_bearing_span(i) / FOOT,
    "span_live_ft": lambda i: stiff_span(w=hud_line(i, i["live"]), ei=i["E"] * PSI * second(i), share=360.0) / FOOT,
    "span_40_ft": lambda i: stiff_span(w=hud_line(i, 40.0), ei=i["E"] * PSI * second(i), share=360.0) / FOOT,
    "C_P": post,
    "F_c": lambda i: post(i) * post_star(i) / PSI,
    "use": lambda i: i["load"] * POUND / (i["d"] * INCH) ** 2 / (post(i) * post_star(i)),
    "C_P_plies": lambda i: columns.built_up_factor(C_P=post(i), K_f=i["K_f"]),
    "R_B_even": lambda i: wall(i)[0],
    "F_c_star": lambda i: post_star(i) / PSI,
    "C_P_star": post,
    "F_c_wall": lambda i: post(i) * post_star(i) / PSI,
    "F_b_wall": lambda i: wall(i)[1] / PSI,
    "interaction": wall_use,
    "dead_sag": lambda i: joist_sag(i) / INCH,
    "even_sag": lambda i: joist_sag(i) / INCH,
    "limit_360": lambda i: sags.limit(L=i["L"], share=strength_us.factor("sag.span").value),
    "limit_180": lambda i: sags.limit(L=i["a"], share=strength_us.factor("sag.overhang").value),
    "stress": lambda i: joist_stress(i) / PSI,
    "joist_strength": lambda i: joist_strength(i) / PSI,
    "line_plf": lambda i: reaction_line(i) / PLF,
    "tributary_ft": lambda i: loads.overhang_reaction(q=1.0, L=i["joist"] * INCH, a=i["overhang"] * INCH) / FOOT,
    "beam_stress": lambda i: beam_stress(i) / PSI,
    "beam_strength": lambda i: beam_strength(i) / PSI,
    "beam_use": lambda i: beam_stress(i) / beam_strength(i),
    "beam_sag": lambda i: (
        one_span.even_sag(w=reaction_line(i), L=i["L"] * INCH, EI=i["E"] * PSI * second(i), GA=1e30) / INCH
    ),
    "beam_span": lambda i: moment_span(i, beam_strength(i), reaction_line(i)) / INCH,
    "tub_psf": lambda i: i["lb"] / i["side_ft"] ** 2,
    "quarter": lambda i: quarter(i) / INCH,
    "end_limit": lambda i: notches.deepest(d=i["d"] * INCH, b=i["b"] * INCH, is_end=True) / INCH,
    "inner_limit": lambda i: notches.deepest(d=i["d"] * INCH, b=i["b"] * INCH, is_end=False) / INCH,
    "inner_length": lambda i: notches.longest(d=i["d"] * INCH, is_end=False) / INCH,
    "end_reaction": lambda i: end_reaction(i) / POUND,
    "notched_shear": lambda i: notched(i) / POUND,
    "notched_use": lambda i: end_reaction(i) / notched(i),
    "tip_sag": lambda i: tip(i) / INCH,
    "board_span": lambda i: i["spacing"] / math.sin(math.radians(i["angle"])),
    "spacing_for": lambda i: i["span"] * math.sin(math.radians(i["angle"])),
    "slant_sag": lambda i: math.sin(math.radians(i["angle"])) ** -3,
    "E_min_of": lambda i: values.least_modulus(E=i["E"] * PSI, cov=strength_us.factor("modulus.spread").value) / PSI,
    "snow_density": lambda i: loads.snow_load(depth_m=i["depth_ft"] * 0.3048) * 1e-3 / PSF,
}
