"""What the Japanese notices and practice put on record: strengths by species and grade, factors, and live loads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenfoot.errors import OutOfRangeError
from evenfoot.tables.figures import Figure, read_figures, read_rows, unknown

__all__ = ["Figure", "LiveLoad", "WoodStrength", "factor", "live_load", "wood_strength"]

_STRENGTH_TABLES = ("jp_ungraded.csv", "jp_visual.csv", "jp_machine.csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodStrength:
    """Reference strengths and stiffness of one species and grade [N/mm2].

    ``compression``, ``tension``, ``bending`` and ``shear`` are the notice's F_c, F_t, F_b and F_s; ``across`` is F_cv,
    ``modulus`` E_0, the least of the band where the grade is a band of it.
    """

    species: str
    grade: str
    compression: float
    tension: float
    bending: float
    shear: float
    across: float
    modulus: float
    sources: tuple[str, ...]
    is_strength_confirmed: bool
    is_stiffness_confirmed: bool
    """Whether ``across`` and ``modulus`` were read in a source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveLoad:
    """Live loads of one use [N/m2]: floors and joists (i), beams and posts (ro), sag and earthquake (ha)."""

    use: str
    floor: float
    frame: float
    sag: float
    sources: tuple[str, ...]
    is_confirmed: bool


def factor(name: str) -> Figure:
    """Return one figure by its name, as ``duration.long``.

    Raises: OutOfRangeError (``factor-unknown``).
    """
    if name not in _factors():
        raise OutOfRangeError(unknown("name", "factor-unknown", name, tuple(_factors())))
    return _factors()[name]


def live_load(use: str) -> LiveLoad:
    """Return the live loads of one row of the table, as ``dwelling_room``.

    Raises: OutOfRangeError (``live-load-unknown``).
    """
    if use not in _live():
        raise OutOfRangeError(unknown("use", "live-load-unknown", use, tuple(_live())))
    return _live()[use]


def wood_strength(*, species: str, grade: str) -> WoodStrength:
    """Return strengths and stiffness of ``species`` (a wood id, or the Japanese trade's name) in ``grade``.

    Raises: OutOfRangeError: ``species-not-in-standard`` when the notice does not list the wood or its stiffness is
    not on record; ``grade-not-in-standard`` when it does not list that grade of it.
    """
    name = _names().get(species, species)
    known = _stiffness()
    if name not in known:
        raise OutOfRangeError(unknown("species", "species-not-in-standard", species, (*known, *_names())))
    grades = _strengths()[name]
    if grade not in grades:
        raise OutOfRangeError(unknown("strength_grade", "grade-not-in-standard", grade, tuple(grades)))
    row, stiff = grades[grade], known[name]
    is_confirmed = row["confirmed"] == "true"
    # A machine grade is a band of the modulus itself: its lower end is the figure, sure when the row is.
    band = row.get("E_min")
    return WoodStrength(
        species=name,
        grade=grade,
        compression=float(row["F_c"]),
        tension=float(row["F_t"]),
        bending=float(row["F_b"]),
        shear=float(row["F_s"]),
        across=float(stiff["F_cv"]),
        modulus=float(band or stiff["E_0"]),
        sources=(*row["source"].split(), *stiff["source"].split()),
        is_strength_confirmed=is_confirmed,
        is_stiffness_confirmed=stiff["confirmed"] == "true",
    )


def _factors() -> dict[str, Figure]:
    return read_figures("jp_factors.toml")


@cache
def _live() -> dict[str, LiveLoad]:
    return {
        row["use"]: LiveLoad(
            use=row["use"],
            floor=float(row["i"]),
            frame=float(row["ro"]),
            sag=float(row["ha"]),
            sources=tuple(row["source"].split()),
            is_confirmed=row["confirmed"] == "true",
        )
        for row in read_rows("jp_live.csv")
    }


@cache
def _names() -> dict[str, str]:
    return {row["wood"]: row["species"] for row in read_rows("jp_names.csv")}


@cache
def _stiffness() -> dict[str, dict[str, str]]:
    return {row["species"]: row for row in read_rows("jp_stiffness.csv")}


@cache
def _strengths() -> dict[str, dict[str, dict[str, str]]]:
    found: dict[str, dict[str, dict[str, str]]] = {}
    for table in _STRENGTH_TABLES:
        for row in read_rows(table):
            found.setdefault(row["species"], {})[row["grade"]] = row
    return found
