"""How the answers about posts are worded: marks, places, weights; the list to cut, and the odds beforehand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from evenfoot.office.setting.bench import Answer, Bench
from evenfoot.office.setting.posts_readings import PostReadings
from evenfoot.setting import NINETEEN_IN_TWENTY, posts, setting_figure

_NEAR = 350.0
"""A place less than this from a post is told by the post [mm]."""
_NAMED = 8
"""Posts named in the first lines; the detail names them all."""
_READ = frozenset({"gap_reading", "feeler"})
"""Figures that are a plus-or-minus."""
_FIT_RULES = frozenset({"slenderness", "posts-fit", "stack-height", "air-under-timber"})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Telling:
    """What every answer about posts is told by: the bench, the floor with its boards, the person [N], limits [mm]."""

    bench: Bench
    frame: posts.FloatingFrame
    person: float
    limit: float
    step: float
    readings: PostReadings

    def say(self, code: str, **facts: str | float) -> str:
        """Return a sentence of the catalogue."""
        return self.bench.speaker.say(code, **facts)

    def fine(self, mm: float) -> str:
        """Return a small movement [mm] to a tenth, in inches to a hundredth beside it where lengths are inches."""
        text = f"{mm + 0.0:.1f} mm"
        return f'{mm / 25.4 + 0.0:.2f}" ({text})' if self.bench.speaker.unit in {"in", "ft"} else text

    def mark(self, mark: str) -> str:
        """Return a post's mark as it is written on the timber; as it was typed where there is no job."""
        return mark if self.bench.plan is None else self.bench.speaker.mark(mark)

    def by(self, mm: float) -> str:
        """Return what is taken off or put under a post [mm]: no rule in inches reads so fine."""
        return self.fine(mm) if self.bench.speaker.unit in {"in", "ft"} else self.bench.small(mm)

    def marks(self, marks: Sequence[str]) -> str:
        """Return several marks, the first few of many."""
        named = [self.mark(m) for m in marks[:_NAMED]]
        return self._joined(named, len(marks))

    def _joined(self, parts: Sequence[str], count: int) -> str:
        text = ("、" if self.bench.is_japanese else ", ").join(parts)
        return self.say("setting.posts.and-more", these=text, count=count - len(parts)) if count > len(parts) else text

    def lengths(self, pairs: Sequence[tuple[str, float]]) -> str:
        """Return posts with a length each, the first few of many."""
        return self._joined([f"{self.mark(m)} {self.bench.small(mm)}" for m, mm in pairs[:_NAMED]], len(pairs))

    def amounts(self, pairs: Sequence[tuple[str, float]]) -> str:
        """Return all posts with what is taken off or put under each."""
        return self._joined([f"{self.mark(m)} {self.by(mm)}" for m, mm in pairs], len(pairs))

    def spot(self, at: tuple[float, float]) -> str:
        """Return a place on the floor: a post, or how far along the wall and out from it."""
        away, nearest = min(
            (math.hypot(x - at[0], y - at[1]), m)
            for x, y, m in zip(self.frame.x, self.frame.y, self.frame.marks, strict=True)
        )
        if away <= _NEAR:
            return self.say("setting.posts.post-spot", mark=self.mark(nearest))
        return self.say("setting.posts.plan-spot", x_mm=round(at[0], -1), y_mm=round(at[1], -1))

    def someone(self, at: tuple[float, float] | None) -> str:
        """Return who stands where: someone at a place, or nobody at all."""
        return self.say("setting.posts.nobody") if at is None else self.say("setting.posts.someone", spot=self.spot(at))

    def kg(self, newtons: float) -> float:
        """Return a force as the mass that weighs so much [kg], to a kilogram."""
        return float(round(newtons / posts.GRAVITY))

    def fits(self) -> Iterator[str]:
        """Yield what the plan found about the longest and the shortest post, and the air under the timbers."""
        plan = self.bench.plan
        if plan is None:
            return
        found = [c for c in plan.checks if c.rule in _FIT_RULES]
        bad = [c for c in found if c.verdict.value != "ok"]
        for check in bad or [c for c in found if c.rule in {"posts-fit", "air-under-timber"}]:
            yield self.bench.speaker.check(check)

    def figures(self, *names: str, option: str) -> str:
        """Return the sentence that names the figures on record behind an answer, small ones to a tenth."""
        told = [(name, setting_figure(name)) for name in names]
        said = ("、" if self.bench.is_japanese else ", ").join(
            self.bench.speaker.say(
                "setting.figure",
                what_code=f"setting.figure-{n}",
                value=f"± {self.fine(f.value)}" if n in _READ else self.worth(f.value, f.unit),
            )
            for n, f in told
        )
        is_sure = all(f.is_confirmed for _, f in told)
        code = "setting.figures" if is_sure else "setting.figures-unconfirmed"
        return self.bench.speaker.say(code, figures=said, option=option)

    def worth(self, value: float, unit: str) -> str:
        """Return a figure with its unit, a length to a tenth of a millimetre."""
        if unit == "times":
            return f"× {value:g}"
        return self.fine(value) if unit == "mm" else f"{value:g} {unit}"


