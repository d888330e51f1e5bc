"""The printed figures of North American practice beside ours."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1]))
from record import worked
from us_quantities import QUANTITIES

HERE = Path(__file__).parent


def rows():
    yield from worked(HERE, "worked.csv", {name: ("", work_out) for name, work_out in QUANTITIES.items()})
