"""What nails and screws the job takes: one kind for every way that timbers meet, how many, how bored and how set."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from evenfoot.checks import Check
from evenfoot.estimate.fixing.boards import check_boards, set_in
from evenfoot.estimate.fixing.choice import Wish, for_boards, for_clamp, for_skew
from evenfoot.estimate.fixing.clamps import Clamp, check_clamps
from evenfoot.estimate.fixing.distances import How, Setting, stated
from evenfoot.estimate.fixing.findings import check_loads, check_metals, none_fits
from evenfoot.estimate.fixing.floor import Floor
from evenfoot.estimate.fixing.rests import find_lines
from evenfoot.estimate.model import Built, Fixing
from evenfoot.frame import Joint, JointKind, Role
from evenfoot.job import Job, Shop
from evenfoot.rules import fasteners as driving
from evenfoot.tables import fasteners, species

_USES = {
    JointKind.LAP_OVER: "lap",
    JointKind.LAP_UNDER: "lap",
    JointKind.HOUSING: "housing",
    JointKind.BUTT: "butt",
    JointKind.BEARING: "bearing",
    JointKind.POST_HEAD: "post-head",
}
_SKEWED = ("bearing", "housing", "butt", "post-head", "block")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixings:
    """The fixings of the job and what is found about them."""

    fixings: tuple[Fixing, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Use:
    """One fastener in one use, ready to be written down."""

    connection: fasteners.Connection
    fastener: fasteners.Fastener
    setting: Setting
    crossings: int
    how: How
    to_edge: float
    """From the screws to the nearest edge of a timber [mm]."""
    to_end: float | None
    """From the screws to an end of a timber, where all or most have one near [mm]."""
    set_in: float = 0.0


def choose_fixings(job: Job, shop: Shop, built: Built) -> Fixings:
    """Return the fixings of boards, laps and every other meeting, with their checks."""
    ways = {c.use: c for c in fasteners.connections()}
    parts = (
        _boards(job, shop, built, ways["board-joist"]),
        _laps(job, shop, built, ways["lap"]),
        *(_skewed(job, shop, ways[use], _meetings(built, use)) for use in _SKEWED),
    )
    fixings = tuple(f for part in parts for f in part.fixings)
    woods = (job.floor.board.species, job.frame.beam.species, job.frame.joist.species, job.frame.post.species)
    found = (*(c for part in parts for c in part.checks), *check_metals(woods, fixings), *check_loads(built, fixings))
    return Fixings(fixings=fixings, checks=found)


def _boards(job: Job, shop: Shop, built: Built, connection: fasteners.Connection) -> Fixings:
    board, joist = job.floor.board, job.frame.joist
    wish = _wish(job, board.species, joist.species, board.thickness + joist.depth - fasteners.clamp_rule().short)
    screw = for_boards(wish, board.thickness, shop)
    if screw is None:
        return Fixings(fixings=(), checks=(none_fits("board-joist", board.thickness),))
    setting = _setting(job, screw, board.species, joist.species)
    floor = Floor(
        job=job,
        layout=built.layout,
        frame=built.frame,
        lines=find_lines(built.layout, built.frame),
        screw=screw,
        setting=setting,
    )
    found = check_boards(floor)
    place = set_in(floor, stated(setting, found.how))
    use = _Use(
        connection=connection,
        fastener=screw,
        setting=setting,
        crossings=built.layout.screws,
        how=found.how,
        to_edge=min(place, joist.width / 2),
        to_end=None,
        set_in=place,
    )
    return Fixings(fixings=(_fixing(use),), checks=found.checks)


def _laps(job: Job, shop: Shop, built: Built, connection: fasteners.Connection) -> Fixings:
    members = {m.mark: m for m in built.frame.members}
    wish = _wish(job, job.frame.beam.species, job.frame.joist.species, float("inf"))
    chosen: dict[str, list[Clamp]] = {}
    checks: list[Check] = []
    known: dict[tuple[float, float], fasteners.Fastener | None] = {}
    for joint in built.frame.joints:
        if joint.kind not in (JointKind.LAP_OVER, JointKind.LAP_UNDER):
            continue
        clamp = Clamp.at(joint, members[joint.upper], members[joint.lower])
        tongues = (clamp.upper_tongue, clamp.lower_tongue)
        if tongues not in known:
            known[tongues] = for_clamp(wish, *tongues, shop)
            if known[tongues] is None:
                checks.append(none_fits("lap", clamp.upper_tongue))
        one = known[tongues]
        if one is not None:
            chosen.setdefault(one.mark, []).append(clamp)
    out: list[Fixing] = []
    for mark, clamps in chosen.items():
        one = fasteners.fastener(mark)
        setting = _setting(job, one, job.frame.beam.species, job.frame.joist.species)
        found, how = check_clamps(clamps, setting)
        checks += found
        use = _Use(
            connection=connection,
            fastener=one,
            setting=setting,
            crossings=len(clamps),
            how=how,
            to_edge=min(c.narrow for c in clamps) / 2,
            to_end=min((c.to_end for c in clamps if c.to_end is not None), default=None),
        )
        out.append(_fixing(use))
    return Fixings(fixings=tuple(out), checks=tuple(checks))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meeting:
    """A kind of timber whose side slanting screws start in, and how often."""

    through: float
    species: str
    other: str
    crossings: int


def _meetings(built: Built, use: str) -> Iterator[_Meeting]:
    """Give the meetings of one use, alike ones together."""
    members = {m.mark: m for m in built.frame.members}
    posts = {p.mark: p for p in built.frame.posts}
    counts: Counter[tuple[float, str, str]] = Counter()
    if use == "block":
        joists = next((m.species for m in built.frame.members if m.role is Role.JOIST), "")
        for block in (m for m in built.frame.members if m.role is Role.BLOCK):
            counts[block.width, block.species, joists or block.species] += 2
    for joint in _joints_of(built, use):
        upper, post = members[joint.upper], posts.get(joint.lower)
        if post is not None:
            counts[min(post.width, post.depth), post.species, upper.species] += 1
        elif Role.BLOCK not in (upper.role, members[joint.lower].role):
            counts[upper.width, upper.species, members[joint.lower].species] += 1
    for (through, wood, other), crossings in counts.items():
        yield _Meeting(through=through, species=wood, other=other, crossings=crossings)


def _joints_of(built: Built, use: str) -> Iterator[Joint]:
    return (j for j in built.frame.joints if _USES.get(j.kind) == use)


def _skewed(job: Job, shop: Shop, connection: fasteners.Connection, meetings: Iterable[_Meeting]) -> Fixings:
    assert connection.way is fasteners.Way.SKEW, f"{connection.use} is driven at a slant"
    crossings: Counter[tuple[str, str, str]] = Counter()
    checks: list[Check] = []
    for meeting in meetings:
        one = for_skew(_wish(job, meeting.species, meeting.other, float("inf")), meeting.through, shop)
        if one is None:
            checks.append(none_fits(connection.use, meeting.through))
        else:
            crossings[one.mark, meeting.species, meeting.other] += meeting.crossings
    fixings = tuple(
        _fixing(
            _Use(
                connection=connection,
                fastener=fasteners.fastener(mark),
                setting=_setting(job, fasteners.fastener(mark), wood, other),
                crossings=count,
                how=How.BORED,
                to_edge=0.0,
                to_end=0.0,
            )
        )
        for (mark, wood, other), count in crossings.items()
    )
    return Fixings(fixings=fixings, checks=tuple(checks))


def _fixing(use: _Use) -> Fixing:
    one, connection, distances = use.fastener, use.connection, stated(use.setting, use.how)
    holes = fasteners.pilot(one.kind)
    always = holes.ratio(use.setting.density)
    near = max(always, holes.near_end_or_edge)
    is_bored = use.how > How.BARE or _is_near(use)
    parts = (one, connection, distances, holes)
    return Fixing(
        use=connection.use,
        mark=one.mark,
        kind=one.kind,
        length=one.length,
        shank=one.shank,
        per_crossing=connection.per_crossing,
        crossings=use.crossings,
        count=connection.per_crossing * use.crossings,
        pilot=driving.pilot_diameter(d=one.shank, ratio=near if is_bored else always),
        pilot_near=driving.pilot_diameter(d=one.shank, ratio=near),
        end_distance=distances.end,
        edge_distance=distances.edge,
        spacing=distances.along,
        source=" ".join(dict.fromkeys(" ".join(part.source for part in parts).split())),
        is_confirmed=use.setting.is_density_confirmed and all(part.is_confirmed for part in parts),
        metal=one.metal,
        set_in=use.set_in,
    )


def _is_near(use: _Use) -> bool:
    """Return whether these sit so near an end or edge that all of them get pilot holes."""
    ends, edges = fasteners.near_end_and_edge()
    near_end = use.to_end is not None and use.to_end <= ends * use.fastener.shank
    return near_end or use.to_edge <= edges * use.fastener.shank


def _wish(job: Job, first: str, second: str, longest: float) -> Wish:
    density = max(species(first).density, species(second).density)
    return Wish(standard=job.standard, density=density, longest=longest)


def _setting(job: Job, one: fasteners.Fastener, first: str, second: str) -> Setting:
    denser = max(species(first), species(second), key=lambda wood: wood.density)
    return Setting(
        standard=job.standard,
        shank=one.shank,
        density=denser.density,
        is_density_confirmed=species(first).is_density_confirmed and species(second).is_density_confirmed,
    )
