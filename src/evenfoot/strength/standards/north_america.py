"""The North American practice applied to one job: its load cases, allowable stresses, and limits (notes 105 to 107)."""

# ruff: noqa: ARG002 - one interface for all standards, and not each needs every argument

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.job import kinds
from evenfoot.rules.nds_2018 import beams, bearing, columns, loads, notches, sags
from evenfoot.strength.standards import us_stock
from evenfoot.strength.standards.practice import (
    Aim,
    Bearer,
    Case,
    Contact,
    Figure,
    Notch,
    Notched,
    Part,
    Piece,
    PostRule,
    SagRule,
    Stress,
    Wood,
)
from evenfoot.strength.standards.us_clauses import CLAUSES
from evenfoot.tables import strength_us

_ALL = frozenset(Bearer)
_FLOOR = frozenset((Bearer.FLOOR,))
_KPA = 1e-3
_FORBIDDEN = 0.01
"""Share of its strength left to a beam more slender than the specification permits at all (3.3.3.7): none, nearly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NorthAmerica:
    """Allowable stresses by the National Design Specification, with the residential code's loads for decks.

    Timber of a deck is taken as wet whatever the job says of it: the specification knows dry up to 19 % and wet.
    """

    use: kinds.Use
    snow_depth: float
    """Depth of the snow on the ground [mm]; 0 when there is none."""
    person: float
    """One person with a load [N]."""
    holds_heads: bool = False
    """Whether posts are held at both ends."""

    @property
    def standard(self) -> kinds.Standard:
        """North America."""
        return kinds.Standard.NORTH_AMERICA

    @property
    def clauses(self) -> Mapping[str, str]:
        """The clause behind each rule."""
        return CLAUSES

    @property
    def unit_weight(self) -> Figure:
        """Wet timber [N/mm3]."""
        return us_stock.figure("dead.wet-timber")

    @property
    def dead_least(self) -> Figure:
        """10 lb/ft2 [N/mm2]."""
        return us_stock.figure("dead.least")

    def wood(self, piece: Piece) -> Wood:
        """Return the wood with E' free of shear and G of a sixteenth; raises OutOfRangeError when it is not listed."""
        stock = us_stock.find_stock(piece)
        share = strength_us.factor("modulus.shear")
        modulus = us_stock.bent_modulus(stock)
        doubts = () if stock.lumber.is_along_confirmed else (f"{stock.lumber.species} E",)
        return Wood(
            piece=piece,
            species=stock.lumber.species,
            grade=stock.lumber.grade,
            modulus=modulus.value,
            shear_modulus=modulus.value / share.value,
            doubts=doubts + modulus.doubts,
        )

    def cases(self) -> tuple[Case, ...]:
        """Return dead load alone, people, snow and both, one person; for sag live load, and a load at tips."""
        live = strength_us.factor(f"live.{self.use}")
        doubts = us_stock.doubts_of(live)
        snow = loads.snow_load(depth_m=self.snow_depth / 1000.0) * _KPA
        out = [
            Case(code="dead-alone", aim=Aim.STRENGTH, decides=_ALL, area=0.0, lasts="permanent"),
            _live("live", live.value, "ten-years", doubts),
        ]
        if snow > 0.0:
            out.append(_live("snow", snow, "two-months", doubts))
            out.append(_live("live-snow", loads.live_and_snow(L=live.value, S=snow), "two-months", doubts))
        out.append(Case(code="person", aim=Aim.STRENGTH, decides=_ALL, area=0.0, lasts="ten-years", point=self.person))
        most = max(live.value, snow)
        out.append(
            Case(code="sag-live", aim=Aim.SAG, decides=_ALL, area=most, lasts="ten-years", dead=0.0, doubts=doubts)
        )
        tip = strength_us.factor("tip.load").value
        out.append(Case(code="tip", aim=Aim.SAG, decides=_FLOOR, area=0.0, lasts="ten-years", point=tip, dead=0.0))
        return tuple(out)

    def strength(self, stress: Stress, wood: Wood, case: Case) -> Figure:
        """Return the adjusted design value [N/mm2], but for C_L, C_b and C_P."""
        return us_stock.strength(stress, us_stock.find_stock(wood.piece), case.lasts)

    def sideways(self, *, wood: Wood, unheld: float, case: Case) -> Figure:
        """Return C_L [-]: 1 for stout timbers with their ends held, and for joists whose boards hold their top."""
        stock = us_stock.find_stock(wood.piece)
        ends, one_edge = strength_us.factor("side-hold.ends"), strength_us.factor("side-hold.one-edge")
        is_held = wood.piece.part is Part.JOIST and stock.stoutness <= one_edge.value
        if unheld <= 0.0 or stock.stoutness <= ends.value or is_held:
            return Figure(value=1.0)
        b, d = wood.piece.width, wood.piece.depth
        slender = math.sqrt(beams.length_even(l_u=unheld, d=d) * d) / b
        return Figure(value=self._stable(stock, slender, case) if slender <= beams.RB_MOST else _FORBIDDEN)

    def _stable(self, stock: us_stock.Stock, slender: float, case: Case) -> float:
        critical = beams.critical_stress(E_min=us_stock.buckling_modulus(stock).value, R_B=slender)
        whole = us_stock.strength(Stress.BENDING, stock, case.lasts).value / stock.flat
        return beams.stability_factor(F_bE=critical, F_b_star=whole)

    def section_modulus(self, *, width: float, depth: float) -> float:
        """Return b d2 / 6 [mm3]."""
        return beams.section_modulus(b=width, d=depth)

    def shear_stress_factor(self) -> float:
        """Return 1.5 [-], the greatest over the mean shear stress of a rectangle."""
        return beams.shear_stress(V=1.0, b=1.0, d=1.0)

    def notched(self, *, wood: Wood, width: float, depth: float, notch: Notch) -> Notched:
        """Return what 3.4.3.2 and 4.4.3 leave; no pulled section beyond d/4 at an end, d/6 elsewhere."""
        limit = notches.deepest(d=depth, b=width, is_end=notch.is_end)
        left = depth - notch.depth
        longest = notches.longest(d=depth, is_end=notch.is_end)
        is_within = notch.depth <= limit and notch.length <= longest
        net = beams.section_modulus(b=width, d=left)
        return Notched(
            limit=limit,
            modulus=net,
            area=notches.pressed_area(b=width, d=depth, d_n=left, e=left),
            pulled_modulus=net if is_within else None,
            pulled_area=notches.pulled_area(b=width, d=depth, d_n=left) if is_within else None,
            longest=longest,
        )

    def end_bearing(self, contact: Contact) -> Figure:
        """Return C_b [-]; 1 for a contact without length, which bears by metal and is not asked."""
        if contact.length <= 0.0:
            return Figure(value=1.0)
        return Figure(value=bearing.bearing_factor(l_b=contact.length, beyond=contact.beyond))

    def wood_under_seat(self, *, load: float) -> Figure | None:
        """Return None: there is no rule for a seat cut into a beam's side."""
        return None

    def post(self, *, wood: Wood, height: float) -> PostRule:
        """Return l_e/d over the clear height of a post held at both ends, over 2.1 times that of any other."""
        free = strength_us.factor("post.free-top")
        length = height if self.holds_heads else free.value * height
        slender = columns.slenderness(l_e=length, d=min(wood.piece.width, wood.piece.depth))
        doubts = () if self.holds_heads else us_stock.doubts_of(free)
        return PostRule(slenderness=slender, limit=columns.SLENDER_MOST, length=length, doubts=doubts)

    def buckling(self, *, wood: Wood, rule: PostRule, case: Case) -> Figure:
        """Return C_P [-]."""
        stock = us_stock.find_stock(wood.piece)
        least = us_stock.buckling_modulus(stock)
        critical = columns.critical_stress(E_min=least.value, slender=rule.slenderness)
        along = us_stock.strength(Stress.ALONG, stock, case.lasts)
        value = columns.stability_factor(F_cE=critical, F_c_star=along.value, c=columns.C_SAWN)
        return Figure(value=value, doubts=rule.doubts + least.doubts)

    def tie_height(self) -> Figure | None:
        """Return None: the trade names none."""
        return None

    def sag(self, *, span: float, is_overhang: bool, case: Case) -> SagRule | None:
        """Return L/360 of a span and a/180 of an overhang under live load; the load at a tip is for overhangs alone."""
        if case.point > 0.0 and not is_overhang:
            return None
        share = strength_us.factor("sag.overhang" if is_overhang else "sag.span")
        code = "sag-tip" if case.point > 0.0 else "sag-live"
        limit = sags.limit(L=span, share=share.value)
        return SagRule(limit=limit, shallow=math.inf, usual=None, doubts=us_stock.doubts_of(share), code=code)


def _live(code: str, area: float, lasts: str, doubts: tuple[str, ...]) -> Case:
    return Case(code=code, aim=Aim.STRENGTH, decides=_ALL, area=area, lasts=lasts, doubts=doubts)
