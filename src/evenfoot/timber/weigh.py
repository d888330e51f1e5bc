"""What every board and timber weighs on the day, and how many people lift it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.checks import Check, compare
from evenfoot.errors import at
from evenfoot.frame import Frame
from evenfoot.geom import signed_area
from evenfoot.job import Job
from evenfoot.layout import Layout
from evenfoot.rules.wood import density_at, fresh_treated_density, lift_limit, mass, oven_dry_gravity
from evenfoot.tables import species, wood
from evenfoot.timber.model import TimberMass

_Kind = wood.Species


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """All masses and what was found about lifting them."""

    masses: tuple[TimberMass, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stick:
    """One piece to lift: volume [mm3] and length [mm]."""

    mark: str
    wood: _Kind
    volume: float
    length: float


def weigh(job: Job, layout: Layout, frame: Frame) -> Weights:
    """Return the mass of every board and frame timber [kg], and whether the crew can lift the heaviest."""
    moisture = job.climate.fixing
    sticks = _sticks(job, layout, frame)
    densities = {s.wood.id: _density(s.wood, moisture) for s in sticks}
    masses = tuple(
        TimberMass(mark=s.mark, mass=kg, people=people_for(mass=kg, length=s.length))
        for s, kg in ((s, mass(volume=s.volume, density=densities[s.wood.id])) for s in sticks)
    )
    checks: list[Check] = []
    if sticks:
        heaviest, kg = max(zip(sticks, (m.mass for m in masses), strict=True), key=lambda pair: pair[1])
        checks.append(_lift("lift", job, heaviest, kg))
    treated = [s for s in sticks if s.wood.is_treated]
    if treated and moisture < treated[0].wood.fsp:
        heaviest = max(treated, key=lambda s: s.volume)
        fresh = mass(volume=heaviest.volume, density=_density(heaviest.wood, heaviest.wood.fsp))
        checks.append(_lift("lift-fresh-treated", job, heaviest, fresh))
    return Weights(masses=masses, checks=tuple(checks))


def people_for(*, mass: float, length: float) -> int:
    """Return how many people lift a piece: by its mass [kg], and two for a long one [mm]."""
    known = wood.handling()
    limit = lift_limit(share=known.share, body_mass=known.body_mass)
    by_mass = max(1, math.ceil(mass / limit - 1e-9))
    return max(by_mass, 2) if length > known.long_piece else by_mass


def _sticks(job: Job, layout: Layout, frame: Frame) -> tuple[_Stick, ...]:
    board = job.floor.board
    with at(board.where):
        board_wood = species(board.species)
    boards = (
        _Stick(
            mark=piece.mark,
            wood=board_wood,
            volume=signed_area(piece.outline) * board.thickness,
            length=piece.length,
        )
        for piece in layout.pieces
    )
    timbers: list[_Stick] = []
    for member in frame.members:
        with at(member.where):
            member_wood = species(member.species)
        volume = member.width * member.depth * member.length
        timbers.append(_Stick(mark=member.mark, wood=member_wood, volume=volume, length=member.length))
    return (*boards, *timbers)


def _density(one: _Kind, moisture: float) -> float:
    gravity = oven_dry_gravity(one.density)
    if one.is_treated and moisture >= one.fsp:
        water = wood.handling().fresh_water
        return fresh_treated_density(gravity=gravity, moisture=moisture, fsp=one.fsp, water=water)
    return density_at(gravity=gravity, moisture=moisture, fsp=one.fsp)


def _lift(rule: str, job: Job, stick: _Stick, kg: float) -> Check:
    known = wood.handling()
    limit = lift_limit(share=known.share, body_mass=known.body_mass)
    return compare(
        subject=stick.mark,
        rule=rule,
        demand=kg,
        capacity=limit * job.crew.people,
        unit="kg",
        source="lift_jp",
        remedy="lift-help",
        facts=(
            ("length_mm", stick.length),
            ("people", math.ceil(kg / limit - 1e-9)),
            ("crew", job.crew.people),
            ("moisture", job.climate.fixing),
            ("species_code", f"species.{stick.wood.id}"),
        ),
        confirmed=stick.wood.is_density_confirmed and known.is_confirmed,
    )
