"""The strength of a whole frame by the standard of its job, and what is said where nothing was reckoned."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.errors import NoSolutionError, OutOfRangeError
from evenfoot.frame import Frame, Mark
from evenfoot.job import Job
from evenfoot.solvers import grillage
from evenfoot.strength import beside, loads, supports
from evenfoot.strength.boards import SUBJECT, check_boards, lie
from evenfoot.strength.cuts import find_cuts
from evenfoot.strength.elastic.cases import Loaded, solve_cases
from evenfoot.strength.findings import Batch, keep_governing, word
from evenfoot.strength.model import PostLoad, Sag, Strength
from evenfoot.strength.sags import Sags
from evenfoot.strength.sections import Sections
from evenfoot.strength.standards import Aim, Part, Piece, Practice, Wood, practice_for, published
from evenfoot.strength.statics import (
    Skeleton,
    Spot,
    Statics,
    draw_skeleton,
    joist_places,
    list_pieces,
    set_nodes,
)

_FRAME_KINDS = ("bending", "shear", "notches", "bearing", "posts", "sag")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reckoned:
    checks: tuple[Check, ...]
    post_loads: tuple[PostLoad, ...] = ()
    sags: tuple[Sag, ...] = ()


def check_strength(job: Job, frame: Frame, post_heights: Mapping[Mark, float]) -> Strength:
    """Return every check of boards, timbers and posts by the job's standard, with post loads and sags.

    ``post_heights`` are clear heights [mm] of all posts of the frame, at or below 0 where a post does not fit.
    """
    practice = practice_for(job)
    on_boards = _reckon_boards(practice, job, frame)
    reckoned = _reckon_frame(practice, job, frame, post_heights)
    tabled = published.compare(job, frame, post_heights, reckoned.post_loads)
    if any(c.rule == "table-decking" for c in tabled):
        on_boards = tuple(c for c in on_boards if c.reason != "size-not-in-standard")
    near = beside.check_beside(practice, job, frame, post_heights, reckoned.post_loads)
    checks = on_boards + beside.settle(job, reckoned.checks) + tabled + near
    return _strength(job, replace(reckoned, checks=checks))


def _strength(job: Job, reckoned: _Reckoned) -> Strength:
    return Strength(
        standard=job.standard,
        checks=reckoned.checks,
        post_loads=reckoned.post_loads,
        sags=reckoned.sags,
        is_complete=all(c.verdict is not Verdict.NOT_CHECKED for c in reckoned.checks),
    )


def _unchecked(kind: str, reason: str, *facts: Fact) -> Check:
    return Check(
        subject=SUBJECT if kind == "boards" else "frame",
        rule="unchecked",
        verdict=Verdict.NOT_CHECKED,
        reason=reason,
        facts=(("kind_code", f"kind.{kind}"), *facts),
    )


def _unknown_wood(kind: str, error: OutOfRangeError) -> Check:
    fault = error.fault
    return _unchecked(kind, fault.code, ("found", fault.found), ("allowed", fault.allowed))


def _reckon_boards(practice: Practice, job: Job, frame: Frame) -> tuple[Check, ...]:
    board = job.floor.board
    piece = Piece(
        part=Part.BOARD,
        species=board.species,
        grade=board.strength_grade,
        width=board.width,
        depth=board.thickness,
    )
    try:
        wood = practice.wood(piece)
    except OutOfRangeError as error:
        return (_unknown_wood("boards", error),)
    places = joist_places(frame)
    lies = lie(
        floor=job.floor,
        joist_axis=frame.joist_axis,
        widest_gap=max(b - a for a, b in itertools.pairwise(places)),
        dead=loads.board_weight(job.floor, practice.unit_weight.value),
    )
    return tuple(check_boards(practice, job.floor, wood, lies))


def _reckon_frame(practice: Practice, job: Job, frame: Frame, post_heights: Mapping[Mark, float]) -> _Reckoned:
    woods: dict[Piece, Wood] = {}
    for piece in dict.fromkeys(itertools.chain(*list_pieces(frame))):
        try:
            woods[piece] = practice.wood(piece)
        except OutOfRangeError as error:
            return _Reckoned(checks=tuple(_unknown_wood(kind, error) for kind in _FRAME_KINDS))
    skeleton = draw_skeleton(frame, woods, post_heights)
    walk = loads.every_place(skeleton)
    heavy = beside.set_down(skeleton, job)
    statics = set_nodes(skeleton, tuple(spot for spot, _ in heavy))
    try:
        prepared = grillage.prepare(statics.grid)
    except NoSolutionError as error:
        return _Reckoned(checks=_loose(statics, int(error.fault.found)))
    plain = loads.share_loads(frame, job.floor, statics, practice.unit_weight.value)
    share = loads.weighed_at_least(plain, statics, practice.dead_least.value)
    witness = beside.Witness(statics)
    loaded = Loaded(prepared=prepared, statics=statics, share=share, heavy=beside.on_levels(statics, heavy))
    batches = solve_cases(loaded, practice.cases(), walk)
    reckoned = _gather(practice, skeleton, statics, witness.watch(batches))
    seen = witness.checks(job, frame, prepared, plain)
    return replace(reckoned, checks=(*reckoned.checks, _walked(walk), *seen))


def _loose(statics: Statics, node: int) -> tuple[Check, ...]:
    """Return what is said of a frame in which a timber lies on too few bearings to stay where it is."""
    number = int(np.searchsorted(statics.first_node, node, side="right")) - 1
    mechanism = Check(
        subject=statics.skeleton.timbers[number].member.mark,
        rule="mechanism",
        verdict=Verdict.FAILS,
        remedy="two-bearings",
    )
    return (mechanism, *(_unchecked(kind, "frame-not-held") for kind in _FRAME_KINDS))


def _gather(practice: Practice, skeleton: Skeleton, statics: Statics, batches: Iterator[Batch]) -> _Reckoned:
    sections = Sections(practice, statics, find_cuts(skeleton))
    bearings = supports.Supports(practice, skeleton)
    sags = Sags(practice, statics)
    for batch in batches:
        bearings.take(batch)
        if batch.case.aim is Aim.STRENGTH:
            sections.take(batch)
        elif batch.case.aim is Aim.SAG:
            sags.take(batch)
    governing = keep_governing([*sections.found(), *bearings.found(), *sags.found])
    checks = (
        *(word(practice, one) for one in governing),
        *supports.unseated(skeleton, bearings.pressed),
        *supports.tall_posts(practice, skeleton.posts),
    )
    return _Reckoned(checks=checks, post_loads=bearings.post_loads(), sags=tuple(sags.deepest))


def _walked(walk: tuple[Spot, ...]) -> Check:
    """Say on how many places a person was set, and on how many joists."""
    return Check(
        subject="floor",
        rule="person-walked",
        verdict=Verdict.OK,
        facts=(("places", len(walk)), ("joists", len({number for number, _ in walk}))),
    )
