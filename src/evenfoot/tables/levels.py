"""What is on record about levels: how uneven grounds are, what a post can be, and how deep a step at a door may be."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError


class Door(StrEnum):
    """Whether a door leaf passes over the floor outside it."""

    SWINGS_OVER = "swings-over"
    CLEAR_OF_FLOOR = "clear-of-floor"
    """It opens inward or slides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure [in ``unit``] with its source id and whether it was read there."""

    name: str
    value: float
    unit: str
    is_confirmed: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundKind:
    """How uneven one kind of ground is expected to be before it is measured."""

    hollow: Figure
    """Greatest gap under a 2 m straightedge, 19 times in 20 [mm]."""
    slope: Figure
    """Standard deviation of a slope that nobody measured [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorStep:
    """How far a floor may lie under the top of the sill [mm]; ``printed`` as the clause prints it."""

    door: Door
    drop: float
    printed: str
    clause: str
    source: str
    is_confirmed: bool


def ground_kind(ground: str) -> GroundKind:
    """Return what is on record for this kind of ground (``slab``, ``paving``, ``gravel``, ``soil``, ``rock``).

    Raises: OutOfRangeError (``ground-unknown``).
    """
    if ground not in _grounds():
        raise OutOfRangeError(Fault(where="ground", code="ground-unknown", found=ground, allowed=", ".join(_grounds())))
    return _grounds()[ground]


def post_figure(name: str) -> Figure:
    """Return one figure about posts by its name in the table.

    Raises: OutOfRangeError (``post-figure-unknown``).
    """
    if name not in _figures():
        raise OutOfRangeError(
            Fault(where="name", code="post-figure-unknown", found=name, allowed=", ".join(_figures()))
        )
    return _figures()[name]


def setting_figure(name: str) -> Figure:
    """Return one figure about measuring and setting by its name in the table.

    Raises: OutOfRangeError (``post-figure-unknown``).
    """
    known = _setting_figures()
    if name not in known:
        raise OutOfRangeError(Fault(where="name", code="post-figure-unknown", found=name, allowed=", ".join(known)))
    return known[name]


def door_step(door: Door) -> DoorStep:
    """Return how far the floor may lie under the sill of such a door, by the clause on record."""
    return _steps()[door]


def _rows(name: str) -> list[dict[str, str]]:
    text = (files("evenfoot.tables") / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _figure(row: dict[str, str], *, name: str) -> Figure:
    return Figure(
        name=name,
        value=float(row["value"]),
        unit=row["unit"],
        is_confirmed=row["confirmed"] == "true",
        source=row["source"],
    )


@cache
def _grounds() -> dict[str, GroundKind]:
    found: dict[str, dict[str, Figure]] = {}
    for row in _rows("ground.csv"):
        found.setdefault(row["ground"], {})[row["figure"]] = _figure(row, name=row["figure"])
    return {ground: GroundKind(hollow=has["hollow"], slope=has["slope"]) for ground, has in found.items()}


@cache
def _figures() -> dict[str, Figure]:
    return {row["name"]: _figure(row, name=row["name"]) for row in _rows("post_figures.csv")}


@cache
def _setting_figures() -> dict[str, Figure]:
    return {row["name"]: _figure(row, name=row["name"]) for row in _rows("setting_figures.csv")}


@cache
def _steps() -> dict[Door, DoorStep]:
    return {
        Door(row["door"]): DoorStep(
            door=Door(row["door"]),
            drop=float(row["drop_mm"]),
            printed=row["printed"],
            clause=row["clause"],
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in _rows("door_steps.csv")
    }
