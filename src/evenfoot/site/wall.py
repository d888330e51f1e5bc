"""How straight the house wall is and how far out it stands."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.job.model import WallOffset
from evenfoot.site.ground import SAME_PLACE
from evenfoot.site.model import WallLine
from evenfoot.solvers import fit_linear


def wall_line(offsets: Sequence[WallOffset]) -> WallLine | None:
    """Return the least squares line through the wall's offsets; None without any, parallel to y = 0 from one place."""
    if not offsets:
        return None
    x = np.array([o.x for o in offsets], dtype=np.float64)
    out = np.array([o.out for o in offsets], dtype=np.float64)
    columns = [np.ones(len(x)), x - x.mean()][: 1 + int(np.ptp(x) > SAME_PLACE)]
    fit = fit_linear(np.column_stack(columns), out, sigmas=np.ones(len(x)))
    slope = float(fit.coefficients[1]) if len(columns) > 1 else 0.0
    return WallLine(
        y0=float(fit.coefficients[0]) - slope * float(x.mean()),
        slope=slope,
        swing=float(np.max(np.abs(fit.residuals))),
        furthest_out=float(np.max(out)),
    )
