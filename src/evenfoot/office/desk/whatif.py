"""What if: the same job with other boards, spacings, style or wood, reckoned beside it and told in one table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.office.actions import speaker_for
from evenfoot.office.desk.compare import Comparison, VariantRow, compare, variants
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.typing import Typed, change_job
from evenfoot.words import Language

MOST = 4
"""Variants beside the job as it is."""
KEYS = (
    "floor.board.species",
    "floor.board.width",
    "floor.board.thickness",
    "floor.board.gap",
    "frame.style",
    "frame.beam.depth",
    "frame.beam.spacing_max",
    "frame.joist.depth",
    "frame.joist.spacing_max",
    "frame.post.spacing_max",
)
"""What is most often weighed against each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """The figures of the job as it is and of each variant; ``faults`` of a variant that does not plan, else empty.

    ``columns`` are the variants (from 1) that the rows tell of, after the job itself.
    """

    rows: tuple[VariantRow, ...]
    columns: tuple[int, ...]
    faults: tuple[tuple[Fault, ...], ...]


def what_if(desk: Desk, job: int, texts: Texts, wishes: Sequence[Mapping[str, Typed]], language: Language) -> WhatIf:
    """Return the job and its variants side by side; each wish is a set of fields as typed, laid over the job.

    Raises: OutOfRangeError ``too-many``; whatever keeps the job itself from being planned.
    """
    if len(wishes) > MOST:
        raise OutOfRangeError(Fault(where="variants", code="too-many", found=str(len(wishes)), allowed=str(MOST)))
    plans, columns = [desk.plan(job, texts)], [0]
    faults: list[tuple[Fault, ...]] = []
    for number, wish in enumerate(wishes, start=1):
        try:
            plans.append(desk.plan(job, replace(texts, job=change_job(texts.job, wish))))
        except EvenfootError as error:
            faults.append(error.faults)
        else:
            columns.append(number)
            faults.append(())
    rows = variants(plans, speaker_for(plans[0], language))
    return WhatIf(rows=rows, columns=tuple(columns[1:]), faults=tuple(faults))


def compare_states(desk: Desk, job: int, states: tuple[Texts, Texts], language: Language) -> Comparison:
    """Return what differs between two states of a job, in words and on one drawing; raises what planning raises."""
    before, after = (desk.plan(job, texts) for texts in states)
    return compare(before, after, speaker_for(after, language), texts=(states[0].job, states[1].job))
