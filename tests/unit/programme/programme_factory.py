"""What the earlier rooms hand to the programme, made small and by hand."""

from __future__ import annotations

import sys
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "timber"))
from timber_factory import make_frame, make_job, make_layout

from evenfoot.cutting import CuttingPlan
from evenfoot.estimate import Built, CoatLine, Estimate, Money, Work
from evenfoot.frame import JointKind, Mark
from evenfoot.job import Job
from evenfoot.joints import Cut, CutKind, Face, Joinery, Step
from evenfoot.posts import Basis, PostCut, Posts
from evenfoot.timber import know_timber

HOURS = {
    "set-out": 2.0,
    "footing": 3.0,
    "post-seat": 2.25,
    "frame-joist": 7.5,
    "half-lap": 4.0,
    "plane": 1.7,
    "trim-end": 0.6,
    "lay-boards": 3.3,
    "screw": 2.9,
    "coat-before": 5.0,
    "seal-end": 0.4,
    "coat-laid": 1.1,
}


def work(task: str, typical: float) -> Work:
    return Work(
        task=task, quantity=1.0, unit="each", low=typical / 2, typical=typical, high=typical * 2, source="own",
        is_confirmed=False,
    )  # fmt: skip


def coat(number: int, area: float, when: str, face: str = "hidden") -> CoatLine:
    return CoatLine(face=face, coat=number, area=area, litres_low=1.0, litres_high=2.0, when=when)


def make_estimate(hours: dict[str, float] | None = None, *, coats: tuple[CoatLine, ...] | None = None) -> Estimate:
    nothing = Money(low=Decimal(0), high=Decimal(0))
    return Estimate(
        currency="JPY",
        order=(),
        fixings=(),
        coats=coats
        if coats is not None
        else (
            coat(1, 12.0, "before-assembly"),
            coat(1, 2.0, "before-assembly", "end-grain"),
            coat(2, 6.0, "before-assembly"),
            coat(2, 4.0, "after-laying", "seen"),
        ),
        work=tuple(work(task, typical) for task, typical in (HOURS if hours is None else hours).items()),
        material=nothing,
        labour=nothing,
        overhead=nothing,
        tax=nothing,
        total=nothing,
        checks=(),
    )


def make_built(job: Job, *, kind: JointKind = JointKind.LAP_OVER, ground: float = -400.0) -> Built:
    layout, frame = make_layout(job), make_frame(job, kind=kind)
    beams = tuple(m.mark for m in frame.members if m.role == "beam")
    joists = tuple(m.mark for m in frame.members if m.role == "joist")
    has_cuts = kind in (JointKind.LAP_OVER, JointKind.LAP_UNDER, JointKind.HOUSING)
    cuts = tuple(
        Cut(
            member=mark,
            kind=CutKind.LAP,
            face=Face.TOP,
            begin=0.0,
            finish=105.0,
            depth=52.5,
            height=0.0,
            angle_deg=0.0,
            joint="A1.lap-over",
        )
        for mark in (*beams, *joists)
        if has_cuts
    )
    posts = tuple(
        PostCut(
            mark=Mark(p.mark),
            x=p.x,
            y=p.y,
            underside=p.underside,
            ground=ground,
            footing_top=ground + 120.0,
            length=p.underside - ground - 120.0,
            sigma=1.5,
            rough_length=200.0,
            basis=Basis.SURFACE,
            head_angle_deg=0.0,
            head_falls_toward_deg=0.0,
            foot_lift=0.0,
            width=p.width,
            depth=p.depth,
            species=p.species,
            stack=(),
        )
        for p in frame.posts
    )
    return Built(
        layout=layout,
        frame=frame,
        joinery=Joinery(
            cuts=cuts,
            steps=(
                Step(number=1, how="set-on-feet", marks=beams),
                Step(number=2, how="lower-into-laps", marks=joists),
            ),
            checks=(),
        ),
        posts=Posts(cuts=posts, checks=()),
        timber=know_timber(job, layout, frame),
        cutting=CuttingPlan(pieces=(), sections=(), checks=()),
    )


def with_crew(job: Job, **changes: object) -> Job:
    return replace(job, crew=replace(job.crew, **changes))


__all__ = ["HOURS", "coat", "make_built", "make_estimate", "make_job", "with_crew"]
