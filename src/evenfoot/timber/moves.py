"""How far each section moves between a wet and a dry spell."""

from __future__ import annotations

from evenfoot.errors import at
from evenfoot.frame import Frame
from evenfoot.job import Job
from evenfoot.rules.movement import MovingBoard, width_change
from evenfoot.tables import species
from evenfoot.timber.model import Movement


def follow_sections(job: Job, frame: Frame) -> tuple[Movement, ...]:
    """Return the movement of every section once [mm], boards first, each way at the tangential rate."""
    board = job.floor.board
    sections = {(board.species, board.width, board.thickness): board.where}
    for member in frame.members:
        sections.setdefault((member.species, member.width, member.depth), member.where)
    for post in frame.posts:
        sections.setdefault((post.species, post.width, post.depth), post.where)
    out: list[Movement] = []
    for (name, width, depth), where in sections.items():
        with at(where):
            one = species(name)
        across_width, across_depth = (
            width_change(
                MovingBoard(width=side, coefficient=one.c_tangential, fsp=one.fsp),
                start=job.climate.dry,
                finish=job.climate.wet,
            )
            for side in (width, depth)
        )
        out.append(
            Movement(species=name, width=width, depth=depth, across_width=across_width, across_depth=across_depth)
        )
    return tuple(out)
