"""The European practice applied to one job: EN 1995-1-1 with EN 338, EN 1990 and EN 1991 (notes 100 to 102)."""

# ruff: noqa: ARG002 - one interface for all standards, and not each needs every argument

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from evenfoot.errors import OutOfRangeError
from evenfoot.job import kinds
from evenfoot.rules.ec5_2004 import actions, bearing, bending, columns, deflection, shear
from evenfoot.rules.ec5_2004 import strength as strengths
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
from evenfoot.tables import strength_eu

_PER_M2 = 1e-6
_PER_M3 = 1e-6
"""kN/m3 in N/mm3."""
_GRAVITY = 9.81e-9
"""Weight of 1 kg/m3 [N/mm3]."""
_ALL = frozenset(Bearer)
_FINAL = "final"
"""What the code of a case for the final sag ends with."""
_PATCH = 50.0
"""Side of the square that a point load stands on [mm]. Source: EN 1991-1-1:2002, 6.3.1.2(5), note."""

_EC5 = "EN 1995-1-1:2004 (Eurocode 5)"
_CLAUSES: Mapping[str, str] = {
    "bending": f"{_EC5}, 6.1.6 and 6.3.3",
    "shear": f"{_EC5}, 6.1.7",
    "notch-bending": f"{_EC5}, 6.1.6 on the net section",
    "notch-shear": f"{_EC5}, 6.1.7 on the net section",
    "end-notch": f"{_EC5}, 6.5.2",
    "bare-bending": f"{_EC5}, 6.1.6; net section, no allowance for the notch",
    "bare-shear": f"{_EC5}, 6.1.7; net section, no allowance for the notch",
    "notch-no-rule": f"{_EC5}, 6.5.1 and 6.5.2",
    "bearing": f"{_EC5}, 6.1.5",
    "post-head": f"{_EC5}, 6.1.5",
    "buckling": f"{_EC5}, 6.3.2",
    "sag-at-once": f"{_EC5}, 2.2.3 and 7.2",
    "sag-final": f"{_EC5}, 2.2.3 and 7.2",
    "board-bending": f"{_EC5}, 6.1.6",
    "board-shear": f"{_EC5}, 6.1.7",
    "board-tip": f"{_EC5}, 6.1.6",
    "board-sag-at-once": f"{_EC5}, 2.2.3 and 7.2",
    "board-sag-final": f"{_EC5}, 2.2.3 and 7.2",
    "ripped-board": f"{_EC5}, 6.1.6",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Europe:
    """Limit states by Eurocode 5 with the values that the standards recommend; timber outdoors, service class 3."""

    use: kinds.Use
    snow_depth: float
    """Vertical depth of the place [mm]; 0 when there is none."""
    is_heavy_snow_area: bool
    """Above 1000 m, or in the north."""
    person: float
    """One person with a load [N]; the standard's point load counts where it is greater."""
    woods: tuple[tuple[str, str], ...]
    """Species and strength grade of everything in the job."""
    holds_heads: bool = False
    """Whether posts are held at both ends."""

    @property
    def standard(self) -> kinds.Standard:
        """Europe."""
        return kinds.Standard.EUROPE

    @property
    def clauses(self) -> Mapping[str, str]:
        """The clause behind each rule."""
        return _CLAUSES

    @property
    def unit_weight(self) -> Figure:
        """Wet timber [N/mm3]: 6 kN/m3, or the heaviest class of the job at 30 % moisture where that is more."""
        usual, share = strength_eu.factor("dead.wet-timber"), strength_eu.factor("dead.wet-share")
        heaviest = max((c.rho_mean for c in self._classes()), default=0.0) * _GRAVITY * share.value
        return Figure(value=max(usual.value * _PER_M3, heaviest), doubts=_doubts((usual, share)))

    def _classes(self) -> list[strength_eu.StrengthClass]:
        found = []
        for species, grade in self.woods:
            try:
                found.append(strength_eu.strength_class(species_id=species, grade=grade))
            except OutOfRangeError:  # said where its strength is asked for
                continue
        return found

    @property
    def dead_least(self) -> Figure:
        """Nothing beside what the floor weighs [N/mm2]."""
        return Figure(value=0.0)

    def wood(self, piece: Piece) -> Wood:
        """Return the wood with mean moduli; raises OutOfRangeError when EN 338 has no such class of it."""
        row = strength_eu.strength_class(species_id=piece.species, grade=piece.grade)
        return Wood(
            piece=piece,
            species=piece.species,
            grade=row.grade,
            modulus=row.E_0_mean,
            shear_modulus=row.G_mean,
            doubts=() if row.is_confirmed else (f"EN 338 {row.grade}",),
        )

    def cases(self) -> tuple[Case, ...]:
        """Return the combinations of EN 1990: every mix of durations, sag at once and in the end, the point load."""
        live = strength_eu.floor_load(self.use)
        own = () if live.is_confirmed else (f"live load {live.use}",)
        q, heavy = live.area * _PER_M2, strength_eu.factor("dead.heavy")
        more = strength_eu.factor("live.heavy")
        doubts = own + _doubts((heavy, more))
        point = max(live.point, self.person) * more.value
        out = [
            _strength_case("permanent", 0.0, "permanent", doubts),
            _strength_case("imposed", self._design(q), "medium", doubts, self._design(q)),
            *(self._snow(q, live.category, doubts) if self.snow_depth > 0.0 else ()),
        ]
        out += self._sag(q, live.category, own)
        for code, dead in (("point", heavy), ("point-light", strength_eu.factor("dead.light"))):
            out.append(
                Case(
                    code=code,
                    aim=Aim.STRENGTH,
                    decides=_ALL,
                    area=0.0,
                    lasts="short",
                    point=point,
                    patch=_PATCH,
                    dead=dead.value,
                    doubts=own + _doubts((dead, more)),
                )
            )
        return tuple(out)

    def _design(self, leading: float, *others: tuple[float, float]) -> float:
        return actions.design_sum(Q_1=leading, others=others, gamma_Q=strength_eu.factor("live.heavy").value)

    def _snow_load(self) -> tuple[float, str]:
        """Return the snow on the floor [N/mm2], and which row of shares is for it."""
        weight = strength_eu.factor("snow.weight")
        load = actions.snow_load(d=self.snow_depth, gamma=weight.value * _PER_M3)
        return load, "snow-heavy" if self.is_heavy_snow_area else "snow-usual"

    def _snow(self, q: float, category: str, doubts: tuple[str, ...]) -> list[Case]:
        snow, row = self._snow_load()
        with_snow, with_live = strength_eu.factor(f"psi0.{row}"), strength_eu.factor(f"psi0.{category}")
        lasts = "medium" if self.is_heavy_snow_area else "short"
        doubts = doubts + _doubts((with_snow, with_live, strength_eu.factor("snow.weight")))
        both = self._design(snow, (with_live.value, q))
        return [
            _strength_case("imposed-snow", self._design(q, (with_snow.value, snow)), lasts, doubts, self._design(q)),
            _strength_case("snow-imposed", both, lasts, doubts, both - self._design(snow)),
        ]

    def _sag(self, q: float, category: str, doubts: tuple[str, ...]) -> list[Case]:
        """Return the characteristic combinations at once, and each with its creep: loads grown as the sag grows."""
        snow, row = self._snow_load()
        leading = [("sag", (q, category), (snow, row))]
        if snow > 0.0:
            leading.append(("sag-snow", (snow, row), (q, category)))
        creep = strength_eu.factor("creep.outdoors")
        out = []
        for code, (first, its), (second, other) in leading:
            psi_2, others_0 = strength_eu.factor(f"psi2.{its}"), strength_eu.factor(f"psi0.{other}")
            others_2 = strength_eu.factor(f"psi2.{other}")
            behind = doubts + _doubts((psi_2, others_0, others_2, creep))
            behind += _doubts((strength_eu.factor("snow.weight"),)) if snow > 0.0 else ()
            at_once = actions.characteristic_sum(Q_1=first, others=((others_0.value, second),))
            grown = first * deflection.final_share_leading(k_def=creep.value, psi_2=psi_2.value)
            grown += second * deflection.final_share_other(
                k_def=creep.value, psi_0=others_0.value, psi_2=others_2.value
            )
            dead = deflection.final_share_dead(k_def=creep.value)
            stays = deflection.final_share_leading(k_def=creep.value, psi_2=psi_2.value)
            is_live = 1.0 if its == category else 0.0
            for name, area, share, free in (
                (code, at_once, 1.0, first * is_live),
                (f"{code}-{_FINAL}", grown, dead, first * stays * is_live),
            ):
                out.append(
                    Case(
                        code=name,
                        aim=Aim.SAG,
                        decides=_ALL,
                        area=area,
                        lasts="medium",
                        dead=share,
                        free=free,
                        doubts=behind,
                    )
                )
        return out

    def strength(self, stress: Stress, wood: Wood, case: Case) -> Figure:
        """Return the design strength [N/mm2]: k_mod X_k / gamma_M, with k_h and k_sys where they are due."""
        return _design(stress, wood, case.lasts)

    def sideways(self, *, wood: Wood, unheld: float, case: Case) -> Figure:
        """Return k_crit [-]."""
        return Figure(value=_lateral(wood, unheld))

    def section_modulus(self, *, width: float, depth: float) -> float:
        """Return b h2 / 6 [mm3]."""
        return bending.section_modulus(b=width, h=depth)

    def shear_stress_factor(self) -> float:
        """Return 1.5 / k_cr [-]: the greatest over the mean shear stress of a rectangle cracked by weather."""
        return shear.shear_stress(V=1.0, b=1.0, h=1.0, k_cr=strength_eu.factor("shear.cracks").value)

    def notched(self, *, wood: Wood, width: float, depth: float, notch: Notch) -> Notched:
        """Return the net section; at an end k_v of it for shear; no pulled section away from an end."""
        rest = depth - notch.depth
        modulus, area = bending.section_modulus(b=width, h=rest), width * rest
        if not notch.is_end and notch.depth > 0.0:
            return Notched(limit=0.0, modulus=modulus, area=area, pulled_modulus=None, pulled_area=None)
        k_n = strength_eu.factor("notch.timber")
        k_v = shear.notch_factor(h=depth, h_ef=rest, x=notch.reach, k_n=k_n.value)
        return Notched(
            limit=depth,
            modulus=modulus,
            area=area,
            pulled_modulus=modulus,
            pulled_area=k_v * area,
            doubts=_doubts((k_n,)),
        )

    def end_bearing(self, contact: Contact) -> Figure:
        """Return k_c,90 l_ef / l [-]."""
        reach = strength_eu.factor("bearing.reach")
        l_ef = bearing.effective_contact(l=contact.length, a=contact.beyond, l_1=contact.clear, reach=reach.value)
        apart, most = strength_eu.factor("bearing.apart"), strength_eu.factor("bearing.softwood")
        is_soft = _class_of(contact.wood).is_softwood
        k_c_90 = bearing.bearing_factor(
            l_1=contact.clear, h=contact.depth, apart=apart.value, most=most.value if is_soft else 1.0
        )
        return Figure(value=k_c_90 * l_ef / contact.length, doubts=_doubts((reach, apart, most)))

    def wood_under_seat(self, *, load: float) -> Figure | None:
        """Return None: no rule for a seat cut into a beam's side."""
        return None

    def post(self, *, wood: Wood, height: float) -> PostRule:
        """Return the slenderness over the clear height of a post held at both ends, over twice that of any other."""
        free = strength_eu.factor("post.free-top")
        length = height if self.holds_heads else free.value * height
        slender = columns.slenderness(l_ef=length, side=min(wood.piece.width, wood.piece.depth))
        return PostRule(
            slenderness=slender, limit=None, length=length, doubts=_doubts(() if self.holds_heads else (free,))
        )

    def buckling(self, *, wood: Wood, rule: PostRule, case: Case) -> Figure:
        """Return k_c [-]."""
        row, beta_c = _class_of(wood), strength_eu.factor("post.straightness")
        relative = columns.relative_slenderness(lambda_=rule.slenderness, f_c_0_k=row.f_c_0_k, E_0_05=row.E_0_05)
        value = columns.buckling_factor(lambda_rel=relative, beta_c=beta_c.value)
        return Figure(value=value, doubts=rule.doubts + _doubts((beta_c,)))

    def tie_height(self) -> Figure | None:
        """Return None: the practice names none."""
        return None

    def sag(self, *, span: float, is_overhang: bool, case: Case) -> SagRule | None:
        """Return l/300 at once and l/150 in the end, twice as far for overhangs."""
        is_final = case.code.endswith(_FINAL)
        share = strength_eu.factor("sag.final-share" if is_final else "sag.span-share")
        double = strength_eu.factor("sag.overhang")
        overhang = double.value if is_overhang else 1.0
        limit = deflection.sag_limit(l=span, share=share.value, overhang=overhang)
        return SagRule(
            code="sag-final" if is_final else "sag-at-once",
            limit=limit,
            shallow=float("inf"),
            usual=None,
            doubts=_doubts((share, *((double,) if is_overhang else ()))),
        )


def _strength_case(code: str, area: float, lasts: str, doubts: tuple[str, ...], free: float = 0.0) -> Case:
    """Return a sum of EN 1990 (6.10); its imposed part is ``free``, laid where it is worst (EN 1991-1-1, 6.2.1(1))."""
    dead = strength_eu.factor("dead.heavy").value
    return Case(code=code, aim=Aim.STRENGTH, decides=_ALL, area=area, lasts=lasts, dead=dead, free=free, doubts=doubts)


def _class_of(wood: Wood) -> strength_eu.StrengthClass:
    return strength_eu.strength_class(species_id=wood.species, grade=wood.grade)


@cache
def _design(stress: Stress, wood: Wood, lasts: str) -> Figure:
    row, piece = _class_of(wood), wood.piece
    k_mod, safety = strength_eu.factor(f"duration.{lasts}"), strength_eu.factor("safety.timber")
    value = {
        Stress.BENDING: row.f_m_k,
        Stress.SHEAR: row.f_v_k,
        Stress.ALONG: row.f_c_0_k,
        Stress.ACROSS: row.f_c_90_k,
    }[stress]
    behind = [k_mod, safety]
    if stress is Stress.BENDING:
        full, most = strength_eu.factor("bending.depth"), strength_eu.factor("bending.depth-most")
        value *= strengths.depth_factor(h=piece.depth, rho_k=row.rho_k, h_full=full.value, most=most.value)
        behind += [full, most]
    if stress in {Stress.BENDING, Stress.SHEAR} and piece.pitch < float("inf"):
        shared = strength_eu.factor("bending.shared")
        value *= shared.value
        behind.append(shared)
    if stress is Stress.SHEAR:
        behind.append(strength_eu.factor("shear.cracks"))
    own = () if row.is_confirmed else (f"EN 338 {row.grade}",)
    design = strengths.design_strength(X_k=value, k_mod=k_mod.value, gamma_M=safety.value)
    return Figure(value=design, doubts=own + _doubts(behind))


@cache
def _lateral(wood: Wood, unheld: float) -> float:
    if unheld <= 0.0:
        return 1.0
    row, piece = _class_of(wood), wood.piece
    l_ef = bending.effective_length(l=unheld, h=piece.depth)
    critical = bending.critical_stress(b=piece.width, h=piece.depth, l_ef=l_ef, E_0_05=row.E_0_05)
    slender = bending.relative_slenderness(f_m_k=row.f_m_k, sigma_m_crit=critical)
    return bending.lateral_factor(lambda_rel_m=slender)


def _doubts(figures: Iterable[strength_eu.Figure]) -> tuple[str, ...]:
    return tuple(f.name for f in figures if not f.is_confirmed)
