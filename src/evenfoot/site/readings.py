"""Which ground levels were read, in order, with the closing error shared out and later readings in place of earlier."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

from evenfoot.checks import Check, Verdict, compare
from evenfoot.errors import Fault, JobFileError
from evenfoot.job import Log, SiteSpec
from evenfoot.site.ground import SAME_PLACE
from evenfoot.site.model import ClosingError

NINETEEN_IN_TWENTY = 1.96
"""Standard deviations on either side that hold 19 in 20 of a normal scatter [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One level z at (x, y) [mm]: ``raw`` is the figure as read, and z rises with ``sign`` times it.

    ``sigma`` is its standard deviation [mm]; ``is_logged`` says that it comes from the log.
    """

    name: str
    x: float
    y: float
    z: float
    sigma: float
    raw: float
    sign: int
    where: str
    is_logged: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """The readings that stand, the closing errors, and what was found about them."""

    readings: tuple[Reading, ...]
    closings: tuple[ClosingError, ...]
    checks: tuple[Check, ...]


def take_readings(site: SiteSpec, log: Log) -> Survey:
    """Return every reading that stands: stations first, then levels, then the log; the later of one place supersedes.

    Raises: JobFileError (``accuracy-not-positive``, ``no-level-readings``, ``level-without-place``).
    """
    if not site.accuracy > 0:
        raise JobFileError(
            Fault(
                where=f"{site.where}.accuracy", code="accuracy-not-positive", found=f"{site.accuracy:g}", allowed="> 0"
            )
        )
    closings = _closings(site)
    standing: list[Reading] = []
    conflicts: list[Check] = []
    for reading in chain(_from_job(site, closings), _from_log(site, log, standing)):
        conflicts += _supersede(standing, reading, accuracy=site.accuracy)
    if not standing:
        raise JobFileError(Fault(where=site.where, code="no-level-readings", found="0", allowed=">= 1"))
    checks = (*_closing_checks(site, closings), *conflicts)
    return Survey(readings=tuple(standing), closings=closings, checks=checks)


def _closings(site: SiteSpec) -> tuple[ClosingError, ...]:
    """Return what each standing missed by; of two readings apart, so allowed is root two times the accuracy."""
    allowed = math.sqrt(2) * site.accuracy
    errors = [(s.where, s.closing - s.backsight) for s in site.stations if s.closing is not None]
    return tuple(
        ClosingError(where=where, error=error, allowed=allowed, is_shared_out=abs(error) <= allowed)
        for where, error in errors
    )


def _from_job(site: SiteSpec, closings: tuple[ClosingError, ...]) -> Iterator[Reading]:
    sigma = site.accuracy / NINETEEN_IN_TWENTY
    by_station = {c.where: c for c in closings}
    for number, station in enumerate(site.stations):
        yield from _from_station(site, number, by_station.get(station.where))
    for level in site.levels:
        yield Reading(
            name=level.name, x=level.x, y=level.y, z=level.z, sigma=sigma, raw=level.z, sign=1, where=level.where
        )


def _from_station(site: SiteSpec, number: int, closing: ClosingError | None) -> Iterator[Reading]:
    """Yield the levels of one standing: on + backsight - rod.

    A closing error e that is allowed crept in evenly: the k-th of n readings has k/(n + 1) of it. One that is too big
    may have come at any moment: the readings stay as read, and e^2/3 is added to their variance, the mean square of a
    shift that is anywhere between nothing and e (rectangular distribution, JCGM 100:2008, 4.3.7).
    """
    station, sigma = site.stations[number], site.accuracy / NINETEEN_IN_TWENTY
    error = closing.error if closing else 0.0
    is_shared = closing.is_shared_out if closing else False
    steps = len(station.readings) + 1
    for k, rod in enumerate(station.readings, start=1):
        drift = error * k / steps if is_shared else 0.0
        yield Reading(
            name=rod.name,
            x=rod.x,
            y=rod.y,
            z=station.on + station.backsight - rod.rod + drift,
            sigma=sigma if is_shared else math.hypot(sigma, error / math.sqrt(3)),
            raw=rod.rod,
            sign=-1,
            where=rod.where,
        )


def _from_log(site: SiteSpec, log: Log, standing: list[Reading]) -> Iterator[Reading]:
    """Yield the levels of the log; one without a place stands where the reading of its name in ``standing`` stands."""
    for line in log.standing:
        if line.what != "level":
            continue
        x, y = line.x, line.y
        if x is None or y is None:
            known = next((r for r in reversed(standing) if r.name == line.mark and line.mark), None)
            if known is None:
                names = ", ".join(r.name for r in standing if r.name)
                raise JobFileError(Fault(where=line.where, code="level-without-place", found=line.mark, allowed=names))
            x, y = known.x, known.y
        accuracy = site.accuracy if line.accuracy is None else line.accuracy
        if not accuracy > 0:
            raise JobFileError(
                Fault(
                    where=f"{line.where}.accuracy", code="accuracy-not-positive", found=f"{accuracy:g}", allowed="> 0"
                )
            )
        yield Reading(
            name=line.mark,
            x=x,
            y=y,
            z=line.value,
            sigma=accuracy / NINETEEN_IN_TWENTY,
            raw=line.value,
            sign=1,
            where=line.where,
            is_logged=True,
        )


def _supersede(standing: list[Reading], new: Reading, *, accuracy: float) -> list[Check]:
    """Put ``new`` in the place of every earlier reading there; two of the job file that disagree are a finding."""
    old = [r for r in standing if math.hypot(r.x - new.x, r.y - new.y) <= SAME_PLACE]
    standing[:] = [r for r in standing if r not in old]
    name = new.name or (old[-1].name if old else new.where)
    standing.append(replace(new, name=name))
    return [
        compare(
            subject="site",
            rule="same-place",
            demand=abs(new.z - r.z),
            capacity=math.sqrt(2) * accuracy,
            unit="mm",
            source="",
            place=new.where,
            remedy="read-again",
            facts=(("name", name), ("earlier", r.name), ("found_mm", new.z), ("earlier_mm", r.z)),
        )
        for r in old
        if not new.is_logged
    ]


def _closing_checks(site: SiteSpec, closings: tuple[ClosingError, ...]) -> Iterator[Check]:
    by_station = {c.where: c for c in closings}
    for number, station in enumerate(site.stations, start=1):
        facts = (("station", number),)
        closing = by_station.get(station.where)
        if closing is None:
            yield Check(
                subject="site",
                rule="closing-not-read",
                verdict=Verdict.NOT_CHECKED,
                place=station.where,
                remedy="close-the-survey",
                facts=facts,
            )
            continue
        yield compare(
            subject="site",
            rule="closing-error",
            demand=abs(closing.error),
            capacity=closing.allowed,
            unit="mm",
            source="",
            place=station.where,
            remedy="survey-again",
            facts=facts,
        )
