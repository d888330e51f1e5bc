"""How far each timber is stressed in bending and shear, whole and where it is cut for a joint (note 042)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.solvers import beam_element
from evenfoot.strength.cuts import Cut, Side, clear_parts
from evenfoot.strength.findings import (
    Asked,
    Batch,
    Peak,
    Places,
    crossing,
    decided,
    held_sideways,
    strengths,
    unheld_edges,
    word,
)
from evenfoot.strength.standards import Case, Figure, Notch, Notched, Practice, Stress
from evenfoot.strength.statics import FloatArray, Statics, Timber

ABOUT_NOTHING = 0.05
"""A pull on a notched face below this share of what the whole section bears counts as none (note 042)."""
CURES = "post-under-both shallower-seat screws-across-grain deeper-timber"


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
        picked = decided(self._timbers, batch.case)
        bending = strengths(self._practice, self._timbers, Stress.BENDING, batch.case)
        shear = strengths(self._practice, self._timbers, Stress.SHEAR, batch.case)
        sagging = bending * held_sideways(self._practice, self._timbers, self._unheld_top, batch.case)
        hogging = bending * held_sideways(self._practice, self._timbers, self._unheld_underside, batch.case)
        per_moment = (picked / (self._modulus * sagging), picked / (self._modulus * hogging))
        self._take_whole(batch, per_moment, picked / (self._area * shear))
        if self.cuts:
            weaker = np.minimum(sagging, hogging)[self._owner]
            self._take_cuts(batch, picked[self._owner] / weaker, picked / shear)

    def _take_whole(self, batch: Batch, per_moment: tuple[FloatArray, FloatArray], per_shear: FloatArray) -> None:
        ends, q = batch.response.ends, batch.even
        low, high = self._low[:, None], self._high[:, None]
        is_clear = high > low
        summit = beam_element.peak(ends=ends, q=q)
        summit = np.where(np.isnan(summit), low, np.clip(summit, low, high))
        of, (sagging, hogging) = self._statics.timber, per_moment
        for x in (np.broadcast_to(low, q.shape), np.broadcast_to(high, q.shape), summit):
            m = np.where(is_clear, beam_element.moment(ends=ends, x=x, q=q), 0.0)
            ratio = np.maximum(m * sagging[of, None], -m * hogging[of, None])
            self.bending.offer(batch.case, ratio, m, x)
        factor = self._practice.shear_stress_factor()
        for x in (low, high):
            v = np.where(is_clear, np.abs(beam_element.shear(ends=ends, x=x, q=q)), 0.0)
            self.shear.offer(batch.case, factor * v * per_shear[of, None], v, x)

    def _take_cuts(self, batch: Batch, per_bending: FloatArray, per_shear: FloatArray) -> None:
        pulled, pressed, shear = self._cut_forces(batch)
        left, owner = self._left, self._owner
        modulus = np.array([x.modulus for x in left])
        pulled_modulus = np.array([x.pulled_modulus or np.inf for x in left])
        ratio = np.maximum(pressed / modulus[:, None], pulled / pulled_modulus[:, None]) * per_bending[:, None]
        is_pulled = pulled * per_bending[:, None] > ABOUT_NOTHING * self._modulus[owner, None]
        is_notch_end = np.array([c.is_end_notch for c in self.cuts])
        is_seat = np.array([c.is_end_notch and c.side is Side.UNDERSIDE for c in self.cuts])
        # On its own seat the rule of end notches takes the place of bending: what moment there is passes the corner.
        ratio = np.where(is_seat[:, None], 0.0, ratio)
        is_pulled |= is_notch_end[:, None]
        self.cut_bending.offer(batch.case, ratio, np.maximum(pressed, pulled))
        area = np.array([x.area for x in left])[:, None]
        pulled_area = np.array([x.pulled_area or np.nan for x in left])[:, None]
        factor = self._practice.shear_stress_factor()
        asked = factor * shear / np.where(is_pulled, pulled_area, area)
        self.cut_shear.offer(batch.case, np.nan_to_num(asked) * per_shear[owner, None], np.nan_to_num(asked))
        beyond = np.where(is_pulled & np.isnan(pulled_area), pulled + 1.0, 0.0) * (per_bending[:, None] > 0.0)
        self.pulled.offer(batch.case, beyond, pulled)
        worst = np.maximum(pressed, pulled)
        self.bare_bending.offer(batch.case, worst / modulus[:, None] * per_bending[:, None], worst)
        self.bare_shear.offer(batch.case, factor * shear / area * per_shear[owner, None], shear)

    def _cut_forces(self, batch: Batch) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return moments that pull and press the cut face, and shear, the worst within each cut."""
        sign = np.array([-1.0 if c.side is Side.TOP else 1.0 for c in self.cuts])[:, None]
        pulled = pressed = shear = np.zeros((len(self.cuts), batch.even.shape[1]))
        for name, is_before in (("low", False), ("at", True), ("at", False), ("high", True)):
            at = np.array([getattr(c, name) for c in self.cuts])
            element, x = self._statics.elements_at(self._owner, at, is_before=is_before)
            ends, q = batch.response.ends[element], batch.even[element]
            m = sign * beam_element.moment(ends=ends, x=x[:, None], q=q)
            v = beam_element.shear(ends=ends, x=x[:, None], q=q)
            pulled, pressed = np.maximum(pulled, m), np.maximum(pressed, -m)
            shear = np.maximum(shear, np.abs(v))
        is_cheek = np.array([c.side is Side.CHEEK for c in self.cuts])[:, None]
        both = np.maximum(pulled, pressed)
        return np.where(is_cheek, 0.0, pulled), np.where(is_cheek, both, pressed), shear

    def checks(self) -> list[Check]:
        """Return a check of bending and shear for each timber and each cut in it."""
        places = Places(self._statics.skeleton)
        out: list[Check] = []
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

    def _whole(self, timber: Timber, places: Places, rule: str, element: int, case: Case) -> Check:
        if rule == "bending":
            peak, per = self.bending, 1.0 / self._modulus[timber.number]
            capacity = self._bending(timber, case, is_hogging=bool(peak.asked[element] < 0.0))
        else:
            peak, per = self.shear, self._practice.shear_stress_factor() / self._area[timber.number]
            capacity = self._practice.strength(Stress.SHEAR, timber.wood, case)
        at = float(self._statics.begin[element] + peak.at[element])
        m = timber.member
        return word(
            self._practice,
            Asked(
                rule=rule,
                subject=m.mark,
                demand=float(per * abs(peak.asked[element])),
                capacity=capacity,
                unit="N/mm2",
                case=case,
                place=places.at(timber.number, at),
                remedy="stronger-joist" if timber.is_joist else "stronger-beam",
                facts=(("at_mm", at), ("width_mm", m.width), ("depth_mm", m.depth)),
            ),
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
        if stress is not Stress.BENDING:
            return self._practice.strength(stress, timber.wood, case)
        both = [self._bending(timber, case, is_hogging=is_hogging) for is_hogging in (False, True)]
        return min(both, key=lambda figure: figure.value)

    def _of_cut(self, number: int) -> list[Check]:
        shear_rule = "end-notch" if self.cuts[number].is_end_notch else "notch-shear"
        found = (
            self._cut_check(number, "notch-bending", self.cut_bending, Stress.BENDING),
            self._cut_check(number, shear_rule, self.cut_shear, Stress.SHEAR),
        )
        return [check for check in found if check is not None]

    def _bare(self, number: int) -> list[Check]:
        """Return what fails at a notch beyond its rule even if the notch did no more harm than to take its depth away.

        Nothing is said where that much would hold: it proves nothing.
        """
        found = (
            self._cut_check(number, "bare-bending", self.bare_bending, Stress.BENDING),
            self._cut_check(number, "bare-shear", self.bare_shear, Stress.SHEAR),
        )
        return [check for check in found if check is not None and check.verdict is Verdict.FAILS]

    def _cut_check(self, number: int, rule: str, peak: Peak, stress: Stress) -> Check | None:
        case = peak.case(number)
        if case is None:
            return None
        cut = self.cuts[number]
        timber = self._timbers[cut.timber]
        capacity = self._weaker(stress, timber, case)
        capacity = Figure(value=capacity.value, doubts=capacity.doubts + self._left[number].doubts)
        asked = Asked(
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
        return word(self._practice, asked)

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
            ),
        )
