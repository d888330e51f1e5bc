"""What presses where timbers lie on each other and on posts, how posts stand, and what would tip."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.frame import JointKind
from evenfoot.strength.findings import Asked, Batch, Finding, Peak, crossing, decided, first_of_greatest, strengths
from evenfoot.strength.model import PostLoad
from evenfoot.strength.standards import Aim, Bearer, Case, Contact, Figure, Practice, Stress
from evenfoot.strength.statics import FloatArray, IntArray, Post, Rest, Skeleton

_UNSEATED = frozenset({JointKind.BUTT, JointKind.HANGER})
"""Joints that bear by their fixings or by metal, not by wood on wood."""


class Supports:
    """Gathers, case by case, what each bearing and post carries."""

    def __init__(self, practice: Practice, skeleton: Skeleton) -> None:
        self._practice = practice
        self._skeleton = skeleton
        self._timbers = skeleton.timbers
        rests, posts = skeleton.rests, skeleton.posts
        self._upper = np.array([r.upper for r in rests], dtype=np.int64)
        self._lower = np.array([r.upper if r.lower is None else r.lower for r in rests], dtype=np.int64)
        self._is_seated = np.array([r.joint.kind not in _UNSEATED and r.joint.seat > 0.0 for r in rests])
        self._contact = np.array([self._net_contact(r) for r in rests])
        self._faces = _contacts(skeleton)
        self._ends = [self._end_factors(r) for r in rests]
        self._above = np.array([a.value for a, _ in self._ends])
        self._below = np.array([b.value for _, b in self._ends])
        self._sections = np.array([_section(p) for p in posts])
        self.bearing, self.pressed, self.pulled = Peak(len(rests)), Peak(len(rests)), Peak(len(rests))
        self.buckling = Peak(len(posts))
        self._post = np.array([-1 if r.post is None else r.post for r in rests], dtype=np.int64)
        self._worths: dict[Case, tuple[FloatArray, FloatArray, FloatArray]] = {}
        self._rules = [practice.post(wood=p.wood, height=p.height) if p.height > 0.0 else None for p in posts]
        self.loads: dict[str, FloatArray] = {}
        self.unsettled: list[Case] = []

    def _net_contact(self, rest: Rest) -> float:
        upper = self._timbers[rest.upper].member
        if rest.post is None:
            return rest.joint.seat * upper.width
        place = self._skeleton.posts[rest.post].place
        return rest.joint.seat * min(upper.width, place.width, place.depth)

    def _end_factors(self, rest: Rest) -> tuple[Figure, Figure]:
        """Return the factors on strength across the grain of the upper and the lower timber.

        They are 1 for a post's own end, and where nothing is pressed: a hanger has no seat.
        """
        if rest.joint.seat <= 0.0:
            return Figure(value=1.0), Figure(value=1.0)
        above = self._pressed_at(rest.upper, rest.at, rest.joint.seat, is_underside=True)
        if rest.lower is None:
            return above, Figure(value=1.0)
        width = self._timbers[rest.upper].member.width
        return above, self._pressed_at(rest.lower, rest.joint.at_lower, width, is_underside=False)

    def _pressed_at(self, number: int, at: float, length: float, *, is_underside: bool) -> Figure:
        timber = self._timbers[number]
        m = timber.member
        top, underside = self._faces[number]
        apart = [abs(other - at) - (length + size) / 2.0 for other, size in (top if is_underside else underside)]
        contact = Contact(
            wood=timber.wood,
            depth=m.depth,
            length=length,
            beyond=max(0.0, min(at, m.length - at) - length / 2.0),
            clear=max(0.0, min(apart, default=np.inf)),
        )
        return self._practice.end_bearing(contact)

    def take(self, batch: Batch) -> None:
        """Take in one load case."""
        case, press = batch.case, batch.response.press
        rests = np.arange(len(self._upper)) if batch.contacts is None else batch.contacts
        if not batch.response.is_settled.all():
            self.unsettled.append(case)
        posts, force = self._on_posts(rests, press)
        if Bearer.FRAME in case.decides and case.aim is not Aim.SAG:
            most = self.loads.setdefault(case.code, np.full(len(self._rules), -np.inf))
            np.maximum.at(most, posts, force.max(axis=1, initial=-np.inf))
        if case.aim is not Aim.STRENGTH:
            return
        if case not in self._worths:
            self._worths[case] = self._worth(case)
        picked, per_press, per_force = self._worths[case]
        pressing = np.maximum(press, 0.0)
        self.pressed.offer(case, pressing * picked[rests, None], pressing, rests)
        self.pulled.offer(case, np.where(batch.response.is_held, -press, 0.0), -press, rests)
        stress = pressing / np.where(self._is_seated, self._contact, np.inf)[rests, None]
        self.bearing.offer(case, pressing * per_press[rests, None], stress, rests)
        if Bearer.FRAME in case.decides and len(posts):
            pressing = np.maximum(force, 0.0)
            self.buckling.offer(case, pressing * per_force[posts, None], pressing / self._sections[posts, None], posts)

    def _on_posts(self, rests: IntArray, press: FloatArray) -> tuple[IntArray, FloatArray]:
        """Return the posts among some rests, rising, and the force on each, shape (n_posts, n_columns)."""
        on_post = np.flatnonzero(self._post[rests] >= 0)
        posts, place = np.unique(self._post[rests[on_post]], return_inverse=True)
        force = np.zeros((len(posts), press.shape[1]))
        np.add.at(force, place, press[on_post])
        return posts, force

    def _worth(self, case: Case) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return whether the case decides each rest, ratios per force on each rest, and per force on each post."""
        picked = decided(self._timbers, case)[self._upper]
        across = strengths(self._practice, self._timbers, Stress.ACROSS, case)
        least = np.minimum(across[self._upper] * self._above, across[self._lower] * self._below)
        per_press = picked / (np.where(self._is_seated, self._contact, np.inf) * least)
        may = np.array([self._post_strength(k, case).value for k in range(len(self._rules))])
        return picked, per_press, 1.0 / (self._sections * may)

    def _post_strength(self, number: int, case: Case) -> Figure:
        """Return what the post may bear [N/mm2]; without end where it has no height (said elsewhere)."""
        rule = self._rules[number]
        if rule is None:
            return Figure(value=np.inf)
        wood = self._skeleton.posts[number].wood
        along = self._practice.strength(Stress.ALONG, wood, case)
        factor = self._practice.buckling(wood=wood, rule=rule, case=case)
        return Figure(value=along.value * factor.value, doubts=along.doubts + factor.doubts)

    def post_loads(self) -> tuple[PostLoad, ...]:
        """Return the force on each post's head in each case, the greatest of a walked one."""
        return tuple(
            PostLoad(mark=post.place.mark, case=code, force=float(force[k]))
            for code, force in self.loads.items()
            for k, post in enumerate(self._skeleton.posts)
        )

    def found(self) -> list[Finding]:
        """Return the checks of bearings, seats and posts, and what would tip."""
        out = [one for k, rest in enumerate(self._skeleton.rests) for one in self._of_rest(k, rest)]
        for number in range(len(self._skeleton.posts)):
            out += self._of_post(number)
        return out + self._tipping() + [_unsettled(case) for case in self.unsettled[:1]]

    def _of_rest(self, number: int, rest: Rest) -> list[Finding]:
        case = self.bearing.case(number)
        if case is None:
            return []
        upper = self._timbers[rest.upper]
        sides = [(upper, self._ends[number][0])]
        if rest.lower is not None:
            sides.append((self._timbers[rest.lower], self._ends[number][1]))
        strength = [(self._practice.strength(Stress.ACROSS, t.wood, case), end) for t, end in sides]
        may, end = min(strength, key=lambda pair: pair[0].value * pair[1].value)
        rule = "bearing" if rest.post is None else "post-head"
        out: list[Finding] = [
            Asked(
                rule=rule,
                subject=upper.member.mark,
                demand=float(self.bearing.asked[number]),
                capacity=Figure(value=may.value * end.value, doubts=may.doubts + end.doubts),
                unit="N/mm2",
                case=case,
                place=crossing(rest.joint),
                remedy="wider-seat",
                facts=(
                    ("load_n", float(round(self.bearing.asked[number] * self._contact[number]))),
                    ("seat_mm", rest.joint.seat),
                    ("end_factor", end.value),
                ),
            )
        ]
        if rest.joint.kind is JointKind.HOUSING and rest.lower is not None:
            out.append(self._seat_wood(number, rest, rest.lower))
        return out

    def _seat_wood(self, number: int, rest: Rest, lower: int) -> Finding:
        beam, load = self._timbers[lower].member, float(self.pressed.asked[number])
        wanted = self._practice.wood_under_seat(load=load)
        if wanted is None:
            return Check(
                subject=beam.mark,
                rule="housed-seat",
                verdict=Verdict.NOT_CHECKED,
                place=crossing(rest.joint),
                reason="no-rule-in-standard",
                facts=(("load_n", float(round(load))),),
            )
        left = beam.depth - rest.joint.seat_depth
        facts: tuple[Fact, ...] = (("load_n", float(round(load))), ("left_mm", left), ("wanted_mm", wanted.value))
        if left > 0.0:
            return Asked(
                rule="seat-wood",
                subject=beam.mark,
                demand=wanted.value,
                capacity=Figure(value=left, doubts=wanted.doubts),
                unit="mm",
                case=self.pressed.case(number),
                place=crossing(rest.joint),
                remedy="shallower-joist",
                facts=facts,
            )
        return Check(
            subject=beam.mark,
            rule="seat-wood",
            verdict=Verdict.FAILS,
            demand=wanted.value,
            capacity=0.0,
            unit="mm",
            source=self._practice.clauses["seat-wood"],
            place=crossing(rest.joint),
            remedy="shallower-joist",
            facts=facts,
        )

    def _of_post(self, number: int) -> list[Finding]:
        post, rule = self._skeleton.posts[number], self._rules[number]
        mark = post.place.mark
        if rule is None:
            return [
                Check(subject=mark, rule="buckling-unknown", verdict=Verdict.NOT_CHECKED, reason="post-has-no-height")
            ]
        facts: tuple[Fact, ...] = (
            ("height_mm", post.height),
            ("length_mm", rule.length),
            ("head_code", "post-top.free" if rule.length > post.height else "post-top.held"),
            ("slenderness", rule.slenderness),
        )
        out: list[Finding] = []
        if rule.limit is not None:
            slender = Asked(
                rule="slenderness",
                subject=mark,
                demand=rule.slenderness,
                capacity=Figure(value=rule.limit, doubts=rule.doubts),
                unit="-",
                place=mark,
                remedy="thicker-post",
                facts=facts,
            )
            out.append(slender)
        case = self.buckling.case(number)
        if case is not None:
            stress = float(self.buckling.asked[number])
            asked = Asked(
                rule="buckling",
                subject=mark,
                demand=stress,
                capacity=self._post_strength(number, case),
                unit="N/mm2",
                case=case,
                place=mark,
                remedy="thicker-post",
                facts=(*facts, ("load_n", float(round(stress * _section(post))))),
            )
            out.append(asked)
        return out

    def _tipping(self) -> list[Check]:
        """Return one finding for the worst place on a post and one for the worst between timbers that would tip."""
        out: list[Check] = []
        rests = self._skeleton.rests
        for is_post, verdict, reason in (
            (True, Verdict.FAILS, ""),
            (False, Verdict.NOT_CHECKED, "hold-down-not-entered"),
        ):
            found = [k for k, r in enumerate(rests) if (r.post is not None) is is_post and self.pulled.ratio[k] > 0.0]
            if not found:
                continue
            worst = first_of_greatest(found, self.pulled.ratio)
            case = self.pulled.case(worst)
            assert case is not None
            out.append(
                Check(
                    subject=self._timbers[rests[worst].upper].member.mark,
                    rule="tipping",
                    verdict=verdict,
                    demand=float(self.pulled.ratio[worst]),
                    unit="N",
                    case=case.code,
                    place=crossing(rests[worst].joint),
                    reason=reason,
                    remedy="hold-down",
                    facts=(("places", len(found)), ("case_code", f"case.{case.code}")),
                )
            )
        return out


