"""How the details of a floor rank by decay exposure against what their wood resists."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Frame
from evenfoot.job import Job, kinds
from evenfoot.layout import Layout
from evenfoot.rules.decay import ExposureFactors, design_index, exposure_index, site_exposure
from evenfoot.tables import species, wood
from evenfoot.timber.details import Found, find_details, is_sealed
from evenfoot.timber.model import Exposure

_NAMED = 3
"""How many of the worst details are named."""
_UNKNOWN = "D"
"""Resistance class that stands for a wood without one: that of the reference wood, spruce."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """All details, worst first, and the worst as findings."""

    exposures: tuple[Exposure, ...]
    checks: tuple[Check, ...]


def rank_details(job: Job, layout: Layout, frame: Frame) -> Ranking:
    """Return the details ranked by exposure over resistance (note 061); a ranking, never a length of life."""
    found = find_details(job, layout, frame)
    rated = sorted((_rate(job, one) for one in found), key=lambda e: (-e.ratio, e.detail, e.species))
    checks = [_named(rank, e) for rank, e in enumerate(rated[:_NAMED], start=1)]
    checks += [_unknown(name) for name in dict.fromkeys(e.species for e in rated) if not _resistance_class(name)]
    if found and all(one.detail == "post-foot" for one in found):
        checks.append(
            Check(
                subject="floor",
                rule="decay-heights",
                verdict=Verdict.NOT_CHECKED,
                source=job.site.where,
                reason="no-ground-reading",
            )
        )
    return Ranking(exposures=tuple(rated), checks=tuple(checks))


def _rate(job: Job, one: Found) -> Exposure:
    table = wood.decay_table()
    detail = table.detail(one.detail)
    k_s4 = detail.trap.value
    if detail.wetted is wood.Wetted.END and is_sealed(job):
        k_s4 *= table.seal
    if detail.wetted is wood.Wetted.FACE and job.finish.kind is kinds.Coating.PENETRATING and job.finish.coats > 0:
        k_s4 *= table.finish
    site, height = table.site(job.standard), table.height(one.height)
    resistance = table.resistance(_resistance_class(one.species) or _UNKNOWN)
    characteristic = exposure_index(
        site=site_exposure(site.value),
        factors=ExposureFactors(k_s1=table.k_s1, k_s2=table.k_s2, k_s3=height.value, k_s4=k_s4, c_a=table.c_a),
    )
    index = design_index(index=characteristic, gamma_d=table.gamma(detail.part))
    return Exposure(
        detail=one.detail,
        species=one.species,
        index=index,
        resistance=resistance.value,
        ratio=index / resistance.value,
        remedy=detail.remedy_sealed if is_sealed(job) else detail.remedy,
        marks=one.marks,
        is_confirmed=all(
            (
                detail.is_confirmed,
                detail.trap.is_confirmed,
                site.is_confirmed,
                height.is_confirmed,
                resistance.is_confirmed,
                species(one.species).is_resistance_confirmed,
            )
        ),
    )


def _resistance_class(name: str) -> str:
    return species(name).resistance_class


def _named(rank: int, one: Exposure) -> Check:
    """Return one of the worst details as a finding: a ratio over 1 is not a failure, for it is only a ranking."""
    reach = wood.decay_table().reach
    return Check(
        subject="floor",
        rule="decay-ranking",
        verdict=Verdict.OK if one.ratio <= 1.0 else Verdict.NOT_CHECKED,
        demand=one.index,
        capacity=one.resistance,
        ratio=one.ratio,
        source="dur_expo dur_example own",
        place=", ".join(one.marks),
        reason="ranking-only",
        remedy=one.remedy if one.ratio > 1.0 else "",
        facts=(
            ("rank", rank),
            ("detail_code", f"detail.{one.detail}"),
            ("species_code", f"species.{one.species}"),
            ("count", len(one.marks)),
            ("gap_mm", reach.draining_gap),
            ("end_mm", reach.open_end),
            ("wall_mm", reach.open_wall),
            ("shoe_mm", reach.shoe),
        ),
        confirmed=one.is_confirmed,
    )


def _unknown(name: str) -> Check:
    return Check(
        subject="floor",
        rule="decay-resistance",
        verdict=Verdict.NOT_CHECKED,
        source="own",
        reason="no-resistance-class",
        facts=(("species_code", f"species.{name}"),),
        confirmed=False,
    )
