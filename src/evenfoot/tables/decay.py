"""What is on record about decay above ground: factors of sites, heights, details and woods, each with its flag."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any, TypeVar

from evenfoot.errors import Fault, OutOfRangeError

_T = TypeVar("_T")


class Part(StrEnum):
    """Which part of the floor a detail belongs to; decides the consequence of its decay."""

    BOARDS = "boards"
    FRAME = "frame"


class Wetted(StrEnum):
    """What the water gets at: bare end grain, faces in contact, or an open face."""

    END = "end"
    CONTACT = "contact"
    FACE = "face"


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """A factor [-] and whether it was read in a source."""

    value: float
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DecayDetail:
    """One detail: its trapped-water factor k_s4, the part it belongs to, and the remedy (code) that helps."""

    id: str
    trap: Factor
    part: Part
    wetted: Wetted
    remedy: str
    remedy_sealed: str
    """What helps where the end grain is sealed already."""
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DecayReach:
    """What counts as a gap that drains, an open board end, and a wall near or far [mm]."""

    draining_gap: float
    tight_end: float
    open_end: float
    tight_wall: float
    open_wall: float
    far_wall: float
    shoe: float
    """How far a metal shoe holds a post foot off its footing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DecayTable:
    """The whole table. ``sites`` maps a standard to the climate index that stands for its places."""

    sites: tuple[tuple[str, Factor], ...]
    k_s1: float
    k_s2: float
    c_a: float
    consequence: tuple[tuple[Part, float], ...]
    heights: tuple[tuple[float, Factor], ...]
    resistances: tuple[tuple[str, Factor], ...]
    seal: float
    """Factor of a maintained end-grain seal on k_s4."""
    finish: float
    """Factor of a maintained penetrating finish on k_s4 of an open face."""
    reach: DecayReach
    details: tuple[DecayDetail, ...]

    def site(self, standard: str) -> Factor:
        """Return the climate index that stands for places under this standard."""
        return _named(dict(self.sites), "standard", standard)

    def height(self, above_ground: float) -> Factor:
        """Return k_s3 of a detail this high above the ground [mm]."""
        return next(factor for reached, factor in self.heights if above_ground >= reached)

    def resistance(self, resistance_class: str) -> Factor:
        """Return I_Rd of a resistance class, A to E."""
        return _named(dict(self.resistances), "resistance_class", resistance_class)

    def gamma(self, part: Part) -> float:
        """Return the consequence factor of a part."""
        return dict(self.consequence)[part]

    def detail(self, detail_id: str) -> DecayDetail:
        """Return one detail by id; raises OutOfRangeError (``name-unknown``) when it is not in the table."""
        return _named({d.id: d for d in self.details}, "detail", detail_id)


def _named(rows: dict[str, _T], where: str, name: str) -> _T:
    if name in rows:
        return rows[name]
    raise OutOfRangeError(Fault(where=where, code="name-unknown", found=name, allowed=", ".join(rows)))


@cache
def decay_table() -> DecayTable:
    """Return the decay table."""
    raw = tomllib.loads((files("evenfoot.tables") / "data" / "decay.toml").read_text(encoding="utf-8"))
    traps = {row["class"]: _factor(row, "k_s4") for row in raw["trap"]}
    reach = raw["reach"]
    return DecayTable(
        sites=tuple((row["standard"], _factor(row, "climate_index")) for row in raw["site"]),
        k_s1=raw["local"]["k_s1"],
        k_s2=raw["local"]["k_s2"],
        c_a=raw["local"]["c_a"],
        consequence=tuple((part, raw["consequence"][part.value]) for part in Part),
        heights=tuple((row["from_mm"], _factor(row, "k_s3")) for row in raw["height"]),
        resistances=tuple((row["class"], _factor(row, "i_rd")) for row in raw["resistance"]),
        seal=raw["seal"]["factor"],
        finish=raw["finish"]["factor"],
        reach=DecayReach(
            draining_gap=reach["draining_gap_mm"],
            tight_end=reach["tight_end_mm"],
            open_end=reach["open_end_mm"],
            tight_wall=reach["tight_wall_mm"],
            open_wall=reach["open_wall_mm"],
            far_wall=reach["far_wall_mm"],
            shoe=reach["shoe_mm"],
        ),
        details=tuple(
            DecayDetail(
                id=row["id"],
                trap=traps[row["trap"]],
                part=Part(row["part"]),
                wetted=Wetted(row["grain"]),
                remedy=row["remedy"],
                remedy_sealed=row.get("remedy_sealed", row["remedy"]),
                is_confirmed=row["confirmed"],
            )
            for row in raw["detail"]
        ),
    )


def _factor(row: dict[str, Any], key: str) -> Factor:
    return Factor(value=float(row[key]), is_confirmed=row["confirmed"])
