"""The card of one timber: everything that the plan knows of it, ready to be shown beside the drawing."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.office.answers import Finding, findings_in
from evenfoot.office.desk.card_lines import CardLine, lines_of
from evenfoot.office.desk.marks import Thing, all_marks, concerns, thing_of
from evenfoot.plan import Plan
from evenfoot.sheets import Figures
from evenfoot.words import Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCut:
    """One cut as it is marked out: from and to are running dimensions from the named end, in the job's unit.

    ``begin_mm`` and ``finish_mm`` are the same as numbers. ``line`` is the grid line of the other timber.
    """

    number: int
    what: str
    face: str
    begin: str
    finish: str
    depth: str
    down: str
    lean_deg: str
    line: str
    begin_mm: float
    finish_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CardJoint:
    """One joint of a timber: with which other, who bears on whom (a sentence), and where along this timber."""

    mark: str
    said: str
    kind: str
    other: str
    other_said: str
    bears: str
    is_upper: bool
    """Whether this timber bears on the other."""
    at: str
    """Running dimension from the named end; empty for a post, which has its joint at the head."""
    cut: str
    """Depth cut out of this timber; empty where nothing is cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberCard:
    """What is known of one thing. ``mark`` is as in the files, ``said`` as this language's carpenters write it.

    Lengths in words are in the job's unit, which ``unit`` names; ``length_mm`` is the finished length, None where
    the thing has none (a joint, a grid line, a post that does not fit). ``verdict`` is the gravest of its findings,
    empty where there are none. ``others`` are the marks of what it touches.
    """

    mark: str
    said: str
    thing: str
    title: str
    unit: str
    verdict: str
    length_mm: float | None
    lines: tuple[CardLine, ...]
    cuts: tuple[CardCut, ...]
    joints: tuple[CardJoint, ...]
    findings: tuple[Finding, ...]
    others: tuple[str, ...]


def timber_card(plan: Plan, mark: str, speaker: Speaker) -> TimberCard:
    """Return the card of a timber, post with its footing, board, joint or grid line.

    Raises: OutOfRangeError ``mark-unknown`` with the nearest mark when the plan has nothing of that mark.
    """
    thing = thing_of(plan, mark)
    if thing is None:
        nearest = difflib.get_close_matches(mark, all_marks(plan), n=1, cutoff=0.0)
        raise OutOfRangeError(Fault(where="", code="mark-unknown", found=mark, nearest=next(iter(nearest), "")))
    figures = Figures(speaker=speaker)
    findings = findings_in((c for c in plan.checks if concerns(plan, c, mark)), speaker)
    joints = () if thing in (Thing.JOINT, Thing.LINE) else _joints(plan, mark, figures)
    return TimberCard(
        mark=mark,
        said=speaker.mark(mark),
        thing=thing.value,
        title=_title(thing, mark, speaker),
        unit=speaker.say(f"sheet-unit.{speaker.unit}"),
        verdict=findings[0].verdict if findings else "",
        length_mm=_length(plan, thing, mark),
        lines=lines_of(plan, thing, mark, figures),
        cuts=_cuts(plan, mark, figures),
        joints=joints,
        findings=findings,
        others=_others(plan, thing, mark, joints),
    )


def _title(thing: Thing, mark: str, speaker: Speaker) -> str:
    if thing is Thing.JOINT:
        return speaker.mark(mark)
    name = speaker.say("desk-card.grid-line") if thing is Thing.LINE else speaker.say(f"sheet-role.{thing.value}")
    return speaker.say("sheet.body-name", thing=name, mark=speaker.mark(mark))


def _length(plan: Plan, thing: Thing, mark: str) -> float | None:
    """Return the finished length [mm]."""
    if thing in (Thing.JOINT, Thing.LINE):
        return None
    if thing is Thing.POST:
        return next((c.length for c in plan.posts.cuts if c.mark == mark and c.is_cut), None)
    if thing is Thing.BOARD:
        return next(p.length for p in plan.layout.pieces if p.mark == mark)
    return plan.frame.member(mark).length


def _cuts(plan: Plan, mark: str, figures: Figures) -> tuple[CardCut, ...]:
    """Return the cuts of one timber in order from its named end, square ends included."""
    say = figures.speaker.say
    return tuple(
        CardCut(
            number=number,
            what=say(f"sheet-cut.{cut.kind.value}"),
            face=say(f"sheet-face.{cut.face.value}"),
            begin=figures.cut(cut.begin),
            finish=figures.cut(cut.finish),
            depth=figures.cut(cut.depth) if cut.depth else "",
            down=figures.cut(cut.height) if cut.height else "",
            lean_deg=f"{cut.angle_deg:.1f}" if cut.angle_deg else "",
            line=figures.mark(cut.joint),
            begin_mm=cut.begin,
            finish_mm=cut.finish,
        )
        for number, cut in enumerate(plan.joinery.cuts_on(mark), start=1)
    )


def _joints(plan: Plan, mark: str, figures: Figures) -> tuple[CardJoint, ...]:
    """Return the joints of one timber or post in order along it, with who bears on whom."""
    found: list[tuple[float, CardJoint]] = []
    for joint in plan.frame.joints:
        if mark not in (joint.upper, joint.lower):
            continue
        is_upper = joint.upper == mark
        other = joint.lower if is_upper else joint.upper
        at, cut = (joint.at_upper, joint.cut_upper) if is_upper else (joint.at_lower, joint.cut_lower)
        said = figures.mark(other)
        card = CardJoint(
            mark=joint.mark,
            said=figures.mark(joint.mark),
            kind=figures.speaker.say(f"sheet-joint.{joint.kind.value}"),
            other=other,
            other_said=said,
            bears=figures.speaker.say("desk-card.lies-on" if is_upper else "desk-card.carries", other=said),
            is_upper=is_upper,
            at="" if joint.lower == mark and joint.kind.value == "post-head" else figures.cut(at),
            cut=figures.cut(cut) if cut else "",
        )
        found.append((at, card))
    return tuple(card for _, card in sorted(found, key=lambda pair: pair[0]))


def _others(plan: Plan, thing: Thing, mark: str, joints: tuple[CardJoint, ...]) -> tuple[str, ...]:
    """Return the marks that a thing touches: at its joints, of a joint its timbers, of a grid line what lies on it."""
    if thing is Thing.JOINT:
        joint = next(j for j in plan.frame.joints if j.mark == mark)
        return (joint.upper, joint.lower)
    if thing is Thing.LINE:
        return tuple(m.mark for m in plan.frame.members if m.line == mark)
    return tuple(dict.fromkeys(joint.other for joint in joints))
