"""How much air is left between the timbers and the ground."""

from __future__ import annotations

import math
from collections.abc import Iterator

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Member
from evenfoot.job import kinds
from evenfoot.posts.cut import Bench
from evenfoot.site import Ground

_STEP = 300.0
"""Widest distance between the places along a timber where the air under it is looked at [mm]."""


def least_air(bench: Bench) -> Iterator[Check]:
    """Yield how much air the lowest timber has over the ground; it wants as much as the footing lifts the posts."""
    wanted = bench.job.frame.footing.height
    gaps = zip(_gaps(bench), bench.frame.members, strict=True)
    least, timber = min(gaps, key=lambda pair: round(pair[0], 3), default=(math.inf, None))
    if timber is None:
        return
    is_enough = least >= max(wanted, 0.0) and least > 0
    yield Check(
        subject=timber.mark,
        rule="air-under-timber",
        verdict=Verdict.OK if is_enough else Verdict.FAILS,
        demand=wanted,
        capacity=least,
        ratio=wanted / least if least > 0 else None,
        unit="mm",
        remedy="" if is_enough else "more-air",
        facts=(("air_mm", least), ("short_mm", max(0.0, wanted - least))),
    )


def _gaps(bench: Bench) -> list[float]:
    """Return the least air under each timber [mm], looked at closely enough that no reading is passed over."""
    looked = [(timber, _shares(timber, bench.ground)) for timber in bench.frame.members]
    heights = iter(bench.ground.heights([_below(timber, t) for timber, shares in looked for t in shares]))
    return [min(_underside(timber, t) - next(heights) for t in shares) for timber, shares in looked]


def _below(timber: Member, share: float) -> tuple[float, float]:
    """Return the place in plan at a share of a timber's length."""
    (x0, y0, _), (x1, y1, _) = timber.start, timber.end
    return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def _underside(timber: Member, share: float) -> float:
    """Return the height of a timber's underside at a share of its length [mm]."""
    (x0, y0, z0), (x1, y1, z1) = timber.start, timber.end
    plumb = timber.depth * math.hypot(1.0, (z1 - z0) / math.hypot(x1 - x0, y1 - y0))
    return z0 + share * (z1 - z0) - plumb


def _shares(timber: Member, ground: Ground) -> list[float]:
    """Return the places along a timber to look at: its ends; on triangles every step and every reading near it."""
    if ground.surface is kinds.Surface.PLANE:
        return [0.0, 1.0]
    (x0, y0, _), (x1, y1, _) = timber.start, timber.end
    dx, dy = x1 - x0, y1 - y0
    plan = math.hypot(dx, dy)
    count = max(1, math.ceil(plan / _STEP))
    shares = [k / count for k in range(count + 1)]
    for p in ground.points:
        along = ((p.x - x0) * dx + (p.y - y0) * dy) / plan**2
        aside = abs((p.x - x0) * dy - (p.y - y0) * dx) / plan
        if 0 < along < 1 and aside <= _STEP:
            shares.append(along)
    return shares
