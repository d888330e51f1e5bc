"""Whether a guard's posts and their fixings bear the push of people on the rail (note 097)."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, compare
from evenfoot.errors import OutOfRangeError
from evenfoot.job import Job, kinds
from evenfoot.rules import guards
from evenfoot.strength.standards import Aim, Case, Part, Piece, Practice, Stress
from evenfoot.tables import safety

_SUBJECT = "guard"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pushed:
    """The push at the top of one post [N] with its clause and what is not confirmed."""

    force: float
    source: str
    doubts: tuple[str, ...]


def check_guard(practice: Practice, job: Job) -> tuple[Check, ...]:
    """Return the checks of a guard post in bending and of the fixings at its foot; nothing where there is no guard."""
    guard = job.guard
    if guard is None:
        return ()
    pushed = _push(job)
    moment = guards.foot_moment(H=pushed.force, h=guard.height, t=guard.top_fixing)
    return (*_bending(practice, job, pushed, moment), _fixing(job, pushed, moment))


def _push(job: Job) -> _Pushed:
    guard = job.guard
    assert guard is not None
    if guard.push is not None:
        return _Pushed(force=guard.push, source=f"{guard.where}.push", doubts=())
    if job.standard is kinds.Standard.EUROPE:
        use = "public" if job.loads.use is kinds.Use.PUBLIC else "dwelling"
        names = [f"guard.line.europe.{use}"]
    else:
        names = [f"guard.line.{job.standard}", f"guard.point.{job.standard}"]
    figures = [safety.figure(name) for name in names]
    line = figures[0].value
    point = figures[1].value if len(figures) > 1 else 0.0
    if job.standard is kinds.Standard.NORTH_AMERICA and job.loads.use is not kinds.Use.PUBLIC:
        line, figures = 0.0, figures[1:]  # dwellings are asked for the single load alone
    force = guards.post_push(p=line, s=guard.spacing, P=point)
    return _Pushed(
        force=force,
        source=figures[0].source,
        doubts=tuple(f.name for f in figures if not f.is_confirmed),
    )


def _factor(job_standard: kinds.Standard) -> float:
    """Return the partial factor on the push: strengths of the European standard are design strengths."""
    return safety.figure("guard.factor.europe").value if job_standard is kinds.Standard.EUROPE else 1.0


def _bending(practice: Practice, job: Job, pushed: _Pushed, moment: float) -> list[Check]:
    guard = job.guard
    assert guard is not None
    piece = Piece(
        part=Part.BEAM,
        species=guard.species,
        grade=guard.strength_grade,
        width=guard.width,
        depth=guard.depth,
    )
    case = _passing(practice)
    try:
        wood = practice.wood(piece)
    except OutOfRangeError as error:
        return [_unknown(error)]
    factor = _factor(practice.standard)
    strength = practice.strength(Stress.BENDING, wood, case)
    modulus = practice.section_modulus(width=guard.width, depth=guard.depth)
    doubts = tuple(dict.fromkeys((*strength.doubts, *pushed.doubts)))
    return [
        compare(
            subject=_SUBJECT,
            rule="guard-post",
            demand=factor * moment / modulus,
            capacity=strength.value,
            unit="N/mm2",
            source=f"{pushed.source} {practice.clauses['bending']}",
            remedy="stronger-guard-post",
            facts=(
                ("push_n", float(round(pushed.force))),
                ("width_mm", guard.width),
                ("depth_mm", guard.depth),
                ("arm_mm", guard.height + guard.top_fixing),
                ("doubts", ", ".join(doubts)),
            ),
            confirmed=not doubts,
        )
    ]


def _unknown(error: OutOfRangeError) -> Check:
    return Check(
        subject=_SUBJECT,
        rule="guard-post-unknown",
        verdict=Verdict.NOT_CHECKED,
        reason=error.fault.code,
        facts=(("found", error.fault.found), ("allowed", error.fault.allowed)),
    )


def _passing(practice: Practice) -> Case:
    """Return the case whose strength holds for a push that passes: the walked load, or the last there is."""
    cases = [c for c in practice.cases() if c.aim is Aim.STRENGTH]
    return next((c for c in cases if c.point > 0.0), cases[-1])


def _fixing(job: Job, pushed: _Pushed, moment: float) -> Check:
    guard = job.guard
    assert guard is not None
    pull = _factor(job.standard) * guards.upper_pull(M=moment, H=pushed.force, a=guard.lever)
    facts = (
        ("demand_n", float(round(pull))),
        ("push_n", float(round(pushed.force))),
        ("arm_mm", guard.height + guard.top_fixing),
        ("lever_mm", guard.lever),
        ("capacity_n", job.makers.guard_post or 0.0),
    )
    if not job.makers.guard_post:
        return Check(
            subject=_SUBJECT,
            rule="guard-fixing",
            verdict=Verdict.NOT_CHECKED,
            demand=pull,
            unit="N",
            source=pushed.source,
            reason="guard-value-not-entered",
            remedy="wider-lever",
            facts=facts,
            confirmed=not pushed.doubts,
        )
    return compare(
        subject=_SUBJECT,
        rule="guard-fixing-bears",
        demand=pull,
        capacity=job.makers.guard_post,
        unit="N",
        source=job.makers.where,
        remedy="wider-lever",
        facts=facts,
        confirmed=not pushed.doubts,
    )
