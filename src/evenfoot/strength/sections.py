"""How far each timber is stressed in bending and shear, whole and where it is cut for a joint (note 042)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.solvers import beam_element
from evenfoot.strength.cuts import Cut, Side, Slits, clear_parts
from evenfoot.strength.elastic.stretches import Stretches, bare, between
from evenfoot.strength.findings import (
    Asked,
    Batch,
    Finding,
    Peak,
    Places,
    crossing,
    decided,
    held_sideways,
    strengths,
    unheld_edges,
)
from evenfoot.strength.joins.laps import european_share
from evenfoot.strength.standards import Case, Figure, Notch, Notched, Practice, Stress
from evenfoot.strength.statics import FloatArray, Statics, Timber

ABOUT_NOTHING = 0.05
"""A pull on a notched face below this share of what the whole section bears counts as none (note 042)."""
CURES = "post-under-both shallower-seat screws-across-grain deeper-timber"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Worth:
    """What one case makes of forces: ratios per moment and shear for each timber, and per stress at cuts."""

    sagging: FloatArray
    hogging: FloatArray
    shear: FloatArray
    cut_bending: FloatArray
    cut_shear: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Leaves:
    """What cuts leave, in arrays: ``Notched`` for each, without end or not a number where there is no such figure."""

    modulus: FloatArray
    area: FloatArray
    pulled_modulus: FloatArray
    pulled_area: FloatArray
    is_notch_end: npt.NDArray[np.bool_]
    is_seat: npt.NDArray[np.bool_]


def _leaves(cuts: Sequence[Cut], left: Sequence[Notched]) -> _Leaves:
    return _Leaves(
        modulus=np.array([x.modulus for x in left]),
        area=np.array([x.area for x in left]),
        pulled_modulus=np.array([x.pulled_modulus or np.inf for x in left]),
        pulled_area=np.array([x.pulled_area or np.nan for x in left]),
        is_notch_end=np.array([c.is_end_notch for c in cuts], dtype=bool),
        is_seat=np.array([c.is_end_notch and c.side is Side.UNDERSIDE for c in cuts], dtype=bool),
    )


class Sections:
    """Gathers, case by case, how far whole and cut sections are stressed."""

    def __init__(self, practice: Practice, statics: Statics, cuts: Sequence[Cut]) -> None:
        self._practice = practice
        self._statics = statics
        self._timbers = statics.skeleton.timbers
        self.cuts = tuple(cuts)
        self._low, self._high = clear_parts(statics, cuts)
        count = len(statics.begin)
        self.bending, self.shear = Peak(count), Peak(count)
        self.cut_bending, self.cut_shear, self.pulled = Peak(len(cuts)), Peak(len(cuts)), Peak(len(cuts))
        self.bare_bending, self.bare_shear = Peak(len(cuts)), Peak(len(cuts))
        self._modulus = np.array(
            [practice.section_modulus(width=t.member.width, depth=t.member.depth) for t in self._timbers]
        )
        self._area = np.array([t.member.width * t.member.depth for t in self._timbers])
        self._left = [self._notched(c) for c in cuts]
        self._owner = np.array([c.timber for c in cuts], dtype=np.int64)
        self._unheld_top, self._unheld_underside = unheld_edges(statics.skeleton)
        self._factor = practice.shear_stress_factor()
        self._leaves = _leaves(cuts, self._left)
        self._slits = Slits(statics, cuts)
        self._worths: dict[Case, _Worth] = {}
        self._weakest: dict[tuple[Stress, int, Case], Figure] = {}

    def _notched(self, cut: Cut) -> Notched:
        timber, is_cheek = self._timbers[cut.timber], cut.side is Side.CHEEK
        m = timber.member
        depth = 0.0 if is_cheek else cut.notch
        reach = cut.at - cut.low if cut.at > m.length / 2.0 else cut.high - cut.at
        return self._practice.notched(
            wood=timber.wood,
            width=m.width - cut.notch if is_cheek else m.width,
            depth=m.depth,
            notch=Notch(depth=depth, length=cut.high - cut.low, is_end=cut.is_end_notch, reach=reach),
        )

    def left(self, number: int) -> Notched:
        """Return what cut ``number`` leaves."""
        return self._left[number]

    def take(self, batch: Batch) -> None:
        """Take in one load case."""
        if batch.case not in self._worths:
            self._worths[batch.case] = self._worth(batch.case)
        worth = self._worths[batch.case]
        rows = np.arange(len(self._low)) if batch.elements is None else batch.elements
        whole = Stretches(
            element=rows,
            begin=np.zeros(len(rows)),
            ends=batch.response.ends,
            q=batch.even,
            low=self._low[rows, None],
            high=self._high[rows, None],
        )
        self._take_whole(batch.case, worth, bare(whole, batch.points))
        if batch.points is not None:
            self._take_whole(batch.case, worth, between(whole, self._statics.grid.length[rows], batch.points))
        if self.cuts:
            self._take_cuts(batch, worth)

    def _worth(self, case: Case) -> _Worth:
        picked = decided(self._timbers, case)
        bending = strengths(self._practice, self._timbers, Stress.BENDING, case)
        shear = strengths(self._practice, self._timbers, Stress.SHEAR, case)
        sagging = bending * held_sideways(self._practice, self._timbers, self._unheld_top, case)
        hogging = bending * held_sideways(self._practice, self._timbers, self._unheld_underside, case)
        return _Worth(
            sagging=picked / (self._modulus * sagging),
            hogging=picked / (self._modulus * hogging),
            shear=self._factor * picked / (self._area * shear),
            cut_bending=picked / np.minimum(sagging, hogging),
            cut_shear=picked / shear,
        )

    def _take_whole(self, case: Case, worth: _Worth, along: Stretches) -> None:
        of = self._statics.timber[along.element]
        low, high, begin = along.low, along.high, along.begin[:, None]
        is_clear = high > low
        for x in (low, high, along.summit()):
            m = np.where(is_clear, beam_element.moment(ends=along.ends, x=x, q=along.q), 0.0)
            ratio = np.maximum(m * worth.sagging[of, None], -m * worth.hogging[of, None])
            self.bending.offer(case, ratio, m, along.element, x + begin)
        for x in (low, high):
            v = np.where(is_clear, np.abs(beam_element.shear(ends=along.ends, x=x, q=along.q)), 0.0)
            self.shear.offer(case, v * worth.shear[of, None], v, along.element, x + begin)

    def _take_cuts(self, batch: Batch, worth: _Worth) -> None:
        which, (pulled, pressed, shear) = self._slits.forces(batch)
        if not len(which):
            return
        left, case = self._leaves, batch.case
        owner = self._owner[which]
        per_bending, per_shear = worth.cut_bending[owner, None], worth.cut_shear[owner, None]
        modulus, area = left.modulus[which, None], left.area[which, None]
        pulled_area = left.pulled_area[which, None]
        ratio = np.maximum(pressed / modulus, pulled / left.pulled_modulus[which, None]) * per_bending
        is_pulled = pulled * per_bending > ABOUT_NOTHING * self._modulus[owner, None]
        # On its own seat the rule of end notches takes the place of bending: what moment there is passes the corner.
        ratio = np.where(left.is_seat[which, None], 0.0, ratio)
        is_pulled |= left.is_notch_end[which, None]
        self.cut_bending.offer(case, ratio, np.maximum(pressed, pulled), which)
        asked = np.nan_to_num(self._factor * shear / np.where(is_pulled, pulled_area, area))
        self.cut_shear.offer(case, asked * per_shear, asked, which)
        beyond = np.where(is_pulled & np.isnan(pulled_area), pulled + 1.0, 0.0) * (per_bending > 0.0)
        self.pulled.offer(case, beyond, pulled, which)
        worst = np.maximum(pressed, pulled)
        self.bare_bending.offer(case, worst / modulus * per_bending, worst, which)
        self.bare_shear.offer(case, self._factor * shear / area * per_shear, shear, which)

    def found(self) -> list[Finding]:
        """Return a check of bending and shear for each timber and each cut in it."""
        places = Places(self._statics.skeleton)
        out: list[Finding] = []
        for timber in self._timbers:
            elements = slice(*self._statics.first_element[timber.number : timber.number + 2])
            for rule, peak in (("bending", self.bending), ("shear", self.shear)):
                element = int(elements.start + np.argmax(peak.ratio[elements]))
                case = peak.case(element)
                if case is not None:
                    out.append(self._whole(timber, places, rule, element, case))
        beyond: dict[tuple[int, bool], list[int]] = {}
        for number, cut in enumerate(self.cuts):
            if self.pulled.case(number) is not None:
                beyond.setdefault((cut.timber, cut.is_end_notch), []).append(number)
                out += self._bare(number)
            else:
                out += self._of_cut(number)
        return out + [self._beyond(numbers) for numbers in beyond.values()]

    def _whole(self, timber: Timber, places: Places, rule: str, element: int, case: Case) -> Asked:
        if rule == "bending":
            peak, per = self.bending, 1.0 / self._modulus[timber.number]
            capacity = self._bending(timber, case, is_hogging=bool(peak.asked[element] < 0.0))
        else:
            peak, per = self.shear, self._practice.shear_stress_factor() / self._area[timber.number]
            capacity = self._practice.strength(Stress.SHEAR, timber.wood, case)
        at = float(self._statics.begin[element] + peak.at[element])
        m = timber.member
        return Asked(
            rule=rule,
            subject=m.mark,
            demand=float(per * abs(peak.asked[element])),
            capacity=capacity,
            unit="N/mm2",
            case=case,
            place=places.at(timber.number, at),
            remedy="stronger-joist" if timber.is_joist else "stronger-beam",
            facts=(("at_mm", at), ("width_mm", m.width), ("depth_mm", m.depth)),
        )

    def _bending(self, timber: Timber, case: Case, *, is_hogging: bool) -> Figure:
        """Return the bending strength with the underside (hogging) or the top pressed [N/mm2]."""
        unheld = (self._unheld_underside if is_hogging else self._unheld_top)[timber.number]
        strength = self._practice.strength(Stress.BENDING, timber.wood, case)
        factor = self._practice.sideways(wood=timber.wood, unheld=unheld, case=case)
        doubts = strength.doubts + (factor.doubts if factor.value < 1.0 else ())
        return Figure(value=strength.value * factor.value, doubts=doubts)

    def _weaker(self, stress: Stress, timber: Timber, case: Case) -> Figure:
        """Return the strength; in bending, with the edge pressed that is held less."""
        asked = (stress, timber.number, case)
        if asked not in self._weakest:
            if stress is Stress.BENDING:
                both = (self._bending(timber, case, is_hogging=is_hogging) for is_hogging in (False, True))
                self._weakest[asked] = min(both, key=lambda figure: figure.value)
            else:
                self._weakest[asked] = self._practice.strength(stress, timber.wood, case)
        return self._weakest[asked]

    def _of_cut(self, number: int) -> list[Asked]:
        shear_rule = "end-notch" if self.cuts[number].is_end_notch else "notch-shear"
        found = (
            self._ask_of_cut(number, "notch-bending", self.cut_bending, Stress.BENDING),
            self._ask_of_cut(number, shear_rule, self.cut_shear, Stress.SHEAR),
        )
        return [check for check in found if check is not None]

    def _bare(self, number: int) -> list[Asked]:
        """Return what fails at a notch beyond its rule even if the notch did no more harm than to take its depth away.

        Nothing is said where that much would hold: it proves nothing.
        """
        found = (
            self._ask_of_cut(number, "bare-bending", self.bare_bending, Stress.BENDING),
            self._ask_of_cut(number, "bare-shear", self.bare_shear, Stress.SHEAR),
        )
        return [check for check in found if check is not None and check.verdict is Verdict.FAILS]

    def _ask_of_cut(self, number: int, rule: str, peak: Peak, stress: Stress) -> Asked | None:
        case = peak.case(number)
        if case is None:
            return None
        cut = self.cuts[number]
        timber = self._timbers[cut.timber]
        capacity = self._weaker(stress, timber, case)
        capacity = Figure(value=capacity.value, doubts=capacity.doubts + self._left[number].doubts)
        return Asked(
            rule=rule,
            subject=timber.member.mark,
            demand=float(peak.ratio[number]) * capacity.value,
            capacity=capacity,
            unit="N/mm2",
            case=case,
            place=crossing(cut.joint),
            remedy="ease-notch",
            facts=self._facts(cut, self._left[number]),
        )

    def _facts(self, cut: Cut, left: Notched) -> tuple[Fact, ...]:
        m = self._timbers[cut.timber].member
        return (
            ("at_mm", cut.at),
            ("notch_mm", cut.notch),
            ("limit_mm", left.limit),
            ("rest_mm", m.depth - cut.notch if cut.side is not Side.CHEEK else m.width - cut.notch),
            ("depth_mm", m.depth),
            ("side_code", f"side.{cut.side}"),
        )

    def _beyond(self, numbers: list[int]) -> Check:
        """Return the finding of one timber's notches deeper than the rule reaches: never ok, with what does cure it.

        It is told at the deepest of them; the others are named with it. ``pull_percent`` is how much of what the whole
        section bears pulls at the worst of the notched faces, for information.
        """
        least = 1e-9  # where a standard has no rule
        deepest = max(
            numbers, key=lambda k: (self.cuts[k].notch / max(self._left[k].limit, least), self.pulled.ratio[k])
        )
        pulled = max(numbers, key=lambda k: float(self.pulled.ratio[k]))
        cut, left, case = self.cuts[deepest], self._left[deepest], self.pulled.case(pulled)
        assert case is not None
        is_ruled = left.limit > 0.0
        if is_ruled and cut.notch <= left.limit:
            return self._too_long(numbers, case)
        rule = "end-notch-depth" if cut.is_end_notch else "notch-depth" if is_ruled else "notch-no-rule"
        timber = self._timbers[cut.timber]
        whole = self._modulus[cut.timber] * self._weaker(Stress.BENDING, timber, case).value
        return Check(
            subject=timber.member.mark,
            rule=rule,
            verdict=Verdict.OUTSIDE_RULE,
            demand=cut.notch,
            capacity=left.limit if is_ruled else None,
            ratio=cut.notch / left.limit if is_ruled else None,
            unit="mm",
            source=self._practice.clauses[rule],
            case=case.code,
            place=", ".join(crossing(self.cuts[k].joint) for k in numbers),
            remedy="cure-notch" if cut.is_end_notch else "cure-pulled-notch" if is_ruled else "no-pulled-notch",
            facts=(
                *self._facts(cut, left),
                ("case_code", f"case.{case.code}"),
                ("deeper_mm", cut.notch * timber.member.depth / left.limit if is_ruled else timber.member.depth),
                ("limit_share", f"1/{timber.member.depth / left.limit:.3g}" if is_ruled else "0"),
                ("pull_percent", round(100.0 * float(self.pulled.asked[pulled]) / whole)),
                ("cures", CURES),
                *self._european(numbers),
            ),
        )

    def _too_long(self, numbers: list[int], case: Case) -> Check:
        """Return the finding of one timber's notches that are shallow enough and longer than the rule reaches."""
        longest = max(numbers, key=lambda k: self.cuts[k].high - self.cuts[k].low)
        cut, left = self.cuts[longest], self._left[longest]
        length = cut.high - cut.low
        return Check(
            subject=self._timbers[cut.timber].member.mark,
            rule="notch-length",
            verdict=Verdict.OUTSIDE_RULE,
            demand=length,
            capacity=left.longest,
            ratio=length / left.longest,
            unit="mm",
            source=self._practice.clauses["notch-length"],
            case=case.code,
            place=", ".join(crossing(self.cuts[k].joint) for k in numbers),
            remedy="shorter-notch",
            facts=self._facts(cut, left),
        )

    def _european(self, numbers: list[int]) -> tuple[Fact, ...]:
        """Return how far the European notch formula would see the worst of these ends used, by the standard's shear."""
        ends = [k for k in numbers if self.cuts[k].is_end_notch]
        if not ends:
            return ()
        members = {k: self._timbers[self.cuts[k].timber].member for k in ends}
        left = {k: european_share(self.cuts[k], depth=m.depth, length=m.length) for k, m in members.items()}
        worst = max(ends, key=lambda k: float(self.bare_shear.ratio[k]) / left[k])
        used = float(self.bare_shear.ratio[worst]) / left[worst]
        return (("kv_percent", round(100.0 * left[worst])), ("en_percent", round(100.0 * used)))
