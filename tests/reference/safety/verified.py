"""Published sizes of footings, presumed ground, ledger fixings and worked cases of the trade, beside ours."""

from __future__ import annotations

import math
import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import Row, read, worked

from evenfoot.rules import ground, ledgers
from evenfoot.tables import safety

HERE = Path(__file__).parent
INCH, FOOT, POUND = 25.4, 304.8, 4.4482216152605
PSF, PCF = POUND / FOOT**2, POUND / FOOT**3


def size(row, column):
    """The guide's loads: 50 psf on joists with an overhang of a quarter, ground that bears 1500 psf."""
    load = 50 * PSF * float(row["beam_span_ft"]) * FOOT * 0.78125 * float(row["joist_span_ft"]) * FOOT
    area = ground.base_area(N=load, q=1500 * PSF, gamma=150 * PCF, t=float(row["thickness_in"]) * INCH)
    return getattr(ground, {"round_in": "round_diameter", "square_in": "square_side"}[column])(A=area) / INCH


def load_of(given):
    """Return the load on an inner post [N]: half the joists on one side, the length between posts on the other."""
    return given["posts_ft"] * FOOT * given["joists_ft"] * FOOT / 2 * given["psf"] * PSF


def base_of(given):
    return ground.base_area(N=load_of(given), q=given["soil_psf"] * PSF)


def table_spacing(given):
    return safety.ledger_row(fixing=given["fixing"], joist_span=given["span_ft"] * FOOT).spacing


def set_out(given, *, apart):
    return ledgers.fixings_in(length=given["ledger_in"] * INCH, end=given["end_in"] * INCH, apart=apart)


def bears(given):
    return safety.ground_bearing(standard=given["standard"], soil=given["soil"]).value


QUANTITIES = {
    "load_lb": ("lb", lambda i: load_of(i) / POUND),
    "area_in2": ("in2", lambda i: base_of(i) / INCH**2),
    "round_in": ("in", lambda i: ground.round_diameter(A=base_of(i)) / INCH),
    "square_in": ("in", lambda i: ground.square_side(A=base_of(i)) / INCH),
    "tube_lb": ("lb", lambda i: i["soil_psf"] * PSF * math.pi / 4 * (i["tube_in"] * INCH) ** 2 / POUND),
    "count": ("", lambda i: set_out(i, apart=table_spacing(i))[0]),
    "even_in": ("in", lambda i: set_out(i, apart=table_spacing(i))[1] / INCH),
    "count_by": ("", lambda i: set_out(i, apart=i["apart_in"] * INCH)[0]),
    "bears_kpa": ("kN/m2", lambda i: bears(i) * 1000),
    "bears_psf": ("psf", lambda i: bears(i) / PSF),
    "spacing_in": ("in", lambda i: table_spacing(i) / INCH),
}


def rows():
    yield from worked(HERE, "worked.csv", QUANTITIES)
    yield from worked(HERE, "figures.csv", QUANTITIES)
    for row in read(HERE, "footings.csv"):
        for column in ("round_in", "square_in"):
            yield Row(
                table=f"{HERE.name}/footings.csv",
                id=f"beam {row['beam_span_ft']} ft, joists {row['joist_span_ft']} ft",
                quantity=column.removesuffix("_in"),
                source=f"{row['source']}, {row['page']}",
                expected=row[column],
                work=partial(size, row, column),
                unit="in",
                tolerance="1",
                note="the guide does not say how it rounds to whole inches",
            )
