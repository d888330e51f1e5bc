"""What EN 338, EN 1990, EN 1991 and EN 1995 put on record: strength classes, factors, and loads on floors."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenfoot.errors import OutOfRangeError
from evenfoot.tables.figures import Figure, read_figures, read_rows, unknown
from evenfoot.tables.wood import WoodGroup, species, species_ids

__all__ = ["Figure", "FloorLoad", "StrengthClass", "factor", "floor_load", "strength_class"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthClass:
    """One strength class of EN 338 with its symbols: strengths and moduli [N/mm2], densities [kg/m3]."""

    grade: str
    group: WoodGroup
    f_m_k: float
    f_t_0_k: float
    f_t_90_k: float
    f_c_0_k: float
    f_c_90_k: float
    f_v_k: float
    E_0_mean: float
    E_0_05: float
    E_90_mean: float
    G_mean: float
    rho_k: float
    rho_mean: float
    sources: tuple[str, ...]
    is_confirmed: bool

    @property
    def is_softwood(self) -> bool:
        """Whether it is a class of needle wood."""
        return self.group is WoodGroup.SOFTWOOD


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorLoad:
    """What EN 1991-1-1 lays on a floor of one use: ``area`` [N/m2], ``point`` [N], and the ranges that it leaves."""

    use: str
    category: str
    area: float
    area_range: tuple[float, float]
    point: float
    point_range: tuple[float, float]
    sources: tuple[str, ...]
    is_confirmed: bool


def factor(name: str) -> Figure:
    """Return one figure by its name, as ``duration.short``.

    Raises: OutOfRangeError (``factor-unknown``).
    """
    known = read_figures("eu_factors.toml")
    if name not in known:
        raise OutOfRangeError(unknown("name", "factor-unknown", name, tuple(known)))
    return known[name]


def floor_load(use: str) -> FloorLoad:
    """Return the loads of one use, as ``balcony``.

    Raises: OutOfRangeError (``live-load-unknown``).
    """
    if use not in _loads():
        raise OutOfRangeError(unknown("use", "live-load-unknown", use, tuple(_loads())))
    return _loads()[use]


def strength_class(*, species_id: str, grade: str) -> StrengthClass:
    """Return the class that a job's strength grade names, as ``c24`` or ``D30``: C for softwoods, D for hardwoods.

    Raises: OutOfRangeError: ``species-not-in-standard`` when the wood is not on record, so that nothing says whether
    it is a softwood; ``grade-not-in-standard`` when that is no class of its kind of wood.
    """
    if species_id not in species_ids():
        raise OutOfRangeError(unknown("species", "species-not-in-standard", species_id, species_ids()))
    group = species(species_id).group
    name = grade.lower()
    found = _classes().get(name)
    if found is None or found.group is not group:
        known = tuple(g for g, row in _classes().items() if row.group is group)
        raise OutOfRangeError(unknown("strength_grade", "grade-not-in-standard", grade, known))
    return found


@cache
def _classes() -> dict[str, StrengthClass]:
    symbols = (
        "f_m_k", "f_t_0_k", "f_t_90_k", "f_c_0_k", "f_c_90_k", "f_v_k",
        "E_0_mean", "E_0_05", "E_90_mean", "G_mean", "rho_k", "rho_mean",
    )  # fmt: skip
    return {
        row["grade"]: StrengthClass(
            grade=row["grade"],
            group=WoodGroup(row["group"]),
            sources=tuple(row["source"].split()),
            is_confirmed=row["confirmed"] == "true",
            **{symbol: float(row[symbol]) for symbol in symbols},
        )
        for row in read_rows("eu_classes.csv")
    }


@cache
def _loads() -> dict[str, FloorLoad]:
    return {
        row["use"]: FloorLoad(
            use=row["use"],
            category=row["category"],
            area=float(row["area"]),
            area_range=(float(row["area_low"]), float(row["area_high"])),
            point=float(row["point"]),
            point_range=(float(row["point_low"]), float(row["point_high"])),
            sources=tuple(row["source"].split()),
            is_confirmed=row["confirmed"] == "true",
        )
        for row in read_rows("eu_floor_loads.csv")
    }
