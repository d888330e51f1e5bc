"""How the cells of published span tables are worked again with the public rules and the values on record."""

from __future__ import annotations

import math

from us_quantities import DEPTHS, FOOT, INCH, PSF, piece, stock_modulus, strength_of

from evenfoot.rules import one_span
from evenfoot.rules.nds_2018 import beams, loads, sags, values
from evenfoot.strength.standards import Stress
from evenfoot.tables import strength_us

GROUPS = {
    "southern_pine": ("treated_pine",),
    "western_strong": ("douglas_fir", "western_hemlock", "norway_spruce"),
}
CEILING = {"DFL": "douglas_fir_larch", "HF": "hem_fir", "SP": "southern_pine", "SPF": "spruce_pine_fir"}
CAP = strength_us.factor("table.joist-cap").value
REPEATED = strength_us.factor("repeated.factor").value


def factor(name):
    return strength_us.factor(name).value


def second_moment(b, d):
    return b * d**3 / 12.0


def bending_span(strength, w, b, d):
    """L from M = w L2 / 8 at the strength [mm]; the rule's own moment is proved to be that by ``test_worked``."""
    unit = one_span.middle_moment(w=w, P=0.0, L=1.0)
    return math.sqrt(strength * beams.section_modulus(b=b, d=d) / unit)


def stiff_span(w, ei, share):
    """L from 5 w L4 / 384 EI = L / share [mm], with the public rules for both sides."""
    unit = one_span.even_sag(w=w, L=1.0, EI=ei, GA=1e30)
    return (sags.limit(L=1.0, share=share) / unit) ** (1.0 / 3.0)


def joist_span_of(wood, i):
    """Longest span of a deck joist of one wood: bending under 50 psf, L/360 under 40, not over 18 ft."""
    one = piece("joist", wood, i["size"], pitch=i["spacing"] * INCH)
    b, d, pitch = one.width, one.depth, i["spacing"] * INCH
    return min(
        bending_span(strength_of(Stress.BENDING, one), 50.0 * PSF * pitch, b, d),
        stiff_span(40.0 * PSF * pitch, stock_modulus(one) * second_moment(b, d), factor("sag.span")),
        CAP,
    )


def soft_joist(i):
    """The group of cedars and redwoods: the guide takes F_b of northern species and the least modulus, not incised."""
    depth = DEPTHS[i["size"].split("x")[1]] * INCH
    bending, modulus = soft_bending(i["size"]), soft_modulus()
    b, pitch = 1.5 * INCH, i["spacing"] * INCH
    return min(
        bending_span(bending * REPEATED, 50.0 * PSF * pitch, b, depth),
        stiff_span(40.0 * PSF * pitch, modulus * second_moment(b, depth), factor("sag.span")),
        CAP,
    )


def soft_bending(size, *, is_thick=False):
    nominal = int(size.split("x")[1])
    wood = strength_us.lumber(species="northern_species", grade="no-2", nominal_depth=nominal, is_timber=False)
    row = strength_us.size_row(nominal)
    sized = row.bending_thick if is_thick else row.bending
    wet = 1.0 if wood.bending * sized <= factor("wet.bending-free") else factor("wet.bending")
    return values.bending(F_b=wood.bending, C_D=1.0, C_M=wet, C_L=1.0, C_F=sized, C_fu=1.0, C_i=1.0, C_r=1.0)


def soft_modulus():
    wood = strength_us.lumber(species="western_cedars", grade="no-2", nominal_depth=8, is_timber=False)
    return values.modulus(E=wood.modulus, C_M=factor("wet.modulus"), C_i=1.0)


def deck_joist(i):
    if i["group"] == "western_soft":
        return soft_joist(i)
    return min(joist_span_of(wood, i) for wood in GROUPS[i["group"]])


