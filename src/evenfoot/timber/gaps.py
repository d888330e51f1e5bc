"""How the gap between boards opens and closes over the year, and which gap to set on the day."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.errors import at
from evenfoot.job import Job
from evenfoot.layout import Layout
from evenfoot.rules.movement import MovingBoard, gap_at, gap_to_allow, gap_to_set
from evenfoot.tables import species, wood
from evenfoot.timber.model import SeasonGap

_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The gap over the year and what was found about it."""

    gap: SeasonGap
    checks: tuple[Check, ...]


def follow_gap(job: Job, layout: Layout) -> Season:
    """Return the gap over the year beside a board of full width, and whether it keeps its limits (note 060)."""
    board = job.floor.board
    with at(board.where):
        one = species(board.species)
    flat = MovingBoard(width=board.width, coefficient=one.c_tangential, fsp=one.fsp)
    quarter = MovingBoard(width=board.width, coefficient=one.c_radial, fsp=one.fsp)
    climate = job.climate
    wet = sorted(gap_at(b, gap=layout.gap, fixing=climate.fixing, moisture=climate.wet) for b in (flat, quarter))
    dry = sorted(gap_at(b, gap=layout.gap, fixing=climate.fixing, moisture=climate.dry) for b in (flat, quarter))
    least = gap_to_set(flat, fixing=climate.fixing, wet=climate.wet, gap_min=board.gap_min)
    most = gap_to_allow(flat, fixing=climate.fixing, dry=climate.dry, gap_max=board.gap_max)
    gap = SeasonGap(
        on_the_day=layout.gap,
        wet_low=wet[0],
        wet_high=wet[1],
        dry_low=dry[0],
        dry_high=dry[1],
        advised=_up(least),
    )
    return Season(gap=gap, checks=_judge(job, one, gap, (least, most)))


def _judge(job: Job, one: wood.Species, gap: SeasonGap, window: tuple[float, float]) -> tuple[Check, ...]:
    """Return the wet and the dry check; ``window`` is the least and greatest gap that keep both limits [mm]."""
    board, climate = job.floor.board, job.climate
    is_green = climate.fixing >= one.fsp
    remedy, way_out = _way_out(job, one, window, gap.on_the_day)
    facts: tuple[Fact, ...] = (
        ("day_mm", gap.on_the_day),
        ("wet_low_mm", gap.wet_low),
        ("wet_high_mm", gap.wet_high),
        ("dry_low_mm", gap.dry_low),
        ("dry_high_mm", gap.dry_high),
        ("min_mm", board.gap_min),
        ("max_mm", board.gap_max),
        ("fixing", climate.fixing),
        ("wet", climate.wet),
        ("dry", climate.dry),
        ("fsp", one.fsp),
        ("species_code", f"species.{one.id}"),
        *way_out,
    )
    asked = (
        ("gap-wet", window[0], gap.on_the_day),
        ("gap-dry-green" if is_green else "gap-dry", gap.dry_high, board.gap_max),
    )
    return tuple(
        Check(
            subject="boards",
            rule=rule,
            verdict=Verdict.OK if demand <= capacity + _NEAR else Verdict.FAILS,
            demand=demand,
            capacity=capacity,
            ratio=demand / capacity if capacity > 0 else None,
            unit="mm",
            source=" ".join(one.sources),
            place=board.where,
            remedy="" if demand <= capacity + _NEAR else remedy,
            facts=facts,
            confirmed=one.is_c_confirmed and one.is_fsp_confirmed,
        )
        for rule, demand, capacity in asked
    )


def _way_out(job: Job, one: wood.Species, window: tuple[float, float], day: float) -> tuple[str, tuple[Fact, ...]]:
    """Return the remedy and its facts: the nearest gap that keeps both limits, or the widest board that has one."""
    least, most = window
    board, climate = job.floor.board, job.climate
    if least > most + _NEAR:
        moistures = [min(m, one.fsp) for m in (climate.fixing, climate.wet, climate.dry)]
        swing = max(moistures) - min(moistures)
        widest = math.floor((board.gap_max - board.gap_min) / (one.c_tangential * swing))
        return "gap-narrower-board", (("widest_mm", float(widest)),)
    low, high = _up(least), _down(most)
    if low > high:
        low = high = least
    return "gap-set", (("set_mm", min(max(day, low), high)),)


def _up(value: float) -> float:
    step = wood.spacer_step()
    return math.ceil(value / step - _NEAR) * step


def _down(value: float) -> float:
    step = wood.spacer_step()
    return math.floor(value / step + _NEAR) * step