def cut_answer(told: Telling, needs: Sequence[posts.Need]) -> Answer:
    """Return what to cut now, what to measure next and how sure lengths are."""
    known = [n for n in needs if not math.isnan(n.length)]
    measured = [n for n in known if n.base.is_measured]
    open_ones = [n.base.mark for n in needs if not n.base.is_measured]
    lines = [_first_to_cut(told, needs)]
    if open_ones:
        lines.append(told.say("setting.posts.measure-next", marks=told.marks(open_ones)))
    else:
        lines.append(told.say("setting.posts.set-next"))
    if known:
        worst = max(measured or known, key=lambda n: round(n.base.sigma, 6))
        sure = told.bench.plus(NINETEEN_IN_TWENTY * worst.base.sigma)
        lines.append(told.say("setting.posts.cut-sure", sure=sure, mark=told.mark(worst.base.mark)))
    detail = [_cut_line(told, n) for n in known]
    detail += [*_tilted_feet(told), *told.fits(), told.figures("gap_reading", option="--tape")]
    return Answer(
        what="posts",
        lines=tuple(lines),
        detail=tuple(detail),
        record={"stage": "cut", "posts": [cut_record(told, n) for n in needs]},
        is_fine=True,
    )


def _first_to_cut(told: Telling, needs: Sequence[posts.Need]) -> str:
    """Return which posts can be cut to their final length now; without a measured one, between what lengths all are."""
    measured = [n for n in needs if n.base.is_measured]
    to_cut = [(n.base.mark, n.length) for n in measured if n.base.mark not in told.readings.lengths]
    counts = {"count": len(measured), "all": len(needs)}
    if to_cut:
        return told.say("setting.posts.cut-now", cuts=told.lengths(to_cut), **counts)
    if measured:
        return told.say("setting.posts.all-cut", **counts)
    lengths = [n.length for n in needs if not math.isnan(n.length)]
    if not lengths:
        return told.say("setting.posts.nothing-known", all=len(needs))
    low, high = told.bench.small(min(lengths)), told.bench.small(max(lengths))
    return told.say("setting.posts.rough", all=len(needs), low=low, high=high)


def _cut_line(told: Telling, need: posts.Need) -> str:
    small, base = told.bench.small, need.base
    cut = _cut_of(told, base.mark)
    sure = told.bench.plus(NINETEEN_IN_TWENTY * base.sigma)
    if base.is_measured:
        parts = [told.say("setting.posts.post-final", mark=told.mark(base.mark), length=small(need.length), sure=sure)]
        if abs(need.taken_out) >= 0.05:
            parts.append(
                told.say("setting.posts.taken-out", by=told.fine(abs(need.taken_out)), way_code=_way(need.taken_out))
            )
    else:
        rough = "" if cut is None else small(cut.rough_length)
        parts = [
            told.say(
                "setting.posts.post-rough", mark=told.mark(base.mark), rough=rough, length=small(need.length), sure=sure
            )
        ]
    return ("" if told.bench.is_japanese else " ").join(parts)


def _tilted_feet(told: Telling) -> Iterator[str]:
    """Yield on which edge square feet stand where their footings lean, posts that do so alike together."""
    plan = told.bench.plan
    alike: dict[tuple[str, str, str], list[str]] = {}
    for cut in () if plan is None else plan.posts.cuts:
        if cut.foot_gap >= 0.05:
            edge = told.bench.speaker.say(f"foot-edge.{round(cut.foot_high_toward_deg)}")
            alike.setdefault((edge, told.fine(cut.foot_gap), f"{cut.foot_angle_deg:.1f}"), []).append(cut.mark)
    for (edge, gap, angle), marks in alike.items():
        yield told.say("setting.posts.foot", marks=told.marks(marks), gap=gap, angle=angle, edge=edge)


