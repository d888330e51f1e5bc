"""What keeps a job from being planned, each fault with the way to the field where it is put right."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.errors import Fault
from evenfoot.office import desk
from evenfoot.words import Speaker

_WHERE_IT_SHOWS = "frame"
"""The station for a fault that belongs to no field: what it speaks of is drawn there."""


def faults_shown(job: int, faults: Sequence[Fault], speaker: Speaker) -> list[tuple[str, str]]:
    """Return each fault once, as a sentence and the address of its field."""
    return [(speaker.fault(fault), _way_to(job, fault)) for fault in dict.fromkeys(faults)]


def _way_to(job: int, fault: Fault) -> str:
    if fault.where.startswith("shop."):
        return f"/jobs/{job}/texts#shop"
    station, field = desk.home_of(fault.where)
    if not station and fault.line is not None:
        return f"/jobs/{job}/texts"
    return f"/jobs/{job}/at/{station or _WHERE_IT_SHOWS}{f'#{field}' if field else ''}"
