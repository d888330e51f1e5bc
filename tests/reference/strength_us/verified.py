"""The printed figures of North American practice beside ours."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1]))
from record import Row, read, worked
from us_quantities import FOOT, INCH, POUND, PSF, PSI, QUANTITIES
from us_tables import TABLES

from evenfoot.tables import strength_us

HERE = Path(__file__).parent
UNITS = {"-": 1.0, "in": INCH, "ft": FOOT, "lb": POUND, "psi": PSI, "psf": PSF, "pcf": POUND / FOOT**3}


def figure(name, unit):
    return round(strength_us.factor(name).value / UNITS[unit], 9)


def rows():
    cells = {name: ("in", work_out) for name, work_out in TABLES.items()}
    yield from worked(HERE, "worked.csv", {name: ("", work_out) for name, work_out in QUANTITIES.items()})
    yield from worked(HERE, "deck_tables.csv", cells)
    yield from worked(HERE, "two_ply_beams.csv", cells, is_asked=False)
    for row in read(HERE, "figures.csv"):
        yield Row(
            table=f"{HERE.name}/figures.csv",
            id=row["figure"],
            quantity="value",
            source=row["where"],
            expected=row["printed"],
            work=partial(figure, row["figure"], row["unit"]),
            unit=row["unit"],
            tolerance="1e-9",
            note="exact",
        )
