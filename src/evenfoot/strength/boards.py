"""Whether the boards bear and stay stiff between the joists, and past the last one."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.job import FloorSpec, kinds
from evenfoot.rules import one_span
from evenfoot.strength.findings import Asked, word
from evenfoot.strength.standards import Aim, Bearer, Case, Figure, Practice, Stress, Wood

SUBJECT = "boards"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSpan:
    """How a board lies: span along it between joists, and how far it reaches past the last one's face [mm].

    ``dead`` is the weight of the boards [N/mm2], gaps counted out.
    """

    span: float
    tip: float
    dead: float


def lie(*, floor: FloorSpec, joist_axis: str, widest_gap: float, dead: float) -> BoardSpan:
    """Return how the boards lie over joists whose centres are at most ``widest_gap`` mm apart.

    A board at an angle to the joists spans more: the spacing over the sine of the angle between them.
    """
    turn = math.radians(floor.board.direction_deg)
    slant = abs(math.cos(turn)) if joist_axis == "y" else abs(math.sin(turn))
    over = floor.overhang
    tip = max(over.left, over.right) if joist_axis == "y" else max(over.wall, over.outer)
    return BoardSpan(span=widest_gap / slant, tip=tip / slant, dead=dead)


def check_boards(practice: Practice, floor: FloorSpec, wood: Wood, lies: BoardSpan) -> list[Check]:
    """Return the checks of full-width boards, each taken as a simple span (the safe side for moment and sag)."""
    board = floor.board
    pitch = board.width + board.gap
    modulus = practice.section_modulus(width=board.width, depth=board.thickness)
    asked: dict[str, list[Asked]] = {"board-bending": [], "board-shear": [], "board-tip": []}
    for case in practice.cases():
        if case.aim is not Aim.STRENGTH or Bearer.FLOOR not in case.decides:
            continue
        w = (case.dead * lies.dead + case.area) * pitch
        bend = one_span.middle_moment(w=w, P=case.point, L=lies.span) / modulus
        shear = practice.shear_stress_factor() * one_span.end_shear(w=w, P=case.point, L=lies.span)
        tip = one_span.overhang_moment(w=w, P=case.point, a=max(lies.tip, 0.0)) / modulus
        for rule, stress, demand in (
            ("board-bending", Stress.BENDING, bend),
            ("board-shear", Stress.SHEAR, shear / (board.width * board.thickness)),
            ("board-tip", Stress.BENDING, tip),
        ):
            asked[rule].append(_ask(rule, demand, practice.strength(stress, wood, case), case, lies))
    worst = [max(found, key=lambda a: a.demand / a.capacity.value) for found in asked.values()]
    if lies.tip <= 0.0:
        worst = [a for a in worst if a.rule != "board-tip"]
    checks = [word(practice, a) for a in worst]
    return [*checks, *_sag(practice, floor, wood, lies), *_ripped(practice, floor, worst[0])]


def _ask(rule: str, demand: float, capacity: Figure, case: Case, lies: BoardSpan) -> Asked:
    facts: tuple[Fact, ...] = (("span_mm", lies.tip if rule == "board-tip" else lies.span),)
    return Asked(
        rule=rule,
        subject=SUBJECT,
        demand=demand,
        capacity=capacity,
        unit="N/mm2",
        case=case,
        remedy="shorter-tip" if rule == "board-tip" else "stronger-board",
        facts=facts,
    )


def _sag(practice: Practice, floor: FloorSpec, wood: Wood, lies: BoardSpan) -> list[Check]:
    board = floor.board
    area = board.width * board.thickness
    second = area * board.thickness**2 / 12.0
    out = []
    for case in practice.cases():
        if case.aim is not Aim.SAG:
            continue
        rule = practice.sag(span=lies.span, is_overhang=False, case=case)
        if rule is None:
            continue
        w = (case.dead * lies.dead + case.area) * (board.width + board.gap)
        sag = one_span.even_sag(w=w, L=lies.span, EI=wood.modulus * second, GA=wood.shear_modulus * area)
        asked = Asked(
            rule=f"board-{rule.code}",
            subject=SUBJECT,
            demand=sag,
            capacity=Figure(value=rule.limit, doubts=rule.doubts + wood.doubts),
            unit="mm",
            case=case,
            reason="" if rule.usual is None or sag <= rule.usual else "sag-beyond-usual",
            remedy="stronger-board",
            facts=(
                ("span_mm", lies.span),
                ("sag_fine", round(sag, 2)),
                ("limit_fine", round(rule.limit, 2)),
                ("usual_fine", round(rule.limit if rule.usual is None else rule.usual, 2)),
            ),
        )
        out.append(word(practice, asked))
    return out


def _ripped(practice: Practice, floor: FloorSpec, bending: Asked) -> list[Check]:
    """Say how narrow a ripped board may be where the layout may rip one: it weakens in step with its width."""
    if floor.board.closing not in {kinds.Closing.RIP_LAST, kinds.Closing.RIP_BOTH}:
        return []
    # One person stands on one board whatever its width, so its stress goes with 1/width.
    narrowest = floor.board.width * bending.demand / bending.capacity.value
    if narrowest <= floor.board.rip_min:
        return []
    return [
        Check(
            subject=SUBJECT,
            rule="ripped-board",
            verdict=Verdict.NOT_CHECKED,
            demand=narrowest,
            capacity=floor.board.rip_min,
            unit="mm",
            source=practice.clauses["ripped-board"],
            case=bending.case.code if bending.case else "",
            reason="ripped-width-not-known",
            remedy="wider-rip",
            confirmed=not bending.capacity.doubts,
        )
    ]
