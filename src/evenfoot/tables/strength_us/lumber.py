"""Reference design values of sawn lumber, the sizes it is sold in, and by which name each wood goes there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.tables.figures import read_rows, unknown
from evenfoot.tables.strength_us.factors import INCH, PSI

_PLAY = 0.15 * INCH
"""A section is taken for a size as sold when it is no more than this beyond it: wet or rough by a little [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumber:
    """Reference design values of one species, grade and class of size [N/mm2], before every factor.

    ``bending``, ``tension``, ``shear``, ``across``, ``along`` are F_b, F_t, F_v, F_c⊥, F_c; ``modulus`` E, ``buckling``
    E_min. ``is_sized`` tells whether the size factor applies; where it does not the values hold it already.
    """

    species: str
    grade: str
    is_timber: bool
    bending: float
    tension: float
    shear: float
    across: float
    along: float
    modulus: float
    buckling: float
    gravity: float
    is_sized: bool
    sources: tuple[str, ...]
    is_confirmed: bool
    is_along_confirmed: bool
    """Whether ``along``, ``modulus`` and ``buckling`` were read in a source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One nominal width [in, a name]: its dressed width [mm] and the factors that go with it [-]."""

    nominal: int
    dressed: float
    bending: float
    bending_thick: float
    tension: float
    along: float
    flat: float
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """By which name a wood is graded, in which groups the deck tables hold it, and whether treating incises it."""

    species: str
    joist_group: str
    beam_group: str
    is_incised: bool
    is_confirmed: bool


def name_of(species: str) -> Name:
    """Return the name that a wood is graded by.

    Raises: OutOfRangeError (``species-not-in-standard``) when it is not on record.
    """
    if species not in _names():
        raise OutOfRangeError(unknown("species", "species-not-in-standard", species, tuple(_names())))
    return _names()[species]


def nominal_of(size: float) -> int | None:
    """Return the nominal size [in, a name] whose dressed size is the least that is not under ``size`` [mm], if any."""
    return next((s.nominal for s in _sizes() if size <= s.dressed + _PLAY), None)


def size_row(nominal: int) -> Size:
    """Return the row of one nominal size.

    Raises: OutOfRangeError (``size-not-in-standard``) when it is not on record.
    """
    for row in _sizes():
        if row.nominal == nominal:
            return row
    known = tuple(str(s.nominal) for s in _sizes())
    raise OutOfRangeError(unknown("nominal", "size-not-in-standard", str(nominal), known))


def lumber(*, species: str, grade: str, nominal_depth: int, is_timber: bool) -> Lumber:
    """Return the reference values of a species by the name it is graded by; timber is 5 x 5 in nominal and larger.

    Raises: OutOfRangeError: ``grade-not-in-standard`` when that grade is not on record; ``size-not-in-standard`` when
    it is not in this size.
    """
    of_species = [row for row in _lumber() if row[0].species == species]
    graded = [row for row in of_species if row[0].grade == grade]
    if not graded:
        grades = tuple(dict.fromkeys(row[0].grade for row in of_species))
        raise OutOfRangeError(unknown("strength_grade", "grade-not-in-standard", grade, grades))
    for found, depth in graded:
        if found.is_timber is is_timber and depth in {None, nominal_depth}:
            return found
    found_text = f"{'timber, ' if is_timber else ''}{nominal_depth} in"
    allowed = ", ".join(f"{d} in" if d else "timber" if w.is_timber else "2 to 4 in thick" for w, d in graded)
    raise OutOfRangeError(Fault(where="depth", code="size-not-in-standard", found=found_text, allowed=allowed))


@cache
def _lumber() -> tuple[tuple[Lumber, int | None], ...]:
    return tuple((_read(row), int(row["nominal_depth"] or 0) or None) for row in read_rows("us_lumber.csv"))


def _read(row: dict[str, str]) -> Lumber:
    psi = {key.removesuffix("_psi"): float(row[key]) * PSI for key in row if key.endswith("_psi")}
    return Lumber(
        species=row["species"],
        grade=row["grade"],
        is_timber=row["kind"] == "timber",
        bending=psi["F_b"],
        tension=psi["F_t"],
        shear=psi["F_v"],
        across=psi["F_cp"],
        along=psi["F_c"],
        modulus=psi["E"],
        buckling=psi["E_min"],
        gravity=float(row["G"]),
        is_sized=row["is_sized"] == "true",
        sources=tuple(row["source"].split()),
        is_confirmed=row["confirmed"] == "true",
        is_along_confirmed=row["along_confirmed"] == "true",
    )


@cache
def _sizes() -> tuple[Size, ...]:
    return tuple(
        Size(
            nominal=int(row["nominal"]),
            dressed=float(row["dressed_in"]) * INCH,
            bending=float(row["bending_thin"]),
            bending_thick=float(row["bending_4in"]),
            tension=float(row["tension"]),
            along=float(row["along"]),
            flat=float(row["flat_thin"]),
            is_confirmed=row["confirmed"] == "true",
        )
        for row in read_rows("us_sizes.csv")
    )


@cache
def _names() -> dict[str, Name]:
    return {
        row["wood"]: Name(
            species=row["species"],
            joist_group=row["joist_group"],
            beam_group=row["beam_group"],
            is_incised=row["is_incised"] == "true",
            is_confirmed=row["confirmed"] == "true",
        )
        for row in read_rows("us_names.csv")
    }
