"""The Japanese practice applied to one job: its load cases, allowable stresses, and limits (notes 041, 042 and 044)."""

# ruff: noqa: ARG002 - one interface for all standards, and not each needs every argument

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from evenfoot.job import kinds
from evenfoot.rules.japan_2000 import beams, bearing, columns, loads, sections, stresses
from evenfoot.strength.standards.practice import (
    Aim,
    Bearer,
    Case,
    Contact,
    Figure,
    Notch,
    Notched,
    Piece,
    PostRule,
    SagRule,
    Stress,
    Wood,
)
from evenfoot.tables import strength_jp

_USE_ROW = {
    kinds.Use.DWELLING: "dwelling_room",
    kinds.Use.BALCONY: "dwelling_room",
    kinds.Use.PUBLIC: "assembly_other",
}
_PER_M2 = 1e-6
_PER_M3 = 1e-6
"""kN/m3 in N/mm3."""
_ALL = frozenset(Bearer)
_FLOOR = frozenset((Bearer.FLOOR,))
_FRAME = frozenset((Bearer.FRAME,))

_STRESSES = "Enforcement Order (施行令) art. 89; Notice 1452 of 2000 (平12建告1452)"
_AIJ = "AIJ timber design standard (木質構造設計規準)"
_CLAUSES: Mapping[str, str] = {
    "bending": _STRESSES,
    "shear": _STRESSES,
    "notch-bending": f"{_AIJ}, notches; {_STRESSES}",
    "notch-shear": f"{_AIJ}, notches; {_STRESSES}",
    "end-notch": f"{_AIJ}, notches; {_STRESSES}",
    "bare-bending": f"{_STRESSES}; net section, no allowance for the notch",
    "bare-shear": f"{_STRESSES}; net section, no allowance for the notch",
    "notch-depth": f"{_AIJ}, notches: h/3",
    "end-notch-depth": f"{_AIJ}, notches: h/3",
    "bearing": "Notice 1024 of 2001 (平13国交告1024) 1; art. 89",
    "post-head": "Notice 1024 of 2001 (平13国交告1024) 1; art. 89",
    "seat-wood": "published practice on seats, 30 mm and 60 mm",
    "buckling": "Notice 1024 of 2001 (平13国交告1024) 1; art. 89",
    "slenderness": "Enforcement Order (施行令) art. 43-6",
    "sag": "Enforcement Order (施行令) art. 82-4; Notice 1459 of 2000 (平12建告1459)",
    "depth-of-span": "Notice 1459 of 2000 (平12建告1459) 1",
    "board-bending": _STRESSES,
    "board-shear": _STRESSES,
    "board-tip": _STRESSES,
    "board-sag": "Enforcement Order (施行令) art. 82-4; Notice 1459 of 2000 (平12建告1459)",
    "ripped-board": _STRESSES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Japan:
    """Allowable stresses by the Enforcement Order, with the notices and the institute's standard for notches."""

    use: kinds.Use
    wetness: kinds.Wetness
    snow_depth: float
    """Vertical depth of the place [mm]; 0 when there is none."""
    is_heavy_snow_area: bool
    person: float
    """One person with a load [N]."""
    holds_heads: bool = False
    """Whether posts are held at both ends."""

    @property
    def standard(self) -> kinds.Standard:
        """Japan."""
        return kinds.Standard.JAPAN

    @property
    def clauses(self) -> Mapping[str, str]:
        """The clause behind each rule."""
        return _CLAUSES

    @property
    def unit_weight(self) -> Figure:
        """Wet timber [N/mm3]."""
        return _figure("dead.wet-timber", scale=_PER_M3)

    @property
    def dead_least(self) -> Figure:
        """Nothing beside what the floor weighs [N/mm2]."""
        return Figure(value=0.0)

    def wood(self, piece: Piece) -> Wood:
        """Return the wood with the shear modulus E/15; raises OutOfRangeError when the notice does not list it."""
        row = strength_jp.wood_strength(species=piece.species, grade=piece.grade)
        share = strength_jp.factor("shear.modulus")
        doubts = () if row.is_stiffness_confirmed else (f"{row.species} E_0",)
        return Wood(
            piece=piece,
            species=row.species,
            grade=row.grade,
            modulus=row.modulus,
            shear_modulus=row.modulus / share.value,
            doubts=doubts + _doubts((share,)),
        )

    def cases(self) -> tuple[Case, ...]:
        """Return long (columns i and ro), snow where it falls, sag (column ha), and one person."""
        live = strength_jp.live_load(_USE_ROW[self.use])
        doubts = () if live.is_confirmed else (f"live load {live.use}",)
        out = []
        for decides, load in ((_FLOOR, live.floor), (_FRAME, live.frame)):
            out.append(
                Case(code="long", aim=Aim.STRENGTH, decides=decides, area=load * _PER_M2, lasts="long", doubts=doubts)
            )
            out += self._snow(decides, load, doubts)
        out.append(Case(code="sag", aim=Aim.SAG, decides=_ALL, area=live.sag * _PER_M2, lasts="long", doubts=doubts))
        out.append(Case(code="person", aim=Aim.STRENGTH, decides=_ALL, area=0.0, lasts="short", point=self.person))
        return tuple(out)

    def _snow(self, decides: frozenset[Bearer], live: float, doubts: tuple[str, ...]) -> list[Case]:
        if self.snow_depth <= 0.0:
            return []
        is_heavy = self.is_heavy_snow_area
        weight = strength_jp.factor("snow.heavy" if is_heavy else "snow.usual")
        snow = loads.snow_load(d=self.snow_depth / 10.0, rho=weight.value)
        shares = [("snow-short", 1.0)]
        behind = [weight]
        if is_heavy:
            long_share = strength_jp.factor("snow.heavy-long-share")
            shares.append(("snow-long", long_share.value))
            behind.append(long_share)
        return [
            Case(
                code=code,
                aim=Aim.STRENGTH,
                decides=decides,
                area=loads.snow_sum(P=live, S=snow, share=share) * _PER_M2,
                lasts=code,
                doubts=doubts + _doubts(behind),
            )
            for code, share in shares
        ]

    def strength(self, stress: Stress, wood: Wood, case: Case) -> Figure:
        """Return the allowable stress [N/mm2]: (n/3) K_m F."""
        return _allowable(stress, wood.species, wood.grade, case.lasts, self.wetness)

    def sideways(self, *, wood: Wood, unheld: float, case: Case) -> Figure:
        """Return 1 [-]: the practice asks nothing of timbers so stout."""
        return Figure(value=1.0)

    def section_modulus(self, *, width: float, depth: float) -> float:
        """Return b h2 / 6 [mm3]."""
        return sections.section_modulus(b=width, h=depth)

    def shear_stress_factor(self) -> float:
        """Return 1.5 [-], the greatest over the mean shear stress of a rectangle."""
        return beams.shear_stress(Q=1.0, A_e=1.0)

    def notched(self, *, wood: Wood, width: float, depth: float, notch: Notch) -> Notched:
        """Return what the institute's notch rules leave; no pulled section beyond h/3."""
        limit = depth * sections.NOTCH_SHARE
        is_within = notch.depth <= limit
        cut = {"b": width, "h": depth, "n": notch.depth}
        return Notched(
            limit=limit,
            modulus=sections.notched_modulus_compression(**cut),
            area=sections.notched_area_compression(**cut),
            pulled_modulus=sections.notched_modulus_tension(**cut) if is_within else None,
            pulled_area=sections.notched_area_tension(**cut) if is_within else None,
        )

    def end_bearing(self, contact: Contact) -> Figure:
        """Return 0.8 when less wood than the depth lies beyond the bearing, else 1 [-]."""
        reach, end = strength_jp.factor("bearing.end-reach"), strength_jp.factor("bearing.end")
        is_end = bearing.is_end_bearing(beyond=contact.beyond, h=contact.depth, reach=reach.value)
        return Figure(value=end.value if is_end else 1.0, doubts=_doubts((reach, end)))

    def wood_under_seat(self, *, load: float) -> Figure | None:
        """Return 30 mm, or 60 mm from 4 kN."""
        least, heavy = strength_jp.factor("seat.wood-under"), strength_jp.factor("seat.wood-under-heavy")
        limit = strength_jp.factor("seat.heavy")
        value = bearing.wood_under_seat(N=load, least=least.value, heavy=heavy.value, N_heavy=limit.value)
        return Figure(value=value, doubts=_doubts((least, heavy, limit)))

    def post(self, *, wood: Wood, height: float) -> PostRule:
        """Return the slenderness over the clear height of a post held at both ends, over twice that of any other."""
        free, limit = strength_jp.factor("post.free-top"), strength_jp.factor("slenderness.post")
        length = height if self.holds_heads else free.value * height
        slender = columns.slenderness(l_k=length, i=columns.radius_of_gyration(b=wood.piece.width, h=wood.piece.depth))
        doubts = _doubts(() if self.holds_heads else (free,)) + (("eta above 100",) if slender > 100.0 else ())
        return PostRule(slenderness=slender, limit=limit.value, length=length, doubts=doubts)

    def buckling(self, *, wood: Wood, rule: PostRule, case: Case) -> Figure:
        """Return eta [-]."""
        return Figure(value=columns.buckling_factor(lambda_=rule.slenderness), doubts=rule.doubts)

    def tie_height(self) -> Figure | None:
        """Return 600 mm."""
        return _figure("post.tie-from")

    def sag(self, *, span: float, is_overhang: bool, case: Case) -> SagRule | None:
        """Return L/250 after creep; deeper than L/12 needs no check; the trade's L/300 and 20 mm beside it."""
        return _sag_rule(span, is_overhang)


@lru_cache(maxsize=1024)
def _sag_rule(span: float, is_overhang: bool) -> SagRule:
    creep, share = strength_jp.factor("deflection.creep"), strength_jp.factor("deflection.span-share")
    exempt, usual = strength_jp.factor("deflection.exempt"), strength_jp.factor("deflection.trade-share")
    overhang = strength_jp.factor("deflection.overhang-span")
    length = overhang.value * span if is_overhang else span
    return SagRule(
        limit=beams.sag_limit(L=length, share=share.value, creep=creep.value),
        shallow=length / exempt.value,
        usual=min(length / usual.value, strength_jp.factor("deflection.trade-most").value),
        doubts=_doubts((creep, share, *((overhang,) if is_overhang else ()))),
    )


@cache
def _allowable(stress: Stress, species: str, grade: str, lasts: str, wetness: kinds.Wetness) -> Figure:
    row = strength_jp.wood_strength(species=species, grade=grade)
    wet = strength_jp.factor(f"moisture.{wetness}")
    symbol, reference, is_confirmed = {
        Stress.BENDING: ("F_b", row.bending, row.is_strength_confirmed),
        Stress.SHEAR: ("F_s", row.shear, row.is_strength_confirmed),
        Stress.ALONG: ("F_c", row.compression, row.is_strength_confirmed),
        Stress.ACROSS: ("F_cv", row.across, row.is_stiffness_confirmed),
    }[stress]
    own = () if is_confirmed else (f"{row.species} {row.grade} {symbol}",)
    if stress is Stress.ACROSS:
        n = strength_jp.factor(f"bearing.{lasts}")
        value = stresses.allowable_bearing(F_cv=reference, n=n.value, K_m=wet.value, alpha_end=1.0)
    else:
        n = strength_jp.factor(f"duration.{lasts}")
        value = stresses.allowable_stress(F=reference, n=n.value, K_m=wet.value)
    return Figure(value=value, doubts=own + _doubts((n, wet)))


def _figure(name: str, *, scale: float = 1.0) -> Figure:
    found = strength_jp.factor(name)
    return Figure(value=found.value * scale, doubts=_doubts((found,)))


def _doubts(figures: Iterable[strength_jp.Figure]) -> tuple[str, ...]:
    return tuple(f.name for f in figures if not f.is_confirmed)
