"""What the phone shows of the work itself: timbers with their running dimensions, steps, drawings, cautions."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from evenfoot.plan import Plan
from evenfoot.press import svg_of
from evenfoot.sheets import drawing
from evenfoot.words import Language, Speaker

Speakers = Mapping[Language, Speaker]
DRAWINGS = ("frame", "boards", "posts", "marking", "joints", "sections", "assembly")
"""The sheets that a person on the slab looks at."""
_PAPER = "A4"
_NUMBER = re.compile(r"^\d+\s+")
"""The number before a sheet's title: among themselves only, so of no use in a list of several kinds."""
_INDENT = re.compile(r"\n\s*")


def timbers_record(plan: Plan) -> list[dict[str, Any]]:
    """Return every beam and joist with its cuts in running dimensions from its named end [mm]."""
    return [
        {
            "mark": member.mark,
            "role": member.role.value,
            "is_along_house": member.axis.value == "x",
            "length_mm": member.length,
            "width_mm": member.width,
            "depth_mm": member.depth,
            "cuts": [
                {
                    "kind": cut.kind.value,
                    "face": cut.face.value,
                    "begin_mm": cut.begin,
                    "finish_mm": cut.finish,
                    "depth_mm": cut.depth,
                    "height_mm": cut.height,
                    "angle_deg": cut.angle_deg,
                    "line": _line_of(cut.joint, is_letter=member.axis.value == "x"),
                }
                for cut in plan.joinery.cuts_on(member.mark)
                if cut.kind.value != "square-end"
            ],
        }
        for member in plan.frame.members
    ]


def _line_of(joint: str, *, is_letter: bool) -> str:
    """Return the grid line of the other timber of a joint: a letter on timbers along the house, else a number."""
    place = joint.split(".", 1)[0]
    return "".join(c for c in place if (c.isalpha() if is_letter else c.isdigit())) or place


def steps_record(plan: Plan, speakers: Speakers) -> list[dict[str, Any]]:
    """Return the steps of the work in order, in words, with the hours that are reckoned and the cautions."""
    return [
        {
            "number": step.number,
            "code": step.step,
            "text": {lang.value: _step_words(step.step, step.how, step.marks, s) for lang, s in speakers.items()},
            "hours": step.hours,
            "wait_hours": step.wait_hours,
            "day_from": step.day_from,
            "day_to": step.day_to,
            "after": list(step.after),
            "cautions": [
                {lang.value: s.say(f"caution.{code}") for lang, s in speakers.items()} for code in step.cautions
            ],
        }
        for step in plan.programme.steps
    ]


def _step_words(step: str, how: str, marks: Sequence[str], speaker: Speaker) -> str:
    said = speaker.say(f"step.{step}")
    if not how:
        return said
    joint = "、" if speaker.language is Language.JAPANESE else ", "
    named = speaker.say(f"assembly.{how}", marks=joint.join(speaker.mark(m) for m in marks))
    return speaker.say("sheet.step-how", step=said, how=named)


def drawings_record(plan: Plan, speakers: Speakers) -> list[dict[str, Any]]:
    """Return the sheets for the slab as SVG, in every language."""
    out = []
    for name in DRAWINGS:
        sheets = {lang: drawing(plan, speaker, _PAPER, name) for lang, speaker in speakers.items()}
        count = max((len(pages) for pages in sheets.values()), default=0)
        for place in range(count):
            pages = {lang: drawn[min(place, len(drawn) - 1)] for lang, drawn in sheets.items()}
            out.append(
                {
                    "code": next(iter(pages.values())).code,
                    "title": {lang.value: _NUMBER.sub("", page.title) for lang, page in pages.items()},
                    "svg": {lang.value: _INDENT.sub("", svg_of(page)) for lang, page in pages.items()},
                }
            )
    return out
