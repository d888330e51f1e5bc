"""What is on record about a wood: how dense it is, how it moves, how long it lasts, and from whom we know."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.tables.care import coat_life, drying, guard, handling, least_guarded_fall, spacer_step, sweep_years
from evenfoot.tables.decay import DecayDetail, DecayTable, Part, Wetted, decay_table

__all__ = [
    "DecayDetail",
    "DecayTable",
    "Part",
    "Species",
    "Wetted",
    "WoodGroup",
    "coat_life",
    "decay_table",
    "drying",
    "guard",
    "handling",
    "least_guarded_fall",
    "spacer_step",
    "species",
    "species_ids",
    "sweep_years",
]


class WoodGroup(StrEnum):
    """Needle or broad leaf."""

    SOFTWOOD = "softwood"
    HARDWOOD = "hardwood"


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """One wood. A figure not on record is None; each ``is_..._confirmed`` says whether its figure was read in a source.

    ``density`` is at 12 % moisture [kg/m3]; ``shrink_*`` are from green to oven-dry [%]; ``fsp`` is fibre saturation
    [%]; ``c_radial`` and ``c_tangential`` are the change of a width per 1 % of moisture, as a share of it [per %].
    ``en350_*`` are the ends of its heartwood durability class (1 lasts longest, 5 shortest); ``hardness`` is the Janka
    side hardness [N]; ``resistance_class`` is its place, A to E, in the decay table, empty when nothing is known.
    """

    id: str
    latin: str
    group: WoodGroup
    density: float
    is_density_confirmed: bool
    shrink_radial: float | None
    shrink_tangential: float | None
    shrink_volume: float | None
    is_shrink_confirmed: bool
    fsp: float
    is_fsp_confirmed: bool
    c_radial: float
    c_tangential: float
    is_c_confirmed: bool
    en350_best: int | None
    en350_worst: int | None
    is_en350_confirmed: bool
    japan_class: str
    is_japan_class_confirmed: bool
    hardness: float | None
    is_hardness_confirmed: bool
    resistance_class: str
    is_resistance_confirmed: bool
    is_treated: bool
    """True for stock that holds preservative and is delivered wet."""
    sources: tuple[str, ...]

    @property
    def c_mean(self) -> float:
        """Mean of radial and tangential movement, for boards of unknown grain [per %]."""
        return (self.c_radial + self.c_tangential) / 2


@cache
def _species() -> dict[str, Species]:
    text = (files("evenfoot.tables") / "data" / "species.csv").read_text(encoding="utf-8")
    rows = (_read(row) for row in csv.DictReader(text.splitlines()))
    return {one.id: one for one in rows}


def _read(row: dict[str, str]) -> Species:
    return Species(
        id=row["id"],
        latin=row["latin"],
        group=WoodGroup(row["group"]),
        density=float(row["density_kg_m3"]),
        is_density_confirmed=row["density_confirmed"] == "true",
        shrink_radial=_number(row["shrink_radial_pct"]),
        shrink_tangential=_number(row["shrink_tangential_pct"]),
        shrink_volume=_number(row["shrink_volume_pct"]),
        is_shrink_confirmed=row["shrink_confirmed"] == "true",
        fsp=float(row["fsp_pct"]),
        is_fsp_confirmed=row["fsp_confirmed"] == "true",
        c_radial=float(row["c_radial_per_pct"]),
        c_tangential=float(row["c_tangential_per_pct"]),
        is_c_confirmed=row["c_confirmed"] == "true",
        en350_best=int(row["en350_best"]) if row["en350_best"] else None,
        en350_worst=int(row["en350_worst"]) if row["en350_worst"] else None,
        is_en350_confirmed=row["en350_confirmed"] == "true",
        japan_class=row["japan_class"],
        is_japan_class_confirmed=row["japan_class_confirmed"] == "true",
        hardness=_number(row["janka_n"]),
        is_hardness_confirmed=row["janka_confirmed"] == "true",
        resistance_class=row["resistance_class"],
        is_resistance_confirmed=row["resistance_confirmed"] == "true",
        is_treated=row["is_treated"] == "true",
        sources=tuple(row["source"].split()),
    )


def _number(text: str) -> float | None:
    return float(text) if text else None


def species_ids() -> tuple[str, ...]:
    """Return the id of every wood on record, in the order of the table."""
    return tuple(_species())


def species(species_id: str) -> Species:
    """Return the wood with this id.

    Raises: OutOfRangeError (``species-unknown``) when there is no such wood; the fault names the nearest id.
    """
    known = _species()
    if species_id in known:
        return known[species_id]
    nearest = get_close_matches(species_id, known, n=1, cutoff=0.5)
    raise OutOfRangeError(
        Fault(
            where="species",
            code="species-unknown",
            found=species_id,
            allowed=", ".join(known),
            nearest=nearest[0] if nearest else "",
        )
    )
