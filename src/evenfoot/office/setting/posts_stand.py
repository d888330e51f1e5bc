"""The answer about a floor on its feet in words: rock, tipping, what to shave, pack or swap, every foot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.office.setting.bench import Answer
from evenfoot.office.setting.posts_words import Telling, cut_record
from evenfoot.setting import posts


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stood:
    """A floor on its feet: what is known, how it stands empty, how it was walked, what would help."""

    known: posts.Known
    walked: posts.Walk
    rest: posts.Rest
    remedy: posts.Remedy | None
    rock_sure: float
    has_level: bool
    """Whether it is known how level the heads lie."""


def stand_answer(told: Telling, stood: Stood, needs: Sequence[posts.Need]) -> Answer:
    """Return whether the floor rocks and where, what to do about it, and how sure that is."""
    walked, remedy = stood.walked, stood.remedy
    is_safe = walked.stands_empty and not walked.tips
    lines = [_state(told, stood), _action(told, remedy), _sure(told, stood)]
    detail = [*_dangers(told, walked), *_feet(told, stood), *_proof(told, stood)]
    if told.frame.is_rigid:
        detail.append(told.say("setting.posts.rigid"))
    detail += [
        told.say("setting.posts.walked", kg=told.kg(told.person), places=walked.places),
        told.figures(
            "feeler" if posts.Basis.SEEN in stood.known.bases else "gap_reading",
            "rock_limit",
            "load_share",
            option="--tape, --limit",
        ),
        told.say("setting.posts.caution"),
    ]
    is_steady = remedy is not None and remedy.before.is_steady
    return Answer(
        what="posts",
        lines=tuple(lines),
        detail=tuple(detail),
        record=_record(told, stood, needs),
        is_fine=is_safe and is_steady and walked.jump is None,
    )


def _state(told: Telling, stood: Stood) -> str:
    walked = stood.walked
    if not walked.stands_empty:
        return told.say("setting.posts.falls")
    if walked.tips:
        return told.say(
            "setting.posts.tips", kg=told.kg(told.person), spot=told.spot(walked.tips[0]), count=len(walked.tips)
        )
    facts = {
        "rock": told.fine(walked.rock),
        "mark": told.mark(walked.mark),
        "highest": told.someone(walked.highest),
        "lowest": told.someone(walked.lowest),
        "limit": told.fine(told.limit),
    }
    if walked.rock > told.limit:
        return told.say("setting.posts.rocks" if walked.jump is None else "setting.posts.jumps", **facts)
    hangs = stood.remedy.before.hang if stood.remedy is not None else 0.0
    if hangs > told.limit + 0.01:
        return told.say("setting.posts.hangs-still", hang=told.fine(hangs), **facts)
    return told.say("setting.posts.steady", **facts)


def _action(told: Telling, remedy: posts.Remedy | None) -> str:
    if remedy is None:
        return told.say("setting.posts.prop")
    if remedy.before.is_steady:
        return told.say("setting.posts.leave")
    if remedy.swaps:
        pairs = [f"{told.mark(a)} ↔ {told.mark(b)}" for a, b in remedy.swaps]
        return told.say("setting.posts.swap", pairs=("、" if told.bench.is_japanese else ", ").join(pairs))
    if not remedy.is_found:
        return told.say("setting.posts.no-remedy", step=told.bench.small(told.step))
    return told.say("setting.posts.change", changes=_changes(told, remedy))


def _changes(told: Telling, remedy: posts.Remedy) -> str:
    """Return the changes, those of one hand together."""
    parts = []
    for hand in posts.Hand:
        these = [(c.mark, abs(c.by)) for c in remedy.changes if c.hand is hand]
        if these:
            parts.append(told.say(f"setting.posts.{hand.value}", posts=told.amounts(these)))
    return ("、" if told.bench.is_japanese else "; ").join(parts)


def _sure(told: Telling, stood: Stood) -> str:
    is_seen = posts.Basis.SEEN in stood.known.bases
    code = "setting.posts.sure-seen" if is_seen else "setting.posts.sure-cut"
    return told.say(code, sure=told.fine(math.ceil(10.0 * stood.rock_sure - 1e-9) / 10.0))


def _dangers(told: Telling, walked: posts.Walk) -> list[str]:
    out = []
    if walked.tips:
        out.append(told.say("setting.posts.tips-why", count=len(walked.tips), places=walked.places))
    if walked.jump is not None:
        jump = walked.jump
        out.append(
            told.say(
                "setting.posts.jump", fall=told.fine(jump.fall), mark=told.mark(jump.mark), spot=told.spot(jump.at)
            )
        )
    return out


def _feet(told: Telling, stood: Stood) -> list[str]:
    rest, walked = stood.rest, stood.walked
    if not walked.stands_empty:
        return []
    out = []
    for k, mark in enumerate(walked.marks):
        facts = {"mark": told.mark(mark), "travel": told.fine(walked.travel[k])}
        if rest.gap[0, k] > 0.0:
            out.append(told.say("setting.posts.foot-hangs", gap=told.fine(float(rest.gap[0, k])), **facts))
        else:
            out.append(told.say("setting.posts.foot-stands", kg=told.kg(float(rest.press[0, k])), **facts))
    return out


def _proof(told: Telling, stood: Stood) -> list[str]:
    remedy = stood.remedy
    if remedy is None or remedy.before.is_steady:
        return []
    before, after = remedy.before, remedy.after
    out = []
    if remedy.is_found:
        out.append(
            told.say(
                "setting.posts.proof",
                before=told.fine(before.rock),
                after=told.fine(after.rock),
                hang_before=told.fine(before.hang),
                hang_after=told.fine(after.hang),
                press_before=told.kg(before.press),
                press_after=told.kg(after.press),
            )
        )
        if stood.has_level:
            off_before, off_after = told.fine(before.off), told.fine(after.off)
            out.append(told.say("setting.posts.level", before=off_before, after=off_after))
    if not remedy.swaps:
        count = len(remedy.changes)
        if remedy.is_found and remedy.is_proved:
            out.append(told.say("setting.posts.fewest", count=count))
        elif remedy.is_found:
            out.append(told.say("setting.posts.fewest-bound", count=count, least=remedy.least))
    return out


def _record(told: Telling, stood: Stood, needs: Sequence[posts.Need]) -> dict[str, object]:
    walked, remedy, rest = stood.walked, stood.remedy, stood.rest
    feet = []
    for k, need in enumerate(needs):
        stands = walked.stands_empty
        feet.append(
            {
                **cut_record(told, need),
                "basis": stood.known.bases[k].value,
                "clearance_mm": float(stood.known.clearance[k]),
                "gap_mm": float(rest.gap[0, k]) if stands else None,
                "force_n": float(rest.press[0, k]) if stands else None,
                "travel_mm": walked.travel[k],
            }
        )
    jump = walked.jump
    return {
        "stage": "stand",
        "rock_mm": walked.rock,
        "rock_sure_mm": stood.rock_sure,
        "limit_mm": told.limit,
        "rocks_at": walked.mark,
        "highest_with_person_at_mm": walked.highest,
        "lowest_with_person_at_mm": walked.lowest,
        "person_kg": told.person / posts.GRAVITY,
        "tips_with_person_at_mm": [list(p) for p in walked.tips],
        "stands_empty": walked.stands_empty,
        "jump": None if jump is None else {"post": jump.mark, "fall_mm": jump.fall, "at_mm": list(jump.at)},
        "posts": feet,
        "remedy": None if remedy is None else _remedy_record(remedy, has_level=stood.has_level),
    }


def _remedy_record(remedy: posts.Remedy, *, has_level: bool) -> dict[str, object]:
    return {
        "is_found": remedy.is_found,
        "is_proved": remedy.is_proved,
        "least_posts": remedy.least,
        "swaps": [list(pair) for pair in remedy.swaps],
        "changes": [{"post": c.mark, "by_mm": c.by} for c in remedy.changes],
        "rock_before_mm": remedy.before.rock,
        "rock_after_mm": remedy.after.rock,
        "widest_gap_before_mm": remedy.before.hang,
        "widest_gap_after_mm": remedy.after.hang,
        "most_force_before_n": remedy.before.press,
        "most_force_after_n": remedy.after.press,
        "off_level_before_mm": remedy.before.off if has_level else None,
        "off_level_after_mm": remedy.after.off if has_level else None,
    }
