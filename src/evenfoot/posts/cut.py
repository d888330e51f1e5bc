"""How long one post is cut, from the ground under it or from the gap that was measured, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.errors import Fault, JobFileError
from evenfoot.frame import Frame, Member, PostPlace, Role
from evenfoot.job import Job, Log
from evenfoot.posts.foot import Foot, footing_under
from evenfoot.posts.model import Basis, Layer, PostCut
from evenfoot.site import Ground
from evenfoot.tables import levels

NINETEEN_IN_TWENTY = 1.96
"""Standard deviations on either side that hold 19 in 20 of a normal scatter [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Standard deviations of the work [mm]: setting the frame to level, making a footing, cutting a post."""

    level: float
    footing: float
    cut: float


def hands_of(job: Job) -> Hands:
    """Return how exactly the work is done: the frame is set as well as one level is read, the rest by the table."""
    kind = job.frame.footing.kind
    return Hands(
        level=job.site.accuracy / NINETEEN_IN_TWENTY,
        footing=levels.post_figure(f"{kind}_tolerance").value / NINETEEN_IN_TWENTY,
        cut=levels.post_figure("cut_tolerance").value / NINETEEN_IN_TWENTY,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A measured clear gap from the footing's top to the timber above, and its standard deviation [mm]."""

    value: float
    sigma: float
    where: str


def measured_gaps(log: Log, *, accuracy: float) -> Mapping[str, Gap]:
    """Return the last measured gap of every post in the log, by its mark.

    ``accuracy`` is that of a line that names none, +- mm, 19 times in 20.

    Raises: JobFileError (``gap-not-positive``, ``accuracy-not-positive``) with every such line.
    """
    lines = [line for line in log.standing if line.what == "post-gap"]
    faults = [
        Fault(where=line.where, code="gap-not-positive", found=f"{line.value:g} mm", allowed="> 0 mm")
        for line in lines
        if not line.value > 0
    ]
    faults += [
        Fault(where=line.where, code="accuracy-not-positive", found=f"{line.accuracy:g} mm", allowed="> 0 mm")
        for line in lines
        if line.accuracy is not None and not line.accuracy > 0
    ]
    if faults:
        raise JobFileError(*faults)
    return {
        line.mark: Gap(
            value=line.value,
            sigma=(accuracy if line.accuracy is None else line.accuracy) / NINETEEN_IN_TWENTY,
            where=line.where,
        )
        for line in lines
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What every post of a job is cut by."""

    job: Job
    ground: Ground
    frame: Frame
    hands: Hands
    gaps: Mapping[str, Gap]
    timbers: Mapping[str, Member]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFrom:
    """A post as cut, and what the ground alone would have said."""

    post: PostCut
    foot: Foot
    by_surface: float
    """Length by the surface [mm]."""
    sigma_by_surface: float


def cut_one(place: PostPlace, bench: Bench) -> CutFrom:
    """Return one post: a measured gap wins, else the underside of its timber minus the top of its footing.

    sigma by surface: ground, footing, level of the frame and cut, as independent; by a gap: the gap and the cut.
    The rough length holds the long side of a sloping head, and the allowance, rounded up to the table's step.
    """
    job, gap = bench.job, bench.gaps.get(place.mark)
    foot = footing_under(place, bench.ground, job.frame)
    hands = bench.hands
    by_surface = place.underside - foot.top - foot.lift
    surface_sigma = math.hypot(foot.ground.sigma, hands.footing, hands.level, hands.cut)
    length, sigma, ground = by_surface, surface_sigma, foot.ground.z
    if gap is not None:
        length, sigma = gap.value, math.hypot(gap.sigma, hands.cut)
        ground += by_surface - gap.value
    slope_x, slope_y = place.underside_slope
    head_rise = (abs(slope_x) * place.width + abs(slope_y) * place.depth) / 2
    lean = math.hypot(slope_x, slope_y)
    post = PostCut(
        mark=place.mark,
        x=place.x,
        y=place.y,
        underside=place.underside,
        ground=ground,
        footing_top=place.underside - length,
        length=length,
        sigma=sigma,
        rough_length=_rough(length + head_rise, job.frame.rough_allowance) if length > 0 else 0.0,
        basis=Basis.SURFACE if gap is None else Basis.MEASURED,
        head_angle_deg=math.degrees(math.atan(lean)),
        head_falls_toward_deg=math.degrees(math.atan2(-slope_y, -slope_x)) if lean > 0 else 0.0,
        foot_lift=foot.lift,
        width=place.width,
        depth=place.depth,
        species=place.species,
        stack=_layers(place, bench, length=length, ground=ground),
        foot_gap=foot.gap,
        foot_high_toward_deg=foot.high_toward_deg,
        foot_angle_deg=math.degrees(math.atan(math.hypot(*foot.slope))),
    )
    return CutFrom(post=post, foot=foot, by_surface=by_surface, sigma_by_surface=surface_sigma)


def _rough(longest: float, allowance: float) -> float:
    step = levels.post_figure("rough_step").value
    return math.ceil((longest + allowance) / step - 1e-9) * step


def _layers(place: PostPlace, bench: Bench, *, length: float, ground: float) -> tuple[Layer, ...]:
    """Return the height stack on the post axis from sill to ground; every top minus its thickness is the next top."""
    floor, frame, sill = bench.job.floor, bench.frame, bench.job.site.sill
    surface = sill - floor.drop - floor.fall * place.y
    top = frame.top_at_wall - frame.fall * place.y
    under = bench.timbers[place.under]
    timbers = [(under.role.value, place.underside)]
    own_top = _top_of(under, place)
    if top - own_top > _HAIR:
        timbers.insert(0, (Role.JOIST.value, own_top))
    things = [
        ("drop", surface),
        ("board", top),
        *timbers,
        ("post", place.underside - length),
        ("footing", ground),
    ]
    layers = [Layer(thing="sill", top=sill, thickness=0.0)]
    upper = sill
    for thing, lower in things:
        layers.append(Layer(thing=thing, top=upper, thickness=upper - lower))
        upper = lower
    return (*layers, Layer(thing="ground", top=ground, thickness=0.0))


_HAIR = 0.01
"""A timber whose top lies less than this under the frame's top lies in it [mm]."""


def _top_of(timber: Member, place: PostPlace) -> float:
    """Return the level of a timber's top over a post [mm]."""
    (x0, y0, z0), (x1, y1, z1) = timber.start, timber.end
    run = (x1 - x0, y1 - y0)
    share = ((place.x - x0) * run[0] + (place.y - y0) * run[1]) / (run[0] ** 2 + run[1] ** 2)
    return z0 + share * (z1 - z0)
