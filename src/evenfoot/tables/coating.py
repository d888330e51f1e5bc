"""What is on record about finishes: how much one coat takes on planed and on sawn wood."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.errors import Fault, OutOfRangeError


class WoodSurface(StrEnum):
    """How a face was made; a sawn one drinks more."""

    PLANED = "planed"
    SAWN = "sawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Finish that one coat takes on a square metre, least and most [L/m2]."""

    low: float
    high: float
    source: str
    is_confirmed: bool


@cache
def _data() -> Mapping[str, Any]:
    text = (files("evenfoot.tables") / "data" / "coating.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def spread(finish: str, surface: WoodSurface, *, coat: int) -> Spread:
    """Return what the ``coat``-th coat (from 1) of a finish takes on a surface [L/m2].

    Later coats than the table holds take what its last one takes.
    Raises: OutOfRangeError (``finish-unknown``) when nothing is on record for it.
    """
    rows = [r for r in _data()["rate"] if r["finish"] == finish and r["surface"] == surface and r["coat"] <= coat]
    if not rows:
        known = ", ".join(sorted({r["finish"] for r in _data()["rate"]}))
        raise OutOfRangeError(Fault(where="finish", code="finish-unknown", found=finish, allowed=known))
    row = max(rows, key=lambda r: r["coat"])
    if "m2_per_l" in row:
        least, most = row["m2_per_l"]
        return Spread(low=1.0 / most, high=1.0 / least, source=row["source"], is_confirmed=row["confirmed"])
    density = _data()["density"]
    low, high = row["kg_per_m2"]
    return Spread(
        low=low / density["kg_per_l"],
        high=high / density["kg_per_l"],
        source=f"{row['source']} {density['source']}",
        is_confirmed=row["confirmed"] and density["confirmed"],
    )


@cache
def end_grain_extra() -> int:
    """Return how many coats more end grain gets than the other faces."""
    coats: int = _data()["end_grain"]["extra_coats"]
    return coats
