"""The published sizes of footings beside ours."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import Row, read

from evenfoot.rules import ground

HERE = Path(__file__).parent
INCH, FOOT, POUND = 25.4, 304.8, 4.4482216152605
PSF, PCF = POUND / FOOT**2, POUND / FOOT**3


def size(row, column):
    """The guide's loads: 50 psf on joists with an overhang of a quarter, ground that bears 1500 psf."""
    load = 50 * PSF * float(row["beam_span_ft"]) * FOOT * 0.78125 * float(row["joist_span_ft"]) * FOOT
    area = ground.base_area(N=load, q=1500 * PSF, gamma=150 * PCF, t=float(row["thickness_in"]) * INCH)
    return getattr(ground, {"round_in": "round_diameter", "square_in": "square_side"}[column])(A=area) / INCH


def rows():
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
