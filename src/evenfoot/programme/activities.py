"""What is to be done on this floor: the steps of the trade that it needs, with their hours, marks and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from evenfoot.estimate import Built, Estimate, Work
from evenfoot.frame import JointKind
from evenfoot.job import Job, kinds
from evenfoot.joints import CutKind
from evenfoot.programme.air import drying_time, is_coated
from evenfoot.tables import species, steps, wood

_OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Activity:
    """One step to schedule: its ``key``, its code ``step``, person-hours of work, then clock hours of ``wait``."""

    key: str
    step: str
    after: tuple[str, ...]
    hours: float
    wait: float = 0.0
    marks: tuple[str, ...] = ()
    how: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One part of a step that is done in parts: a coat, or a group of timbers. ``weight`` shares the hours."""

    weight: float
    wait: float = 0.0
    marks: tuple[str, ...] = ()
    how: str = ""


def list_activities(job: Job, built: Built, estimate: Estimate) -> tuple[Activity, ...]:
    """Return the activities in the order of the trade; each line of the estimate's work is in exactly one step."""
    present = _present(job, built, estimate)
    hours = share_work(estimate.work, present)
    reduced = _without_absent(present)
    said = _cautions(job, built)
    out: list[Activity] = []
    last: dict[str, str] = {}
    for step in present:
        plain = Activity(
            key=step.id,
            step=step.id,
            after=tuple(last[s] for s in reduced[step.id]),
            hours=hours.get(step.id, 0.0),
            marks=_marks(step.id, built),
            cautions=tuple(c for c in step.cautions if c in said),
        )
        parts = _parts(step.id, job, built, estimate)
        out += _in_parts(plain, parts) if parts else [plain]
        last[step.id] = out[-1].key
    return tuple(out)


def share_work(work: Iterable[Work], present: Iterable[steps.TradeStep]) -> dict[str, float]:
    """Return the typical person-hours of each step: a task goes to the first step that names it, else to other."""
    home = {task: step.id for step in reversed(tuple(present)) for task in step.tasks}
    hours: dict[str, float] = {}
    for line in work:
        step = home.get(line.task, _OTHER)
        hours[step] = hours.get(step, 0.0) + line.typical
    return hours


def _present(job: Job, built: Built, estimate: Estimate) -> tuple[steps.TradeStep, ...]:
    has = {
        "": True,
        "joints": any(c.kind in (CutKind.LAP, CutKind.HOUSING) for c in built.joinery.cuts),
        "hangers": any(j.kind is JointKind.HANGER for j in built.frame.joints),
        "hidden-coat": is_coated(job) and bool(_coats(estimate, "before-assembly")),
        "last-coat": is_coated(job) and bool(_coats(estimate, "after-laying")),
        "other": True,
    }
    present = tuple(s for s in steps.trade_steps() if has[s.needs])
    if share_work(estimate.work, present).get(_OTHER, 0.0) > 0.0:
        return present
    return tuple(s for s in present if s.id != _OTHER)


def _without_absent(present: tuple[steps.TradeStep, ...]) -> dict[str, tuple[str, ...]]:
    """Return what each present step stands after, an absent predecessor replaced by its own predecessors."""
    here = {s.id for s in present}
    every = {s.id: s.after for s in steps.trade_steps()}

    def kept(name: str) -> tuple[str, ...]:
        return (name,) if name in here else tuple(k for before in every[name] for k in kept(before))

    return {s.id: tuple(dict.fromkeys(k for before in s.after for k in kept(before))) for s in present}


def _parts(step: str, job: Job, built: Built, estimate: Estimate) -> tuple[_Part, ...]:
    if step == "frame":
        return tuple(_Part(weight=float(len(s.marks)), marks=s.marks, how=s.how) for s in built.joinery.steps)
    when = {"coat-hidden": "before-assembly", "last-coat": "after-laying"}.get(step)
    if when is None:
        return ()
    coats, wait = _coats(estimate, when), drying_time(job)
    is_last = when == "after-laying"
    return tuple(
        _Part(weight=area, wait=wait.final if is_last and number == len(coats) else wait.recoat)
        for number, area in enumerate(coats, start=1)
    )


def _coats(estimate: Estimate, when: str) -> tuple[float, ...]:
    """Return the area of each coat put on at one time [m2], first coat first."""
    areas: dict[int, float] = {}
    for line in estimate.coats:
        if line.when == when:
            areas[line.coat] = areas.get(line.coat, 0.0) + line.area
    return tuple(areas[coat] for coat in sorted(areas))


def _in_parts(whole: Activity, parts: tuple[_Part, ...]) -> list[Activity]:
    """Return an activity in parts one after another, its hours shared by weight (evenly where there is none)."""
    total = sum(p.weight for p in parts)
    out: list[Activity] = []
    for number, part in enumerate(parts, start=1):
        share = part.weight / total if total > 0.0 else 1.0 / len(parts)
        out.append(
            replace(
                whole,
                key=f"{whole.key}.{number}",
                after=whole.after if number == 1 else (out[-1].key,),
                hours=whole.hours * share,
                wait=part.wait,
                marks=part.marks,
                how=part.how,
            )
        )
    return out


def _marks(step: str, built: Built) -> tuple[str, ...]:
    kept: dict[str, Callable[[], tuple[str, ...]]] = {
        "cut-joints": lambda: tuple(dict.fromkeys(c.member for c in built.joinery.cuts if c.joint)),
        "frame": lambda: tuple(m.mark for m in built.frame.members),
        "cut-posts": lambda: tuple(p.mark for p in built.posts.cuts),
        "set-posts": lambda: tuple(p.mark for p in built.posts.cuts),
        "boards": lambda: tuple(p.mark for p in built.layout.pieces),
    }
    return kept[step]() if step in kept else ()


def _cautions(job: Job, built: Built) -> frozenset[str]:
    """Return the cautions that this floor calls for."""
    said = {"saw", "dust", "planer", "feet", "loose-boards", "kneeling", "coat-air"}
    names = {job.floor.board.species, *(m.species for m in built.frame.members), *(p.species for p in built.posts.cuts)}
    if any(species(name).is_treated for name in names):
        said.add("treated")
    if is_coated(job):
        said.add("rags")
    if job.site.ground in (kinds.Ground.SOIL, kinds.Ground.GRAVEL):
        said.add("utilities")
    if any(m.people > 1 for m in built.timber.masses):
        said.add("lift")
    if greatest_fall(job, built) > wood.least_guarded_fall():
        said.add("guard")
    return frozenset(said)


def greatest_fall(job: Job, built: Built) -> float:
    """Return how far the finished floor stands over the lowest ground at a post [mm]; 0 without posts."""
    top, fall, thickness = built.frame.top_at_wall, built.frame.fall, job.floor.board.thickness
    return max((top - fall * p.y + thickness - p.ground for p in built.posts.cuts), default=0.0)
