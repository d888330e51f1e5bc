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
from evenfoot.strength.findings import Batch, keep_governing
from evenfoot.strength.model import PostLoad, Sag, Strength
from evenfoot.strength.sags import check_sags
from evenfoot.strength.sections import Sections
from evenfoot.strength.standards import Aim, Bearer, Case, Part, Piece, Practice, Wood, practice_for, published
from evenfoot.strength.statics import (
    FloatArray,
    Skeleton,
    Spot,
    Statics,
    draw_skeleton,
    joist_places,
    list_pieces,
    set_nodes,
)

_FRAME_KINDS = ("bending", "shear", "notches", "bearing", "posts", "sag")
_COLUMNS = 1_500_000
"""Elements times cases that are solved at once; keeps memory small on large floors."""


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
    walk = loads.places_to_walk(skeleton)
    heavy = beside.set_down(skeleton, job)
    statics = set_nodes(skeleton, (*walk.spots, *(spot for spot, _ in heavy)))
    try:
        prepared = grillage.prepare(statics.grid)
    except NoSolutionError as error:
        return _Reckoned(checks=_loose(statics, int(error.fault.found)))
    plain = loads.share_loads(frame, job.floor, statics, practice.unit_weight.value)
    share = loads.weighed_at_least(plain, statics, practice.dead_least.value)
    witness = beside.Witness(statics)
    batches = _solve(practice, prepared, statics, share, (walk.spots, beside.on_levels(statics, heavy)))
    reckoned = _gather(practice, skeleton, statics, witness.watch(batches))
    seen = witness.checks(job, frame, prepared, plain)
    return replace(reckoned, checks=(*reckoned.checks, _walked(walk, skeleton), *seen))


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


def _solve(
    practice: Practice,
    prepared: grillage.Prepared,
    statics: Statics,
    share: loads.Share,
    placed: tuple[tuple[Spot, ...], FloatArray],
) -> Iterator[Batch]:
    """Yield every load case solved: even loads together, then the walked load a few places at a time.

    ``placed`` are the places to walk on, and the forces of heavy things on the freedoms [N]: they are in the cases of
    sag, and even cases of strength are solved without and with them.
    """
    spots, heavy = placed
    dead = Case(code="dead", aim=Aim.REPORT, decides=frozenset(Bearer), area=0.0, lasts="long")
    cases = practice.cases()
    bare = [dead, *(c for c in cases if c.point == 0.0)]
    even = bare + [c for c in bare[1:] if c.aim is Aim.STRENGTH and heavy.any()]
    bears = np.array([k >= len(bare) or c.aim is Aim.SAG for k, c in enumerate(even)])
    dead_share = np.array([c.dead for c in even])
    area = np.array([c.dead * share.dead + c.area for c in even])
    lines = share.own[:, None] * dead_share + share.line[:, None] * area
    forces = _on_levels(statics, share, area) + heavy[:, None] * (bears * dead_share)
    solved = grillage.respond(prepared, forces, lines)
    for k, case in enumerate(even):
        yield Batch(case=case, response=solved.column(k), even=lines[:, k : k + 1])
    width = max(1, _COLUMNS // len(share.own))
    for case in (c for c in cases if c.point > 0.0):
        for chunk in _chunks(spots if case.aim is not Aim.SAG else loads.tips(statics.skeleton, spots), width):
            area = np.full(len(chunk), case.dead * share.dead + case.area)
            lines = case.dead * share.own[:, None] + share.line[:, None] * area
            forces = _on_levels(statics, share, area)
            forces[[statics.level(s) for s in chunk], np.arange(len(chunk))] += case.point
            solved = grillage.respond(prepared, forces, lines)
            yield Batch(case=case, response=solved, even=lines, spots=chunk)


def _chunks(spots: tuple[Spot, ...], width: int) -> Iterator[tuple[Spot, ...]]:
    for k in range(0, len(spots), width):
        yield spots[k : k + width]


def _on_levels(statics: Statics, share: loads.Share, area: FloatArray) -> FloatArray:
    out = np.zeros((statics.grid.size, len(area)))
    out[: statics.grid.n_levels] = share.at_levels[:, None] * area
    return out


def _gather(practice: Practice, skeleton: Skeleton, statics: Statics, batches: Iterator[Batch]) -> _Reckoned:
    sections = Sections(practice, statics, find_cuts(skeleton))
    bearings = supports.Supports(practice, skeleton)
    sag_checks: list[Check] = []
    sags: list[Sag] = []
    for batch in batches:
        bearings.take(batch)
        if batch.case.aim is Aim.STRENGTH:
            sections.take(batch)
        elif batch.case.aim is Aim.SAG:
            found, deepest = check_sags(practice, statics, batch)
            sag_checks += found
            sags += deepest
    checks = (
        *keep_governing([*sections.checks(), *bearings.checks(), *sag_checks]),
        *supports.unseated(skeleton, bearings.pressed),
        *supports.tall_posts(practice, skeleton.posts),
    )
    return _Reckoned(checks=checks, post_loads=bearings.post_loads(), sags=tuple(sags))


def _walked(walk: loads.Walk, skeleton: Skeleton) -> Check:
    """Say on how many places a person was set, and on how many joists of how many."""
    joists = [t.number for t in skeleton.timbers if t.is_joist]
    return Check(
        subject="floor",
        rule="person-walked",
        verdict=Verdict.OK,
        facts=(
            ("places", len(walk.spots)),
            ("joists", len({walk.stands_for[n] for n in joists})),
            ("joists_all", len(joists)),
        ),
    )