def _way(taken_out: float) -> str:
    return "setting.posts.sagged" if taken_out > 0 else "setting.posts.stood-proud"


def _cut_of(told: Telling, mark: str) -> Any:  # noqa: ANN401 - a post of a room that this one does not enter
    plan = told.bench.plan
    return None if plan is None else next(c for c in plan.posts.cuts if c.mark == mark)


def cut_record(told: Telling, need: posts.Need) -> dict[str, object]:
    """Return one post to cut as plain data."""
    base, cut = need.base, _cut_of(told, need.base.mark)
    is_known = not math.isnan(need.length)
    return {
        "post": base.mark,
        "is_measured": base.is_measured,
        "length_mm": need.length if is_known else None,
        "sure_mm": NINETEEN_IN_TWENTY * base.sigma if is_known else None,
        "rough_mm": None if cut is None else cut.rough_length,
        "taken_out_mm": need.taken_out,
        "as_cut_mm": told.readings.lengths.get(base.mark),
        "foot_angle_deg": 0.0 if cut is None else cut.foot_angle_deg,
        "foot_gap_mm": 0.0 if cut is None else cut.foot_gap,
    }


def odds_answer(
    told: Telling, chance: posts.Odds, tight: posts.Tightness, orders: posts.Orders, errors: posts.Errors
) -> Answer:
    """Return how likely the floor is to rock, how tight cutting must be, and in which order to set the posts."""
    lines = [
        told.say(
            "setting.posts.odds",
            chance=_percent(chance.chance),
            limit=told.fine(chance.limit),
            typical=told.fine(chance.rock_typical),
            bad=told.fine(chance.rock_bad),
        ),
        _order_line(told, orders),
        told.say(
            "setting.posts.odds-sure", low=_percent(chance.low), high=_percent(chance.high), samples=chance.samples
        ),
    ]
    detail = [
        _tight_line(told, tight),
        told.say(
            "setting.posts.odds-errors",
            gap=told.fine(NINETEEN_IN_TWENTY * errors.gap),
            cut=told.fine(NINETEEN_IN_TWENTY * errors.cut),
            places=chance.places,
        ),
        *(
            told.say("setting.posts.stage", number=k, marks=told.marks(s))
            for k, s in enumerate(orders.best.stages, start=1)
        ),
        told.say("setting.posts.odds-remedy"),
        *([told.say("setting.posts.rigid")] if told.frame.is_rigid else []),
        told.figures("gap_reading", "rock_limit", "walker", option="--tape, --cutting, --limit, --person"),
    ]
    return Answer(
        what="odds",
        lines=tuple(lines),
        detail=tuple(detail),
        record=_odds_record(chance, tight, orders),
        is_fine=chance.chance <= 0.05,
    )


def _odds_record(chance: posts.Odds, tight: posts.Tightness, orders: posts.Orders) -> dict[str, object]:
    return {
        "limit_mm": chance.limit,
        "chance": chance.chance,
        "chance_low": chance.low,
        "chance_high": chance.high,
        "rock_typical_mm": chance.rock_typical,
        "rock_bad_mm": chance.rock_bad,
        "samples": chance.samples,
        "cut_to_mm": tight.cut,
        "read_and_cut_to_mm": tight.both,
        "order": [list(s) for s in orders.best.stages],
        "chance_in_order": orders.best.odds.chance,
    }


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %"


def _order_line(told: Telling, orders: posts.Orders) -> str:
    best, once = orders.best, orders.at_once
    if len(best.stages) == len(once.stages) or best.odds.chance >= once.odds.chance - 0.005:
        return told.say("setting.posts.order-same", chance=_percent(once.odds.chance))
    code = "setting.posts.order-first" if len(best.stages) == 2 else "setting.posts.order-each"
    return told.say(
        code,
        first=told.marks(best.stages[0]),
        chance=_percent(best.odds.chance),
        once=_percent(once.odds.chance),
    )


def _tight_line(told: Telling, tight: posts.Tightness) -> str:
    if tight.cut is not None:
        return told.say("setting.posts.tight-cut", cut=told.fine(tight.cut))
    if tight.both is not None:
        return told.say("setting.posts.tight-both", both=f"{tight.both:.2f} mm")
    return told.say("setting.posts.tight-never")
