"""The stations of a job on the page, in the order of the carpenter's day."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyGroup:
    """Keys of the job file that are looked at together."""

    code: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One station: its groups of keys and the drawings that stand beside them, the first one shown first."""

    code: str
    drawings: tuple[str, ...]
    groups: tuple[KeyGroup, ...]
    is_on_site: bool = False
    """Whether readings are asked for here while the floor is set."""


@cache
def stations() -> tuple[Station, ...]:
    """Return every station in order."""
    text = (files("evenfoot.office") / "desk" / "stations.toml").read_text(encoding="utf-8")
    return tuple(
        Station(
            code=one["code"],
            drawings=tuple(one["drawings"]),
            is_on_site=one.get("is_on_site", False),
            groups=tuple(KeyGroup(code=g["code"], keys=tuple(g["keys"])) for g in one["groups"]),
        )
        for one in tomllib.loads(text)["station"]
    )


def station_named(code: str) -> Station:
    """Return one station; raises OutOfRangeError ``station-unknown``."""
    for one in stations():
        if one.code == code:
            return one
    allowed = ", ".join(one.code for one in stations())
    raise OutOfRangeError(Fault(where="station", code="station-unknown", found=code, allowed=allowed))
