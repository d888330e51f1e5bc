"""How many hours the job takes, task by task, each task counted once."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.estimate.coats import AFTER, BEFORE, END_GRAIN, plan_coats
from evenfoot.estimate.model import Built, CoatLine, Fixing, Work
from evenfoot.frame import JointKind
from evenfoot.job import Job, Shop, kinds
from evenfoot.layout import Layout
from evenfoot.tables import fasteners, labour, species

_MM2_PER_M2 = 1e6
_MM3_PER_M3 = 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """The hours of the job; ``checks`` name learned rates of tasks that are not known."""

    work: tuple[Work, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantities:
    """What the hours are counted from."""

    job: Job
    built: Built
    fixings: tuple[Fixing, ...]
    coats: tuple[CoatLine, ...]


def count_work(quantities: Quantities, shop: Shop) -> Labour:
    """Return the hours of every task that the job has any of (note 073 tells which task holds which work)."""
    learned = dict(shop.rates)
    dense = species(quantities.job.floor.board.species).density > fasteners.hardwood_above()
    work = tuple(
        _work(task, quantity, learned, in_hardwood=dense) for task, quantity in _count(quantities) if quantity > 0
    )
    known = {rate.task for rate in labour.rates()}
    checks = tuple(
        Check(
            subject=task,
            rule="rate-of-no-task",
            verdict=Verdict.NOT_CHECKED,
            reason="task-not-known",
            facts=(("task", task),),
        )
        for task in sorted(set(learned) - known)
    )
    return Labour(work=work, checks=checks)


def _work(task: str, quantity: float, learned: dict[str, float], *, in_hardwood: bool) -> Work:
    """Return the hours of one task. A learned rate replaces the typical one and moves both ends with it."""
    rate = labour.rate(task)
    factor = quantity * (rate.hardwood if in_hardwood else 1.0)
    is_learned = task in learned
    typical = learned[task] if is_learned else rate.typical
    return Work(
        task=task,
        quantity=quantity,
        unit=rate.unit,
        low=factor * typical * rate.low / rate.typical,
        typical=factor * typical,
        high=factor * typical * rate.high / rate.typical,
        source="shop" if is_learned else rate.source,
        is_confirmed=is_learned or rate.is_confirmed,
    )


def _count(q: Quantities) -> Iterator[tuple[str, float]]:
    """Give every task with its quantity, in the order of the work."""
    frame, layout = q.built.frame, q.built.layout
    posts = float(_posts(q.built))
    joints = [j.kind for j in frame.joints]
    footing = q.job.frame.footing
    is_scribed = footing.kind is kinds.Footing.STONE and not footing.is_bedded_level
    yield "set-out", 1.0
    yield "plane", _planed_volume(q.built)
    yield "half-lap", float(joints.count(JointKind.LAP_OVER) + joints.count(JointKind.LAP_UNDER))
    yield "housing", float(joints.count(JointKind.HOUSING))
    yield "coat-before", math.fsum(c.area for c in q.coats if c.when == BEFORE and c.face != END_GRAIN)
    yield "seal-end", float(_ends(q.built) * plan_coats(q.job).end_grain)
    yield "footing", posts
    yield "scribe-foot", posts if is_scribed else 0.0
    yield "post-seat", posts
    yield "frame-joist", _frame_area(layout)
    yield "hanger", _frame_area(layout) if JointKind.HANGER in joints else 0.0
    yield "rip-metre", math.fsum(p.length for p in layout.pieces if p.is_ripped) / 1000.0
    yield "trim-end", float(2 * len(layout.pieces))
    yield "lay-boards", _floor_area(layout)
    is_screw = {f.mark: f.kind == "screw" for f in q.fixings}
    for task, wanted in (("screw", True), ("nail", False)):
        held = (f.count for f in q.fixings if f.use == "board-joist" and is_screw[f.mark] is wanted)
        yield task, float(sum(held))
    yield "coat-laid", math.fsum(c.area for c in q.coats if c.when == AFTER)


def _posts(built: Built) -> int:
    """Return how many posts there are to cut; one that does not fit is a finding, not work."""
    return sum(cut.is_cut for cut in built.posts.cuts)


def _ends(built: Built) -> int:
    return 2 * (len(built.layout.pieces) + len(built.frame.members) + _posts(built))


def _planed_volume(built: Built) -> float:
    """Return the rough timber [m3] of all pieces whose section is bought larger than it is finished."""
    volumes = []
    for section in built.cutting.sections:
        if (section.rough_width, section.rough_depth) == (section.width, section.depth):
            continue
        lengths = (cut.finish - cut.begin for stick in section.sticks if stick.source == "yard" for cut in stick.cuts)
        volumes.append(math.fsum(lengths) * section.rough_width * section.rough_depth)
    return math.fsum(volumes) / _MM3_PER_M3


def _frame_area(layout: Layout) -> float:
    (x0, x1), (y0, y1) = layout.frame_x, layout.frame_y
    return (x1 - x0) * (y1 - y0) / _MM2_PER_M2


def _floor_area(layout: Layout) -> float:
    corners = layout.outline
    turns = zip(corners, (*corners[1:], corners[0]), strict=True)
    return math.fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in turns) / 2 / _MM2_PER_M2
