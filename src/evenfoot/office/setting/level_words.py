"""The answer about level in words: how it lies, which feet to turn, how sure that is; then the order and every mark."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from evenfoot.office.setting.bench import Answer, Bench
from evenfoot.setting import level

_SAG_SEEN = 0.5
"""A sag that the readings can tell [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found: the survey, how the frame lies, which feet to turn and in which order."""

    survey: level.Survey
    lie: level.Lie
    turns: level.Turns
    visits: tuple[level.Visit, ...]
    thread: level.Thread
    unread: tuple[str, ...]
    """Posts that no reading tells of."""
    has_own: bool
    """Whether instrument and thread are as typed, none of them on record."""


def level_answer(bench: Bench, found: Found) -> Answer:
    """Return the answer about a survey."""
    told = _Told(bench=bench, found=found)
    detail = [*told.order(), *told.marks(), *told.sags(), *told.instrument()]
    if found.unread:
        detail.append(told.say("setting.level.unread", marks=told.names(found.unread)))
    if not found.has_own:
        figures = ["rod_reading", "laser_tilt", "foot_pitch"]
        detail.append(bench.unconfirmed(figures, option="--reading, --tilt, --pitch"))
    is_fine = found.lie.is_level and found.survey.is_closed
    return Answer(
        what="level",
        lines=(told.lies(), told.action(), told.sure()),
        detail=tuple(detail),
        record=_record(found),
        is_fine=is_fine,
    )


class _Told:
    def __init__(self, *, bench: Bench, found: Found) -> None:
        self.bench = bench
        self.found = found

    def say(self, code: str, **facts: str | float) -> str:
        return self.bench.speaker.say(code, **facts)

    def names(self, marks: Sequence[str]) -> str:
        joint = "、" if self.bench.is_japanese else ", "
        return joint.join(self.bench.speaker.mark(mark) for mark in marks)

    def lies(self) -> str:
        lie, b = self.found.lie, self.bench
        low = min(lie.feet, key=lambda foot: foot.off)
        high = max(lie.feet, key=lambda foot: foot.off)
        code = "setting.level.level" if lie.is_level else "setting.level.not-level"
        said = self.say(
            code,
            spread=b.small(lie.spread),
            low=b.speaker.mark(low.mark),
            high=b.speaker.mark(high.mark),
            within=b.small(lie.within),
        )
        tilt = self.tilt()
        return ("" if b.is_japanese else " ").join(part for part in (said, tilt) if part)

    def tilt(self) -> str:
        lie = self.found.lie
        if lie.tilt is None or lie.is_level:
            return ""
        ways = []
        for rise, sure, up, down in (
            (lie.tilt.right, lie.tilt.right_sure, "right", "left"),
            (lie.tilt.away, lie.tilt.away_sure, "away", "house"),
        ):
            if abs(rise) > sure:
                way = f"setting.level.rises-{up if rise > 0 else down}"
                ways.append(self.say("setting.level.rise", way_code=way, by=f"{abs(rise) * 1000:.1f}"))
        if not ways:
            return self.say("setting.level.uneven", twist=self.bench.small(lie.twist))
        joint = self.say("setting.square.and")
        return self.say("setting.level.tilted", ways=joint.join(ways), twist=self.bench.small(lie.twist))

    def action(self) -> str:
        turns, feet = self.found.turns, len(self.found.lie.feet)
        moved = [mark for mark, steps in turns.steps.items() if steps]
        if not self.found.survey.is_closed:
            return self.say("setting.level.read-again")
        if not moved and turns.is_within:
            return self.say("setting.level.turn-none")
        joint = "、" if self.bench.is_japanese else ", "
        parts = joint.join(self.turn(mark, turns.steps[mark]) for mark in moved)
        if turns.is_within:
            return self.say("setting.level.turn", count=len(moved), feet=feet, parts=parts)
        worst = max(abs(left) for left in turns.left.values())
        return self.say(
            "setting.level.turn-short",
            parts=parts or self.say("setting.level.nothing"),
            worst=self.bench.small(worst),
            within=self.bench.small(self.found.lie.within),
        )

    def turn(self, mark: str, steps: int) -> str:
        """Return how to turn one foot: up or down, whole turns and parts of one, and the lift."""
        thread = self.found.thread
        way = "setting.level.up" if steps > 0 else "setting.level.down"
        return self.say(
            "setting.level.foot" if abs(steps) <= thread.per_turn else "setting.level.foot-turns",
            mark=self.bench.speaker.mark(mark),
            way_code=way,
            turns=turns_text(abs(steps), thread.per_turn),
            by=self.bench.small(abs(steps) * thread.step),
        )

    def sure(self) -> str:
        found, b = self.found, self.bench
        said = [self.say("setting.level.sure", sure=b.plus(found.lie.sure))]
        for closure in found.survey.closures:
            code = "setting.level.closed" if closure.is_closed else "setting.level.open"
            said.append(self.say(code, error=b.small(abs(closure.error)), allowed=b.plus(closure.allowed)))
        if found.lie.is_too_rough:
            said.append(self.say("setting.level.too-rough", within=b.small(found.lie.within)))
        elif not found.survey.closures:
            said.append(self.say("setting.level.no-closure"))
        return ("" if b.is_japanese else " ").join(said)

    def order(self) -> list[str]:
        out = []
        for number, visit in enumerate(self.found.visits, start=1):
            facts: dict[str, str | float] = {"number": number, "foot": self.turn(visit.mark, visit.steps)}
            if visit.lifts:
                out.append(self.say("setting.level.visit-lifts", marks=self.names(visit.lifts), **facts))
            else:
                out.append(self.say("setting.level.visit", **facts))
        return out

    def marks(self) -> list[str]:
        b, turns = self.bench, self.found.turns
        out = []
        for off in self.found.lie.marks:
            facts = {"mark": b.speaker.mark(off.mark), "off": b.signed(off.off), "sure": b.plus(off.sure)}
            if off.is_foot:
                out.append(self.say("setting.level.mark-foot", **facts, left=b.signed(turns.left[off.mark])))
            else:
                out.append(self.say("setting.level.mark", **facts))
        return out

    def sags(self) -> list[str]:
        b = self.bench
        return [
            self.say("setting.level.sag", mark=b.speaker.mark(off.mark), sag=b.small(off.sag), sure=b.plus(off.sure))
            for off in self.found.lie.sags
            if off.sag is not None and off.sag > _SAG_SEEN
        ]

    def instrument(self) -> list[str]:
        """Return what the readings tell of the instrument's own tilt, where they do."""
        survey = self.found.survey
        if abs(survey.tilt) <= survey.tilt_sure:
            return []
        return [
            self.say("setting.level.tilt", tilt=f"{survey.tilt * 1000:+.2f}", sure=f"{survey.tilt_sure * 1000:.2f}")
        ]


def turns_text(steps: int, per_turn: int) -> str:
    """Return steps of a thread as turns: ``1 1/2``."""
    whole, part = divmod(steps, per_turn)
    broken = str(Fraction(part, per_turn)) if part else ""
    return " ".join(text for text in (str(whole) if whole else "", broken) if text) or "0"


def _record(found: Found) -> dict[str, object]:
    lie, tilt = found.lie, found.lie.tilt
    return {
        "within_mm": lie.within,
        "spread_mm": lie.spread,
        "sure_mm": lie.sure,
        "twist_mm": lie.twist,
        "is_too_rough": lie.is_too_rough,
        "tilt": None
        if tilt is None
        else {
            "right_mm_per_m": tilt.right * 1000,
            "right_sure_mm_per_m": tilt.right_sure * 1000,
            "away_mm_per_m": tilt.away * 1000,
            "away_sure_mm_per_m": tilt.away_sure * 1000,
        },
        "instrument_tilt_mm_per_m": found.survey.tilt * 1000,
        "closures": [
            {"stand": c.stand, "mark": c.mark, "error_mm": c.error, "allowed_mm": c.allowed, "is_closed": c.is_closed}
            for c in found.survey.closures
        ],
        "marks": [
            {"mark": m.mark, "off_mm": m.off, "sure_mm": m.sure, "is_foot": m.is_foot, "sag_mm": m.sag}
            for m in lie.marks
        ],
        "turns": [
            {"mark": mark, "steps": steps, "lift_mm": steps * found.thread.step, "left_mm": found.turns.left[mark]}
            for mark, steps in found.turns.steps.items()
        ],
        "is_within_after": found.turns.is_within,
        "steps_per_turn": found.thread.per_turn,
        "pitch_mm": found.thread.pitch,
        "visits": [{"mark": v.mark, "steps": v.steps, "lifts": list(v.lifts)} for v in found.visits],
        "unread": list(found.unread),
    }
