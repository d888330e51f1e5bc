"""What is coated, when, and how much finish it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from evenfoot.estimate.faces import Faces
from evenfoot.estimate.model import CoatLine
from evenfoot.job import Job, kinds
from evenfoot.tables import coating

HIDDEN, SEEN, END_GRAIN = "hidden", "seen", "end-grain"
BEFORE, AFTER = "before-assembly", "after-laying"
_MM2_PER_M2 = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Coats:
    """How often each group of faces is coated before assembly, and the seen ones again after laying."""

    before: int
    end_grain: int
    after: int


def plan_coats(job: Job) -> Coats:
    """Return the coats of the job (note 072): all but the last before assembly, the last on the laid floor.

    Without ``hidden_first`` only cut ends are coated before assembly; with a single coat that one comes before.
    """
    finish = job.finish
    if finish.kind is kinds.Coating.NONE or finish.coats < 1:
        return Coats(before=0, end_grain=0, after=0)
    before = max(1, finish.coats - 1) if finish.hidden_first else 0
    return Coats(before=before, end_grain=max(1, before) + coating.end_grain_extra(), after=finish.coats - before)


def coat_lines(job: Job, faces: Faces) -> tuple[CoatLine, ...]:
    """Return the areas [m2] and litres of every coat, in the order of the work."""
    return tuple(_lines(str(job.finish.kind), plan_coats(job), faces))


def _lines(finish: str, coats: Coats, faces: Faces) -> Iterator[CoatLine]:
    planed, sawn = coating.WoodSurface.PLANED, coating.WoodSurface.SAWN
    for coat in range(1, coats.before + 1):
        yield _line(finish, HIDDEN, coat, ((faces.hidden, planed), (faces.joint, sawn)), BEFORE)
        yield _line(finish, SEEN, coat, ((faces.seen, planed),), BEFORE)
    for coat in range(1, coats.end_grain + 1):
        yield _line(finish, END_GRAIN, coat, ((faces.end, sawn),), BEFORE)
    for coat in range(coats.before + 1, coats.before + coats.after + 1):
        yield _line(finish, SEEN, coat, ((faces.seen, planed),), AFTER)


def _line(
    finish: str, face: str, coat: int, areas: tuple[tuple[float, coating.WoodSurface], ...], when: str
) -> CoatLine:
    spreads = [(area / _MM2_PER_M2, coating.spread(finish, surface, coat=coat)) for area, surface in areas]
    return CoatLine(
        face=face,
        coat=coat,
        area=math.fsum(area for area, _ in spreads),
        litres_low=math.fsum(area * spread.low for area, spread in spreads),
        litres_high=math.fsum(area * spread.high for area, spread in spreads),
        when=when,
    )
