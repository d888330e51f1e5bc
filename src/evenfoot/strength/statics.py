"""Turns a frame into beams that rest on each other: nodes, elements, contacts, posts as springs (note 040)."""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from evenfoot.errors import Fault
from evenfoot.frame import Frame, Joint, JointKind, Mark, Member, PostPlace, Role, Splice
from evenfoot.solvers import grillage
from evenfoot.strength.standards import Part, Piece, Wood

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
Spot = tuple[int, float]
"""A place on a timber: its number, and the distance from its start [mm]."""

SAME = 0.5
"""Places closer than this are one [mm]."""
_BESIDE = 1.0
"""A second bearing of a timber at the same place is set this much aside [mm]."""
_LOADED = frozenset({Role.BEAM, Role.JOIST})
_ACROSS = 30.0
"""Modulus along over across the grain of softwood. Source: EN 338:2016, table 1, the mean values of its C classes."""
_SHEAR_SHARE = 5.0 / 6.0
"""Share of a rectangle that counts in shear stiffness."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """One beam or joist as the engine sees it; ``level_share`` is plan length over true length."""

    number: int
    member: Member
    wood: Wood
    level_share: float

    @property
    def is_joist(self) -> bool:
        """Whether it carries boards."""
        return self.member.role is Role.JOIST


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """One timber resting on another or on a post. ``at`` is the distance along the upper timber [mm]."""

    joint: Joint
    upper: int
    lower: int | None
    """Number of the lower timber; None on a post."""
    post: int | None
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A post as a spring; ``height`` is its clear height [mm], not above 0 where it does not fit.

    ``below`` is how far what it stands on gives under 1 N [mm].
    """

    place: PostPlace
    wood: Wood
    height: float
    below: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Skeleton:
    """Timbers, posts, and how they rest on each other; no nodes yet."""

    timbers: tuple[Timber, ...]
    posts: tuple[Post, ...]
    rests: tuple[Rest, ...]
    lies_on: tuple[tuple[Rest, ...], ...]
    """For each timber the rests that it lies on, in order from its start."""
    ties: tuple[tuple[Spot, Spot], ...]
    """Ends of two timbers that a splice holds level with each other."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Statics:
    """The frame as a grillage, and where each node and element lies.

    Elements and nodes of a timber are contiguous and run from its start: ``first_node`` and ``first_element`` have one
    entry per timber and one past the last. ``begin`` is where each element starts along its timber [mm].
    """

    skeleton: Skeleton
    grid: grillage.Grillage
    first_node: IntArray
    first_element: IntArray
    begin: FloatArray
    timber: IntArray
    """Number of the timber of each element."""
    node_at: FloatArray
    places: tuple[tuple[float, ...], ...]
    """Where the nodes of each timber lie [mm], rising."""

    def node(self, spot: Spot) -> int:
        """Return the node at a place; an invariant that there is one."""
        number, at = spot
        places = self.places[number]
        after = bisect.bisect_left(places, at)
        near = min((k for k in (after - 1, after) if 0 <= k < len(places)), key=lambda k: abs(places[k] - at))
        assert abs(places[near] - at) <= 2.0 * _BESIDE, "no node at this place"
        return int(self.first_node[number]) + near

    def level(self, spot: Spot) -> int:
        """Return the number of the freedom that goes up and down at a place."""
        return int(self.grid.level[self.node(spot)])

    def plan(self) -> FloatArray:
        """Return where the nodes lie in plan, along x and along y [mm], shape (2, n_nodes)."""
        timbers = self.skeleton.timbers
        of = np.repeat(np.arange(len(timbers)), np.diff(self.first_node))
        starts = np.array([t.member.start[:2] for t in timbers]).T
        steps = np.array([t.member.end[:2] for t in timbers]).T - starts
        share = self.node_at / np.array([t.member.length for t in timbers])[of]
        out: FloatArray = starts[:, of] + steps[:, of] * share
        return out

    def name_timber(self, fault: Fault) -> Fault:
        """Return the fault of a node (its number is ``found``) as the fault of the timber that the node lies on."""
        number = int(np.searchsorted(self.first_node, int(fault.found), side="right")) - 1
        return replace(fault, where=str(self.skeleton.timbers[number].member.mark), found="")

    def elements_at(self, timber: IntArray, at: FloatArray, *, is_before: bool) -> tuple[IntArray, FloatArray]:
        """Return the element and the distance into it [mm] for places on timbers; before or after a node there."""
        reach = float(self.node_at.max()) + 1.0
        key = self.timber * reach + self.begin
        wanted = timber * reach + at
        found = np.searchsorted(key, wanted, side="left") if is_before else np.searchsorted(key, wanted, side="right")
        found = found - 1
        found = np.clip(found, self.first_element[timber], self.first_element[timber + 1] - 1)
        return found, at - self.begin[found]


def joist_places(frame: Frame) -> tuple[float, ...]:
    """Return where joist lines lie across the joists [mm], rising."""
    places: list[float] = []
    across = (m.start[0] if m.axis == "y" else m.start[1] for m in frame.members if m.role is Role.JOIST)
    for place in sorted(across):
        if not places or place - places[-1] > _BESIDE:
            places.append(place)
    return tuple(places)


def list_pieces(frame: Frame) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """Return the beams and joists, then the posts, as a standard asks for them; each in the order of the frame."""
    places = joist_places(frame)
    pitch = max((b - a for a, b in itertools.pairwise(places)), default=math.inf) if len(places) > 2 else math.inf
    timbers = tuple(
        Piece(
            part=Part.JOIST if m.role is Role.JOIST else Part.BEAM,
            species=m.species,
            grade=m.strength_grade,
            width=m.width,
            depth=m.depth,
            pitch=pitch if m.role is Role.JOIST else math.inf,
        )
        for m in frame.members
        if m.role in _LOADED
    )
    posts = tuple(
        Piece(part=Part.POST, species=p.species, grade=p.strength_grade, width=p.width, depth=p.depth)
        for p in frame.posts
    )
    return timbers, posts


def draw_skeleton(
    frame: Frame, woods: Mapping[Piece, Wood], post_heights: Mapping[Mark, float], below: float = 0.0
) -> Skeleton:
    """Return the timbers, posts and rests of a frame; ``woods`` for each piece of ``list_pieces``.

    ``below`` is how far the ground under each footing gives under 1 N [mm].
    """
    pieces, post_pieces = list_pieces(frame)
    members = (m for m in frame.members if m.role in _LOADED)
    timbers = tuple(
        Timber(number=k, member=m, wood=woods[piece], level_share=_level_share(m))
        for k, (m, piece) in enumerate(zip(members, pieces, strict=True))
    )
    posts = tuple(
        Post(place=p, wood=woods[piece], height=post_heights[p.mark], below=below)
        for p, piece in zip(frame.posts, post_pieces, strict=True)
    )
    number = {t.member.mark: t.number for t in timbers}
    stands = {p.place.mark: k for k, p in enumerate(posts)}
    rests = _find_rests(frame.joints, number, stands, [t.member.length for t in timbers])
    return Skeleton(
        timbers=timbers,
        posts=posts,
        rests=rests,
        lies_on=tuple(tuple(sorted(own, key=lambda r: r.at)) for own in _by_upper(rests, len(timbers))),
        ties=_find_ties(frame.splices, timbers, rests),
    )


def set_nodes(skeleton: Skeleton, spots: Sequence[Spot]) -> Statics:
    """Return the frame as a grillage, with a node at every end, joint, tie and spot."""
    wanted: list[list[float]] = [[0.0, t.member.length] for t in skeleton.timbers]
    for rest in skeleton.rests:
        wanted[rest.upper].append(rest.at)
        if rest.lower is not None:
            wanted[rest.lower].append(rest.joint.at_lower)
    for number, at in spots:
        wanted[number].append(at)
    places = [_thin(sorted(one), keep=2) for one in wanted]
    counts = np.array([len(one) for one in places])
    first_node = np.concatenate(([0], np.cumsum(counts)))
    first_element = np.concatenate(([0], np.cumsum(counts - 1)))
    node_at = np.concatenate([np.array(one) for one in places])
    starts = np.ones(len(node_at), dtype=bool)
    starts[first_node[1:] - 1] = False
    first = np.flatnonzero(starts)
    timber = np.repeat(np.arange(len(places)), counts - 1)
    statics = Statics(
        skeleton=skeleton,
        grid=_bare(skeleton, timber, first, node_at),
        first_node=first_node,
        first_element=first_element,
        begin=node_at[first],
        timber=timber,
        node_at=node_at,
        places=tuple(tuple(one) for one in places),
    )
    return _laid(statics)


def _level_share(member: Member) -> float:
    run = abs(member.end[0] - member.start[0]) + abs(member.end[1] - member.start[1])
    return run / member.length


def _find_rests(
    joints: Sequence[Joint], number: Mapping[Mark, int], stands: Mapping[Mark, int], lengths: Sequence[float]
) -> tuple[Rest, ...]:
    out: list[Rest] = []
    taken: dict[int, list[float]] = {}
    for joint in joints:
        if joint.upper not in number or not (joint.lower in number or joint.lower in stands):
            continue
        upper = number[joint.upper]
        at, used = joint.at_upper, taken.setdefault(upper, [])
        assert -SAME <= at <= lengths[upper] + SAME, f"{joint.mark} lies past the end of {joint.upper}"
        step = -_BESIDE if at > lengths[upper] / 2.0 else _BESIDE
        while any(abs(at - other) < SAME for other in used):
            at += step
        used.append(at)
        is_post = joint.kind is JointKind.POST_HEAD
        out.append(
            Rest(
                joint=joint,
                upper=upper,
                lower=None if is_post else number[joint.lower],
                post=stands[joint.lower] if is_post else None,
                at=at,
            )
        )
    return tuple(out)


def _by_upper(rests: Sequence[Rest], count: int) -> list[list[Rest]]:
    out: list[list[Rest]] = [[] for _ in range(count)]
    for rest in rests:
        out[rest.upper].append(rest)
    return out


def _find_ties(
    splices: Sequence[Splice], timbers: Sequence[Timber], rests: Sequence[Rest]
) -> tuple[tuple[Spot, Spot], ...]:
    """Return the ends that a splice ties: those where not both ends have a bearing of their own."""
    by_mark = {t.member.mark: t for t in timbers}
    bears = {(r.upper, r.joint.lower) for r in rests}
    out = []
    for splice in splices:
        first, second = by_mark[splice.first], by_mark[splice.second]
        if {(first.number, splice.over), (second.number, splice.over)} <= bears:
            continue
        out.append((_end_near(first, splice), _end_near(second, splice)))
    return tuple(out)


def _end_near(timber: Timber, splice: Splice) -> Spot:
    m = timber.member
    from_start = abs(m.start[0] - splice.x) + abs(m.start[1] - splice.y)
    from_end = abs(m.end[0] - splice.x) + abs(m.end[1] - splice.y)
    return (timber.number, 0.0 if from_start < from_end else m.length)


def _thin(places: list[float], *, keep: int) -> list[float]:
    """Return rising places without those that repeat the one before; the last (an end) stays."""
    out = [places[0]]
    for at in places[1:]:
        if at - out[-1] > SAME:
            out.append(at)
        elif len(out) >= keep and at == places[-1]:
            out[-1] = at
    return out


def _bare(skeleton: Skeleton, timber: IntArray, first: IntArray, node_at: FloatArray) -> grillage.Grillage:
    """Return the elements alone, each node on its own level, nothing resting on anything."""
    width = np.array([t.member.width for t in skeleton.timbers])
    depth = np.array([t.member.depth for t in skeleton.timbers])
    e = np.array([t.wood.modulus for t in skeleton.timbers])
    g = np.array([t.wood.shear_modulus for t in skeleton.timbers])
    nothing = np.zeros(0, dtype=np.int64)
    return grillage.Grillage(
        ends=np.stack((first, first + 1), axis=1),
        length=node_at[first + 1] - node_at[first],
        ei=(e * width * depth**3 / 12.0)[timber],
        ga=(g * width * depth * _SHEAR_SHARE)[timber],
        level=np.arange(len(node_at)),
        n_levels=len(node_at),
        spring_level=nothing,
        spring=np.zeros(0),
        upper=nothing,
        lower=nothing,
    )


def post_gives(skeleton: Skeleton) -> list[float]:
    """Return how far the head of each post goes down under 1 N [mm], 0 where it has no height (note 094).

    In series: the wood of what lies on it pressed across the grain over its whole depth, the post along its grain, and
    what it stands on.
    """
    soft = [0.0] * len(skeleton.posts)
    for rest in skeleton.rests:
        if rest.post is None:
            continue
        timber, place = skeleton.timbers[rest.upper], skeleton.posts[rest.post].place
        m = timber.member
        pressed = rest.joint.seat * min(m.width, place.width, place.depth)
        if pressed > 0.0:
            soft[rest.post] += pressed * timber.wood.modulus / (_ACROSS * m.depth)
    return [
        (1.0 / across if across > 0.0 else 0.0) + p.height / (p.wood.modulus * p.place.width * p.place.depth) + p.below
        if p.height > 0.0
        else 0.0
        for p, across in zip(skeleton.posts, soft, strict=True)
    ]


def _laid(bare: Statics) -> Statics:
    """Return the timbers laid on each other and on their posts."""
    skeleton = bare.skeleton
    level = bare.grid.level.copy()
    for one, other in skeleton.ties:
        level[bare.node(other)] = level[bare.node(one)]
    firm = [p.height > 0.0 for p in skeleton.posts]
    post_level = bare.grid.n_levels + np.cumsum(firm) - 1
    upper, lower = [], []
    for rest in skeleton.rests:
        upper.append(level[bare.node((rest.upper, rest.at))])
        if rest.lower is not None:
            lower.append(level[bare.node((rest.lower, rest.joint.at_lower))])
        else:
            assert rest.post is not None
            lower.append(post_level[rest.post] if firm[rest.post] else grillage.GROUND)
    spring = [1.0 / give for give in post_gives(skeleton) if give > 0.0]
    grid = grillage.Grillage(
        ends=bare.grid.ends,
        length=bare.grid.length,
        ei=bare.grid.ei,
        ga=bare.grid.ga,
        level=level,
        n_levels=bare.grid.n_levels + len(spring),
        spring_level=bare.grid.n_levels + np.arange(len(spring)),
        spring=np.array(spring),
        upper=np.array(upper, dtype=np.int64),
        lower=np.array(lower, dtype=np.int64),
    )
    return replace(bare, grid=grid)
