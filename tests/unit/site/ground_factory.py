"""Sites and logs for tests of the ground, made without the parser."""

from __future__ import annotations

from evenfoot.job import Log, LogLine, SiteSpec, kinds
from evenfoot.job.model import LevelReading, RodReading, Station, WallOffset

__all__ = ["empty_log", "level_line", "make_log", "make_site", "rods", "station", "wall"]


def make_site(levels=(), *, stations=(), surface="plane", accuracy=3.0, ground="slab", wall_offsets=()):
    """``levels`` are (x, y, z) or (name, x, y, z)."""
    named = [p if isinstance(p[0], str) else (f"p{k}", *p) for k, p in enumerate(levels)]
    return SiteSpec(
        has_house=True,
        sill=0.0,
        ground=kinds.Ground(ground),
        surface=kinds.Surface(surface),
        accuracy=accuracy,
        stations=tuple(stations),
        levels=tuple(
            LevelReading(name=n, x=float(x), y=float(y), z=float(z), where=f"site.level[{k}]")
            for k, (n, x, y, z) in enumerate(named)
        ),
        wall=tuple(wall_offsets),
        obstacles=(),
        where="site",
    )


def station(readings, *, on=0.0, backsight=1200.0, closing=None, where="site.station[0]"):
    return Station(
        on=on,
        backsight=backsight,
        closing=closing,
        readings=tuple(readings),
        where=where,
    )


def rods(*readings):
    """Each (name, x, y, rod)."""
    return [
        RodReading(name=n, x=x, y=y, rod=rod, where=f"site.station[0].readings[{k}]")
        for k, (n, x, y, rod) in enumerate(readings)
    ]


def wall(*offsets):
    return [WallOffset(x=x, out=out, where=f"site.wall[{k}]") for k, (x, out) in enumerate(offsets)]


def level_line(mark, value, *, x=None, y=None, accuracy=None, where="log:1", what="level"):
    return LogLine(time="2026-11-20T09:10", what=what, mark=mark, x=x, y=y, value=value, accuracy=accuracy, where=where)


def make_log(*lines):
    return Log(lines=tuple(lines))


empty_log = Log(lines=())
