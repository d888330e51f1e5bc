"""Which readings to doubt, what would be expected in their place, and which classic slip explains them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, compare
from evenfoot.job import kinds
from evenfoot.site.model import DoubtfulReading
from evenfoot.site.plane import Prior
from evenfoot.site.readings import NINETEEN_IN_TWENTY, Reading
from evenfoot.site.suspects import Suspect, against_neighbours, against_plane, stands_alone

RIVAL = 0.9
"""A second reading that stands off at least this share as far as the worst makes it undecided which is wrong [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubts:
    """The doubtful readings and the findings about agreement."""

    readings: tuple[DoubtfulReading, ...]
    checks: tuple[Check, ...]


def find_doubts(readings: Sequence[Reading], surface: kinds.Surface, prior: Prior) -> Doubts:
    """Return the readings that stand off further than chance allows, worst first, at most one in four.

    Each is judged without those already named. Where two stand off about equally far none is named, only said; nor is a
    reading that misses a plane together with its neighbours: there the plane is wrong.
    """
    method = against_plane if surface is kinds.Surface.PLANE else against_neighbours
    rest = list(readings)
    named: list[tuple[Reading, Suspect]] = []
    last: Check | None = None
    while last is None and len(named) < max(1, len(readings) // 4):
        suspects = sorted(method(rest, prior), key=lambda s: s.stand_off, reverse=True)
        if not suspects:
            last = _cannot_judge(len(rest))
        elif not suspects[0].is_doubtful:
            last = _agree(rest[suspects[0].index], suspects[0], prior)
        elif surface is kinds.Surface.PLANE and not stands_alone(rest, suspects[0], prior):
            last = _plane_misses(rest[suspects[0].index], suspects[0], prior)
        elif len(suspects) > 1 and suspects[1].stand_off > RIVAL * suspects[0].stand_off:
            last = _undecided(rest, suspects, prior)
        else:
            named.append((rest.pop(suspects[0].index), suspects[0]))
    found = tuple(_doubtful(reading, suspect) for reading, suspect in named)
    checks = [_check(one, suspect, prior) for one, (_, suspect) in zip(found, named, strict=True)]
    return Doubts(readings=found, checks=(*checks, *((last,) if last else ())))


def _doubtful(reading: Reading, suspect: Suspect) -> DoubtfulReading:
    return DoubtfulReading(
        name=reading.name,
        where=reading.where,
        found=reading.z,
        expected=reading.z - suspect.misfit,
        sigma=suspect.sigma,
        cause=cause_of(reading, misfit=suspect.misfit, sigma=suspect.sigma),
    )


def cause_of(reading: Reading, *, misfit: float, sigma: float) -> str:
    """Return the one classic slip that explains the misfit [mm], as a code; empty when none does or more than one.

    A slip explains it when undoing it brings the reading within 1.96 ``sigma`` [mm] of what is expected, and proves it
    only when that is at most a quarter of the slip itself. Slips of figures are looked for in whole millimetres.
    """
    band = NINETEEN_IN_TWENTY * sigma
    found = {
        cause
        for cause, meant in _slips(reading)
        if abs(misfit - reading.sign * (reading.raw - meant)) <= band <= abs(reading.raw - meant) / 4
    }
    return found.pop() if len(found) == 1 else ""


def _slips(reading: Reading) -> list[tuple[str, float]]:
    """Return each classic slip with the figure that was meant."""
    raw = reading.raw
    slips = [("sign", -raw)] if reading.sign == 1 else []
    if abs(raw - round(raw)) > 0.01:
        return slips
    slips += [(f"slip-{step}", raw + way * step) for step in (100, 1000) for way in (1, -1)]
    figures = str(abs(round(raw)))
    for k in range(len(figures) - 1):
        swapped = figures[:k] + figures[k + 1] + figures[k] + figures[k + 2 :]
        if swapped != figures:
            slips.append(("swapped-digits", float(swapped) * (1 if raw >= 0 else -1)))
    return slips


def _check(one: DoubtfulReading, suspect: Suspect, prior: Prior) -> Check:
    return compare(
        subject="site",
        rule="doubtful-reading",
        demand=abs(suspect.misfit),
        capacity=suspect.allowed,
        unit="mm",
        source="",
        place=one.where,
        remedy=one.cause or "read-again",
        facts=(("name", one.name), ("found_mm", one.found), ("expected_mm", one.expected)),
        confirmed=prior.is_confirmed,
    )


def _agree(reading: Reading, worst: Suspect, prior: Prior) -> Check:
    return compare(
        subject="site",
        rule="readings-agree",
        demand=abs(worst.misfit),
        capacity=worst.allowed,
        unit="mm",
        source="",
        place=reading.where,
        facts=(("name", reading.name),),
        confirmed=prior.is_confirmed,
    )


def _plane_misses(reading: Reading, worst: Suspect, prior: Prior) -> Check:
    return compare(
        subject="site",
        rule="plane-misses",
        demand=abs(worst.misfit),
        capacity=worst.allowed,
        unit="mm",
        source="",
        place=reading.where,
        remedy="use-triangles",
        facts=(("name", reading.name),),
        confirmed=prior.is_confirmed,
    )


def _undecided(rest: Sequence[Reading], suspects: Sequence[Suspect], prior: Prior) -> Check:
    rivals = [s for s in suspects if s.stand_off > RIVAL * suspects[0].stand_off]
    names = ", ".join(sorted(rest[s.index].name for s in rivals))
    return compare(
        subject="site",
        rule="readings-disagree",
        demand=abs(suspects[0].misfit),
        capacity=suspects[0].allowed,
        unit="mm",
        source="",
        remedy="read-these-again",
        facts=(("names", names), ("count", len(rivals))),
        confirmed=prior.is_confirmed,
    )


def _cannot_judge(count: int) -> Check:
    return Check(
        subject="site",
        rule="readings-not-compared",
        verdict=Verdict.NOT_CHECKED,
        remedy="read-more",
        facts=(("count", count),),
    )