def deck_overhang(i):
    """Longest overhang: a/180 under 220 lb at its tip less 3 in, or a quarter of the span; to the whole inch."""
    span = round(deck_joist(i) / INCH) * INCH
    depth = DEPTHS[i["size"].split("x")[1]] * INCH
    ei = least_modulus_of(i) * second_moment(1.5 * INCH, depth)
    reach = max(a for a in (k * 0.05 * INCH for k in range(20, 1600)) if is_stiff(a, span, ei))
    return min(reach - 3.0 * INCH, span / factor("table.overhang-share"))


def least_modulus_of(i):
    if i["group"] == "western_soft":
        return soft_modulus()
    return min(stock_modulus(piece("joist", wood, i["size"])) for wood in GROUPS[i["group"]])


def is_stiff(a, span, ei):
    return sags.tip_sag(P=factor("tip.load"), a=a, L=span, EI=ei) <= sags.limit(L=a, share=factor("sag.overhang"))


def ceiling_joist(i):
    """Dry service, no incising; bending under live and dead load, L/240 under live load."""
    species, nominal = CEILING[i["wood"]], int(i["size"].split("x")[1])
    wood = strength_us.lumber(species=species, grade="no-2", nominal_depth=nominal, is_timber=False)
    sized = strength_us.size_row(nominal).bending if wood.is_sized else 1.0
    b, d, pitch = 1.5 * INCH, DEPTHS[str(nominal)] * INCH, i["spacing"] * INCH
    strength = values.bending(F_b=wood.bending, C_D=1.0, C_M=1.0, C_L=1.0, C_F=sized, C_fu=1.0, C_i=1.0, C_r=REPEATED)
    modulus = values.modulus(E=wood.modulus, C_M=1.0, C_i=1.0)
    return min(
        bending_span(strength, (i["live"] + i["dead"]) * PSF * pitch, b, d),
        stiff_span(i["live"] * PSF * pitch, modulus * second_moment(b, d), i["share"]),
    )


def deck_beam(i):
    """Longest beam under joists with an overhang of a quarter: bending, shear over the whole reaction, L/360 at 45 psf."""
    joist = i["joist_ft"] * FOOT
    w = loads.overhang_reaction(q=50.0 * PSF, L=joist, a=joist / 4.0)
    b, d, bending, shear, modulus = _beam(i)
    by_shear = 2.0 * shear / beams.shear_stress(V=w, b=b, d=d)
    ei = modulus * second_moment(b, d)
    return min(bending_span(bending, w, b, d), by_shear, stiff_span(w * 45.0 / 50.0, ei, factor("sag.span")))


def _beam(i):
    plies, size = int(i["plies"]), i["size"]
    thick, deep = size.split("x")
    d = DEPTHS[deep] * INCH
    if i["group"] == "southern_pine":
        one = piece("beam", "treated_pine", size, plies=plies)
        return (
            one.width,
            d,
            strength_of(Stress.BENDING, one),
            strength_of(Stress.SHEAR, one),
            stock_modulus(one),
        )
    wood = strength_us.lumber(species="northern_species", grade="no-2", nominal_depth=8, is_timber=False)
    shear = values.shear(F_v=wood.shear, C_D=1.0, C_M=factor("wet.shear"), C_i=1.0)
    # Two plies stand in one row with a solid 3x, which is the weaker; 4x10 and 4x12 hold the factors of thin pieces.
    width = {1: 3.5, 2: 2.5, 3: 4.5}[plies] * INCH
    is_thick = thick == "4" and deep in {"6", "8"}
    repeated = REPEATED if plies == 3 else 1.0
    return width, d, soft_bending(size, is_thick=is_thick) * repeated, shear, soft_modulus()


TABLES = {
    "deck_joist_in": lambda i: deck_joist(i) / INCH,
    "deck_overhang_in": lambda i: round(deck_overhang(i) / INCH),
    "ceiling_joist_in": lambda i: ceiling_joist(i) / INCH,
    "deck_beam_in": lambda i: deck_beam(i) / INCH,
}
