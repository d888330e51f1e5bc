"""What is on record about handling timber on site: lifting, fresh treated stock, drying of coats, upkeep, guards."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.errors import Fault, OutOfRangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What one person lifts and what fresh treated stock holds."""

    share: float
    """Share of body mass that a man should lift alone at most [-]."""
    body_mass: float
    """Body mass that the limit is reckoned with [kg]."""
    long_piece: float
    """Length from which a second person takes the other end [mm]."""
    fresh_water: float
    """Water in a cubic metre of treated timber straight from the cylinder [kg/m3]."""
    is_confirmed: bool
    """False while the body mass or the long piece is unconfirmed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """Drying of a coat [h] at 20 degrees C and 65 %, and what the timber and the air must keep."""

    between_coats: float
    final: float
    wood_max: float
    """Wettest timber that may be coated [%]."""
    dew_margin: float
    """Least distance of the surface from the dew point [K]."""
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatLife:
    """Years to the first renewal of a finish and between later ones, on a floor, as ranges."""

    first: tuple[float, float]
    later: tuple[float, float]
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """When a standard asks a guard: the fall that calls for it (None: no figure), and its height [mm]."""

    fall: float | None
    height: float
    source: str
    is_confirmed: bool


def _toml(name: str) -> dict[str, Any]:
    return tomllib.loads((files("evenfoot.tables") / "data" / name).read_text(encoding="utf-8"))


@cache
def handling() -> Handling:
    """Return what one person lifts and what fresh treated stock holds."""
    raw = _toml("moisture.toml")
    lifting, body = raw["lifting"], raw["lifting_body"]
    return Handling(
        share=lifting["share_of_body_mass"],
        body_mass=body["body_mass_kg"],
        long_piece=body["long_piece_mm"],
        fresh_water=raw["fresh_treated"]["water_kg_m3"],
        is_confirmed=lifting["confirmed"] and body["confirmed"],
    )


@cache
def spacer_step() -> float:
    """Return the step that gaps are advised in [mm]."""
    return float(_toml("gaps.toml")["spacer"]["step_mm"])


@cache
def drying() -> Drying:
    """Return how coats dry and what they ask of timber and air."""
    raw = _toml("coating_time.toml")
    return Drying(
        between_coats=raw["drying"]["between_coats_h"],
        final=raw["drying"]["final_h"],
        wood_max=raw["limits"]["wood_max_pct"],
        dew_margin=raw["limits"]["dew_margin_k"],
        is_confirmed=raw["drying"]["confirmed"] and raw["limits"]["confirmed"],
    )


def coat_life(finish: str) -> CoatLife:
    """Return how long a kind of finish lasts on a floor.

    Raises: OutOfRangeError (``name-unknown``) for a finish without a row.
    """
    rows = {row["finish"]: row for row in _toml("coating_time.toml")["life"]}
    if finish not in rows:
        raise OutOfRangeError(Fault(where="finish", code="name-unknown", found=finish, allowed=", ".join(rows)))
    row = rows[finish]
    return CoatLife(
        first=(row["first_low"], row["first_high"]),
        later=(row["next_low"], row["next_high"]),
        is_confirmed=row["confirmed"],
    )


@cache
def sweep_years() -> tuple[float, float]:
    """Return how often gaps are cleared and feet looked at [years], as a range."""
    raw = _toml("coating_time.toml")["sweep"]
    return (raw["every_low"], raw["every_high"])


@cache
def _guards() -> dict[str, Guard]:
    text = (files("evenfoot.tables") / "data" / "guards.csv").read_text(encoding="utf-8")
    return {
        row["standard"]: Guard(
            fall=float(row["fall_mm"]) if row["fall_mm"] else None,
            height=float(row["height_mm"]),
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in csv.DictReader(text.splitlines())
    }


def guard(standard: str) -> Guard:
    """Return when a standard asks a guard at the edge of a floor.

    Raises: OutOfRangeError (``name-unknown``) for a standard without a row.
    """
    if standard in _guards():
        return _guards()[standard]
    raise OutOfRangeError(Fault(where="standard", code="name-unknown", found=standard, allowed=", ".join(_guards())))


@cache
def least_guarded_fall() -> float:
    """Return the least fall [mm] from which any standard on record asks a guard."""
    return min(one.fall for one in _guards().values() if one.fall is not None)
