"""Whether the ground bears what stands on it: the pressure under the most loaded footing (note 096)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, compare
from evenfoot.frame import Mark
from evenfoot.job import Job, kinds
from evenfoot.rules import ground
from evenfoot.strength.stability.carried import Carried
from evenfoot.strength.standards import Practice
from evenfoot.tables import safety

_KN_PER_M2 = 1000.0
"""kN/m2 in 1 N/mm2."""
_UNSETTLED = frozenset({kinds.Ground.SLAB, kinds.Ground.PAVING})
"""Grounds that spread the load over more than the footing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bears:
    """What the ground may bear [N/mm2], and by what."""

    value: float
    source: str
    doubts: tuple[str, ...]


def check_ground(practice: Practice, job: Job, carried: Carried, heights: Mapping[Mark, float]) -> Check:
    """Return the pressure under the most loaded footing against what the ground may bear for a lasting load.

    Where that is not known the pressure is shown, ``not_checked``.
    """
    mark, load = _most_loaded(practice, job, carried, heights)
    footing = job.frame.footing
    concrete = safety.figure("concrete.weight").value * 1e-6
    area = footing.size**2
    asked = ground.pressure(N=load, W=concrete * area * footing.height, A=area)
    bears = _bears(job)
    facts = (
        ("load_n", float(round(load))),
        ("size_mm", footing.size),
        ("case_code", "case.plain"),
    )
    if isinstance(bears, str):
        return Check(
            subject="footings",
            rule="footing-pressure",
            verdict=Verdict.NOT_CHECKED,
            demand=asked * _KN_PER_M2,
            unit="kN/m2",
            case="plain",
            place=mark,
            reason=bears,
            remedy="say-ground",
            facts=facts,
            confirmed=not carried.doubts,
        )
    wanted = ground.square_side(
        A=ground.base_area(N=load, q=bears.value, gamma=concrete, t=_thin(footing.height, bears))
    )
    doubts = (*carried.doubts, *bears.doubts)
    return compare(
        subject="footings",
        rule="footing-on-ground",
        demand=asked * _KN_PER_M2,
        capacity=bears.value * _KN_PER_M2,
        unit="kN/m2",
        source=bears.source,
        case="plain",
        place=mark,
        remedy="larger-footing",
        facts=(*facts, ("wanted_mm", wanted), ("doubts", ", ".join(dict.fromkeys(doubts)))),
        confirmed=not doubts,
    )


def _most_loaded(practice: Practice, job: Job, carried: Carried, heights: Mapping[Mark, float]) -> tuple[Mark, float]:
    """Return the post that presses most on its footing, and how much with its own weight [N]."""
    post = job.frame.post
    line = post.width * post.depth * practice.unit_weight.value
    on_foot = {
        mark: load + line * max(0.0, heights[mark]) for mark, load in zip(carried.posts, carried.most, strict=True)
    }
    return max(on_foot.items(), key=lambda item: item[1])


def _thin(height: float, bears: _Bears) -> float:
    """Return the footing's height [mm], or none of it where its weight alone is over half of what the ground bears."""
    weight = safety.figure("concrete.weight").value * 1e-6 * height
    return height if weight <= bears.value / 2.0 else 0.0


def give_of_ground(job: Job) -> tuple[float, tuple[str, ...]]:
    """Return how far a footing goes down under 1 N where the job says what the ground bears [mm], and what is in doubt.

    Where it does not, the ground is taken not to give (note 094).
    """
    bears = _bears(job)
    if isinstance(bears, str) or job.site.soil is kinds.Soil.ROCK or job.site.ground is kinds.Ground.ROCK:
        return 0.0, ()
    bed = ground.bed_modulus(q=bears.value)
    return 1.0 / (bed * job.frame.footing.size**2), (*bears.doubts, "ground bed")


def _bears(job: Job) -> _Bears | str:
    """Return what the ground bears, the typed value first; or the reason why that is not known."""
    site = job.site
    if site.bearing is not None:
        return _Bears(value=site.bearing, source=f"{site.where}.bearing", doubts=())
    soil = site.soil
    if soil is None and site.ground is kinds.Ground.ROCK:
        soil = kinds.Soil.ROCK
    if soil is None:
        return "slab-spreads" if site.ground in _UNSETTLED else "ground-value-not-entered"
    row = safety.ground_bearing(standard=job.standard, soil=soil)
    if row is None:
        return "ground-not-in-standard"
    return _Bears(value=row.value, source=row.source, doubts=() if row.is_confirmed else (row.name,))
