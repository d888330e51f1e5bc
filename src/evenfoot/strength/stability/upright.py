"""Whether posts fixed in concrete bear the push that they hold the floor against (note 095)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, compare
from evenfoot.errors import OutOfRangeError
from evenfoot.frame import Frame, Mark
from evenfoot.rules import standing
from evenfoot.strength.stability.carried import Carried
from evenfoot.strength.stability.held import Way
from evenfoot.strength.stability.pushes import Push
from evenfoot.strength.standards import Aim, Case, Figure, Part, Piece, Practice, Stress, Wood


@dataclass(frozen=True, slots=True, kw_only=True)
class _Post:
    """One post about to be checked: its wood, sides across and in the way of the push and height [mm], and load [N]."""

    mark: Mark
    wood: Wood
    side: float
    other: float
    height: float
    load: float

    @property
    def stiffness(self) -> float:
        """EI in the way of the push [N mm2]."""
        return self.wood.modulus * self.other * self.side**3 / 12.0


def check_upright(
    practice: Practice, frame: Frame, carried: Carried, heights: Mapping[Mark, float], pushed: tuple[Way, Push, float]
) -> Check:
    """Return the most used of the posts that hold the floor by standing in concrete: bent at the foot, and pressed.

    ``pushed`` are the direction, the push in it, and the standard's partial factor on it. Shorter posts are stiffer and
    take more of the push.
    """
    way, push, factor = pushed
    try:
        posts = _posts(practice, frame, carried, heights)
    except OutOfRangeError as error:
        return _open(way, push, error.fault.code, (("found", error.fault.found), ("allowed", error.fault.allowed)))
    if not posts:
        return _open(way, push, "post-has-no-height", ())
    case = _passing(practice)
    shares = standing.shared_pushes(
        H=factor * push.force, stiffness=[p.stiffness for p in posts], heights=[p.height for p in posts]
    )
    used = [_used(practice, post, share, factor, case) for post, share in zip(posts, shares, strict=True)]
    worst = max(range(len(posts)), key=lambda k: used[k].value)
    doubts = tuple(dict.fromkeys((*push.doubts, *used[worst].doubts)))
    return compare(
        subject=f"sway-{way.direction}",
        rule="upright-post",
        demand=used[worst].value,
        capacity=1.0,
        unit="-",
        source=f"{push.clause} {practice.clauses['bending']}",
        place=posts[worst].mark,
        remedy="thicker-upright",
        facts=(
            ("direction_code", f"direction.{way.direction}"),
            ("push_code", f"push.{push.code}"),
            ("share_n", float(round(shares[worst]))),
            ("height_mm", posts[worst].height),
            ("percent", round(100.0 * used[worst].value)),
            ("doubts", ", ".join(doubts)),
        ),
        confirmed=not doubts,
    )


def _posts(practice: Practice, frame: Frame, carried: Carried, heights: Mapping[Mark, float]) -> Sequence[_Post]:
    """Return the posts that have a height; each taken by its smaller side, since posts may stand either way."""
    load = dict(zip(carried.posts, carried.most, strict=True))
    out = []
    for place in frame.posts:
        if heights[place.mark] <= 0.0:
            continue
        piece = Piece(
            part=Part.POST,
            species=place.species,
            grade=place.strength_grade,
            width=place.width,
            depth=place.depth,
        )
        out.append(
            _Post(
                mark=place.mark,
                wood=practice.wood(piece),
                side=min(place.width, place.depth),
                other=max(place.width, place.depth),
                height=heights[place.mark],
                load=load[place.mark],
            )
        )
    return out


def _used(practice: Practice, post: _Post, share: float, factor: float, case: Case) -> Figure:
    bending = practice.strength(Stress.BENDING, post.wood, case)
    along = practice.strength(Stress.ALONG, post.wood, case)
    rule = practice.post(wood=post.wood, height=post.height)
    buckling = practice.buckling(wood=post.wood, rule=rule, case=case)
    value = standing.used_together(
        sigma_m=share * post.height / practice.section_modulus(width=post.other, depth=post.side),
        f_m=bending.value,
        sigma_c=factor * post.load / (post.side * post.other),
        f_c=along.value * buckling.value,
    )
    return Figure(value=value, doubts=(*bending.doubts, *along.doubts, *buckling.doubts))


def _passing(practice: Practice) -> Case:
    """Return the case whose strength holds for a load that passes."""
    cases = [c for c in practice.cases() if c.aim is Aim.STRENGTH]
    return next((c for c in cases if c.point > 0.0), cases[-1])


def _open(way: Way, push: Push, reason: str, facts: tuple[tuple[str, str], ...]) -> Check:
    return Check(
        subject=f"sway-{way.direction}",
        rule="upright-unknown",
        verdict=Verdict.NOT_CHECKED,
        demand=push.force,
        unit="N",
        reason=reason,
        facts=(("direction_code", f"direction.{way.direction}"), *facts),
    )
