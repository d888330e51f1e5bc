"""What is on record about nails and screws: their sizes, and how they are chosen, bored for and set."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.errors import Fault, OutOfRangeError


class FastenerKind(StrEnum):
    """The kinds of nails and screws."""

    NAIL_N = "nail-n"
    NAIL_CN = "nail-cn"
    NAIL_BN = "nail-bn"
    NAIL_STAINLESS = "nail-stainless"
    SCREW = "screw"

    @property
    def is_screw(self) -> bool:
        """Return whether it is driven by turning."""
        return self is FastenerKind.SCREW


class Way(StrEnum):
    """How a nail or screw goes through one timber into the next."""

    BOARD = "board"
    CLAMP = "clamp"
    SKEW = "skew"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """One nail or screw [mm]; ``shank`` of a screw is its outer thread diameter. ``metal``: steel or stainless."""

    mark: str
    kind: FastenerKind
    metal: str
    length: float
    shank: float
    head: float | None
    is_for_hardwood: bool
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pilot:
    """Bore as a share of the shank by density of the timber, and near an end or edge [-]."""

    below_450: float
    from_450_to_600: float
    above_600: float
    near_end_or_edge: float
    source: str
    is_confirmed: bool

    def ratio(self, density: float) -> float:
        """Return the share for a timber of this density at 12 % [kg/m3]; 0 = no pilot hole."""
        if density < 450:
            return self.below_450
        return self.from_450_to_600 if density <= 600 else self.above_600


@dataclass(frozen=True, slots=True, kw_only=True)
class Connection:
    """How one kind of meeting is fixed: the way of driving, and how many nails or screws each time."""

    use: str
    way: Way
    per_crossing: int
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRule:
    """How long a screw or nail through a board must be; ``shank_min`` is the thinnest screw [mm]."""

    screw_times_board: float
    screw_shortfall: float
    into_joist: float
    into_joist_d: float
    shank_min: float
    nail_times_board: float
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SkewRule:
    """How a slanting screw is set: angle from the face [degrees], its start as a share of its length."""

    angle_deg: float
    start: float
    length_max: float
    into_d: float
    clear: float
    """Least wood left between its point and the far face of the timber it starts in [mm]."""
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampRule:
    """How far a screw through a lap goes into the lower timber [d], and stays short of its far face [mm]."""

    into_d: float
    short: float
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """Long-term withdrawal resistance of a nail per mm of penetration [N/mm]; ``dried`` is its share after drying."""

    per_mm: float
    dried: float
    source: str
    is_confirmed: bool


_KGF_PER_CM = 9.80665 / 10.0
"""One kgf per cm in N per mm."""


@cache
def all_fasteners() -> tuple[Fastener, ...]:
    """Return every nail and screw on record, in the order of the table."""
    text = (files("evenfoot.tables") / "data" / "fasteners.csv").read_text(encoding="utf-8")
    return tuple(
        Fastener(
            mark=row["mark"],
            kind=FastenerKind(row["kind"]),
            metal=row["metal"],
            length=float(row["length_mm"]),
            shank=float(row["shank_mm"]),
            head=float(row["head_mm"]) if row["head_mm"] else None,
            is_for_hardwood=row["for_hardwood"] == "true",
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in csv.DictReader(text.splitlines())
    )


@cache
def fastener(mark: str) -> Fastener:
    """Return the nail or screw with this mark.

    Raises: OutOfRangeError (``fastener-unknown``) when there is none; the fault lists the marks.
    """
    for one in all_fasteners():
        if one.mark == mark:
            return one
    raise OutOfRangeError(
        Fault(where="mark", code="fastener-unknown", found=mark, allowed=", ".join(f.mark for f in all_fasteners()))
    )


@cache
def _rules() -> Mapping[str, Any]:
    text = (files("evenfoot.tables") / "data" / "fastener_rules.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def pilot(kind: FastenerKind) -> Pilot:
    """Return the pilot holes of nails or of screws."""
    row = _rules()["pilot"]["screw" if kind.is_screw else "nail"]
    return Pilot(
        below_450=row["below_450"],
        from_450_to_600=row["from_450_to_600"],
        above_600=row["above_600"],
        near_end_or_edge=row["near_end_or_edge"],
        source=row["source"],
        is_confirmed=row["confirmed"],
    )


@cache
def near_end_and_edge() -> tuple[float, float]:
    """Return how near an end and an edge every fixing gets a pilot hole, both in shanks [-]."""
    return _rules()["near"]["end_d"], _rules()["near"]["edge_d"]


@cache
def connections() -> tuple[Connection, ...]:
    """Return how each kind of meeting is fixed, in the order of the table."""
    return tuple(
        Connection(
            use=row["use"],
            way=Way(row["way"]),
            per_crossing=row["per_crossing"],
            source=row["source"],
            is_confirmed=row["confirmed"],
        )
        for row in _rules()["connection"]
    )


@cache
def board_rule(standard: str) -> BoardRule:
    """Return the length rule for boards under a standard (``japan``, ``europe``, ``north-america``)."""
    screw, nail = _rules()["board_screw"], _rules()["board_nail"]
    return BoardRule(
        screw_times_board=screw["times_board"],
        screw_shortfall=screw["shortfall"],
        into_joist=screw["into_joist_mm"],
        into_joist_d=screw["into_joist_d"][standard],
        shank_min=screw["shank_min_mm"][standard],
        nail_times_board=nail["times_board"],
        source=f"{screw['source']} {nail['source']}",
        is_confirmed=screw["confirmed"] and nail["confirmed"],
    )


@cache
def skew_rule() -> SkewRule:
    """Return how slanting screws are set."""
    row = _rules()["skew"]
    return SkewRule(
        angle_deg=row["angle_deg"],
        start=row["start"],
        length_max=row["length_max_mm"],
        into_d=row["into_d"],
        clear=row["clear_of_far_face_mm"],
        source=row["source"],
        is_confirmed=row["confirmed"],
    )


@cache
def clamp_rule() -> ClampRule:
    """Return how laps are clamped."""
    row = _rules()["clamp"]
    return ClampRule(
        into_d=row["into_d"], short=row["short_of_far_face_mm"], source=row["source"], is_confirmed=row["confirmed"]
    )


@cache
def hardwood_above() -> float:
    """Return the density at 12 % above which boards take the thicker screws and driving takes longer [kg/m3]."""
    density: float = _rules()["hardwood"]["density_above"]
    return density


@cache
def own_stock_reach() -> float:
    """Return how much longer than the shortest right one a fixing on the shop's list may be and still go first [-]."""
    reach: float = _rules()["choice"]["own_stock"]
    return reach


@cache
def tannin_species() -> frozenset[str]:
    """Return the woods that stain black around plain steel."""
    return frozenset(_rules()["metal"]["tannin_species"])


@cache
def metal_source() -> tuple[str, bool]:
    """Return the source ids of the rule on metals and whether it is confirmed."""
    return _rules()["metal"]["source"], _rules()["metal"]["confirmed"]


@cache
def hold_jp(mark: str, *, group: int) -> Hold:
    """Return the long-term withdrawal resistance of a nail [N/mm] in timber of group 1 or 2.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works), printed in kgf/cm.   Valid: older JIS nail set.
    Raises: OutOfRangeError (``fastener-unknown``) for a nail that the table does not hold.
    """
    row = _rules()["withdrawal_jp"]
    if mark not in row["marks"]:
        raise OutOfRangeError(Fault(where="mark", code="fastener-unknown", found=mark, allowed=", ".join(row["marks"])))
    kgf_per_cm = row[f"group_{group}"][row["marks"].index(mark)]
    return Hold(
        per_mm=kgf_per_cm * _KGF_PER_CM,
        dried=row["dry_after_driving"],
        source=row["source"],
        is_confirmed=row["confirmed"],
    )
