"""What a model in space is made of: closed bodies with a mark, a kind and properties, in the axes of the job."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.geom import Mesh


class Thing(StrEnum):
    """What a body is in the floor."""

    BOARD = "board"
    BEAM = "beam"
    JOIST = "joist"
    BLOCK = "block"
    POST = "post"
    FOOTING = "footing"


Value = str | float | bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """One closed body [mm, x along the wall, y away from the house, z up].

    ``name`` is what a person reads; ``material`` the timber or concrete; ``properties`` are pairs of a name and a
    value, the same names in every language; lengths among them are in mm and end in ``_mm``.
    """

    mark: str
    name: str
    thing: Thing
    material: str
    mesh: Mesh
    volume: float
    """Volume [mm3]."""
    properties: tuple[tuple[str, Value], ...] = ()