def unseated(skeleton: Skeleton, pressed: Peak) -> list[Check]:
    """Return one finding for each kind of joint that bears by metal or fixings: how many, and the greatest load."""
    out = []
    for kind, rule, reason in (
        (JointKind.HANGER, "hangers", "hanger-value-not-entered"),
        (JointKind.BUTT, "butt-joints", "fixing-not-reckoned"),
    ):
        found = [k for k, r in enumerate(skeleton.rests) if r.joint.kind is kind]
        if not found:
            continue
        worst = first_of_greatest(found, pressed.asked)
        rest = skeleton.rests[worst]
        case = pressed.case(worst)
        out.append(
            Check(
                subject=skeleton.timbers[rest.upper].member.mark,
                rule=rule,
                verdict=Verdict.NOT_CHECKED,
                demand=float(pressed.asked[worst]),
                unit="N",
                case=case.code if case else "",
                place=crossing(rest.joint),
                reason=reason,
                facts=(("places", len(found)),),
            )
        )
    return out


_Spots = list[tuple[float, float]]


def _contacts(skeleton: Skeleton) -> list[tuple[_Spots, _Spots]]:
    """Return for each timber what presses on its top and on its underside: where, and how long along it [mm]."""
    out: list[tuple[_Spots, _Spots]] = [([], []) for _ in skeleton.timbers]
    for rest in skeleton.rests:
        out[rest.upper][1].append((rest.at, rest.joint.seat))
        if rest.lower is not None:
            out[rest.lower][0].append((rest.joint.at_lower, skeleton.timbers[rest.upper].member.width))
    return out


def _section(post: Post) -> float:
    return post.place.width * post.place.depth


def _unsettled(case: Case) -> Check:
    return Check(
        subject="frame",
        rule="contact-unsettled",
        verdict=Verdict.NOT_CHECKED,
        case=case.code,
        reason="contact-rounds",
        facts=(("case_code", f"case.{case.code}"),),
    )


def tall_posts(practice: Practice, posts: Sequence[Post]) -> list[Check]:
    """Return the trade's caution where posts are tall enough that they want ties."""
    limit = practice.tie_height()
    tall = [p for p in posts if limit is not None and p.height >= limit.value]
    if limit is None or not tall:
        return []
    highest = max(tall, key=lambda p: p.height)
    return [
        Check(
            subject=highest.place.mark,
            rule="tall-posts",
            verdict=Verdict.NOT_CHECKED,
            demand=highest.height,
            capacity=limit.value,
            ratio=highest.height / limit.value,
            unit="mm",
            place=highest.place.mark,
            reason="ties-not-said",
            remedy="tie-posts",
            facts=(("places", len(tall)),),
            confirmed=not limit.doubts,
        )
    ]
