"""What next for the posts: how long to cut them, which of them carry, what to shave or pack, and the odds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenfoot.errors import Fault, JobFileError, OutOfRangeError
from evenfoot.job import LogLine
from evenfoot.office.setting.bench import Answer, Asked, Bench, doubtful, open_bench
from evenfoot.office.setting.posts_readings import PostReadings, post_readings
from evenfoot.office.setting.posts_stand import Stood, stand_answer
from evenfoot.office.setting.posts_words import Telling, cut_answer, odds_answer
from evenfoot.setting import NINETEEN_IN_TWENTY, likely_slip, posts

SAMPLES = 400
_DRAWS, _DRAWS_BEYOND = 150, 40
"""Floors drawn to say how sure a rock is; fewer where there are very many posts."""
_GROSS = 15.0
"""A length less than this beside what is expected is no slip of reading [mm]."""
_WIDE = 25.0
"""A gap under a hanging foot of more than this is a slip [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PostsTyped:
    """What was typed for a question about posts; posts by their mark, lengths in any unit.

    ``at`` are places of posts without a job (mark, x, y). ``gaps`` are clear gaps for posts, ``cuts`` posts as cut,
    ``hangs`` gaps under feet; ``stands`` feet that stand; ``jacks`` posts beside which a jack stood while gaps were
    read; ``anchored`` feet that are bolted down.
    """

    at: Sequence[tuple[str, str, str]] = ()
    gaps: Sequence[tuple[str, str]] = ()
    cuts: Sequence[tuple[str, str]] = ()
    hangs: Sequence[tuple[str, str]] = ()
    stands: Sequence[str] = ()
    jacks: Sequence[str] = ()
    anchored: Sequence[str] = ()
    person: float | None = None
    """[kg]"""
    weight: float | None = None
    """Of the floor, without a job [kg]."""
    limit: str = ""
    step: str = ""
    tape: str = ""
    cutting: str = ""
    prefer: str = "shave"
    has_boards: bool = False
    asks_odds: bool = False
    samples: int = SAMPLES
    seed: int = 1


def ask_posts(asked: Asked, typed: PostsTyped) -> Answer:
    """Return what to do next: cut, measure, shave, pack, swap or leave alone; with ``asks_odds`` the odds beforehand.

    Readings typed with a job are added to its log first.
    Raises: OutOfRangeError (``reading-doubtful``) for a typed reading that looks like a slip, unless it is sure;
    (``post-unknown``) for a post that there is not; (``posts-missing``) without a job and places;
    NoSolutionError where the frame would fall from the jacks or feet named.
    """
    bench = open_bench(asked)
    site = _open_site(bench, typed)
    lines = _typed_lines(site, typed)
    if lines:
        _challenge(site, lines)
        noted = bench.note(lines)
        site = _open_site(noted if asked.job is None else open_bench(asked), typed)
    if typed.asks_odds:
        return _odds(site, typed)
    known = site.known()
    if not known.is_enough:
        return cut_answer(site.telling, site.needs())
    return _stand(site, typed, known)


def posts_questions(asked: Asked) -> tuple[tuple[str, str], ...]:
    """Return the readings to ask a person for without a job: (option, question)."""
    speaker = open_bench(replace(asked, job=None)).speaker
    return tuple((option, speaker.say(f"setting.posts.ask-{option}")) for option in ("at", "stands", "hangs"))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Site:
    """The floor in question: its frame without and with boards, its readings, and what is asked of it."""

    bench: Bench
    readings: PostReadings
    bare: posts.Footing
    whole: posts.Footing
    bases: tuple[posts.Base, ...]
    telling: Telling

    def needs(self) -> tuple[posts.Need, ...]:
        return posts.needs(self.bare, self.bases, levels=self.readings.levels, jacks=self.readings.jacks)

    def known(self) -> posts.Known:
        now = self.whole if self.readings.has_boards else self.bare
        feeler = self.bench.figure("feeler") / NINETEEN_IN_TWENTY
        return posts.clear_of(now, self.needs(), lengths=self.readings.lengths, seen=self.readings.seen, feeler=feeler)


def _open_site(bench: Bench, typed: PostsTyped) -> _Site:
    readings = post_readings(bench, has_boards=typed.has_boards)
    person = (bench.figure("walker") if typed.person is None else typed.person) * posts.GRAVITY
    if not 0 < person <= 5000:
        raise OutOfRangeError(
            Fault(where="--person", code="too-large", found=f"{typed.person:g}", allowed="> 0 … 500 kg")
        )
    if bench.plan is None:
        frame = _typed_frame(bench, typed)
        bare = whole = frame
        bases = tuple(_typed_base(bench, readings, mark) for mark in frame.marks)
        seen_as = {m: m for m in frame.marks}
    else:
        plan = bench.plan
        bare, whole = (posts.float_floor(plan.job, plan.frame, plan.posts, has_boards=b) for b in (False, True))
        reading = bench.figure("gap_reading") / NINETEEN_IN_TWENTY
        bases = posts.bases_of(plan.posts, gap_accuracy=readings.gap_accuracy, reading=reading)
        seen_as = {m: m for m in bare.marks} | {bench.speaker.mark(m): m for m in bare.marks}
    unknown = sorted({*readings.marks, *typed.anchored} - set(seen_as))
    if unknown:
        allowed = ", ".join(bench.speaker.mark(m) for m in bare.marks)
        raise JobFileError(*(Fault(where=f"posts.{m}", code="post-unknown", found=m, allowed=allowed) for m in unknown))
    anchored = {seen_as[m] for m in typed.anchored}
    telling = Telling(
        bench=bench,
        frame=whole,
        person=person,
        limit=_positive(bench, typed.limit, "--limit", "rock_limit"),
        step=_positive(bench, typed.step, "--step", "post_step"),
        readings=readings,
    )
    return _Site(
        bench=bench,
        readings=readings,
        bare=posts.Footing(bare, anchored),
        whole=posts.Footing(whole, anchored),
        bases=bases,
        telling=telling,
    )


def _positive(bench: Bench, text: str, where: str, figure: str) -> float:
    value = bench.length(text, where) if text else bench.figure(figure)
    if not 0 < value <= 50:
        raise OutOfRangeError(Fault(where=where, code="too-large", found=text, allowed="> 0 … 50 mm"))
    return value


def _typed_frame(bench: Bench, typed: PostsTyped) -> posts.FloatingFrame:
    places = {mark: (bench.length(x, f"--at {mark}"), bench.length(y, f"--at {mark}")) for mark, x, y in typed.at}
    if not places:
        raise OutOfRangeError(Fault(where="posts", code="posts-missing", allowed="--at A 0 0 --at B 3600 0 …"))
    across = np.ptp(np.array(list(places.values())), axis=0)
    area = max(float(across[0] * across[1]), 500.0 * float(across.max())) / 1e6
    weight = area * bench.figure("floor_weight") if typed.weight is None else typed.weight
    if not 0 < weight <= 1e6:
        raise OutOfRangeError(
            Fault(where="--weight", code="too-large", found=f"{weight:g}", allowed="> 0 … 1000000 kg")
        )
    return posts.rigid_frame(places, weight=weight * posts.GRAVITY)


def _typed_base(bench: Bench, readings: PostReadings, mark: str) -> posts.Base:
    reading = readings.gap_accuracy.get(mark, bench.figure("gap_reading") / NINETEEN_IN_TWENTY)
    cut = posts.cut_tolerance() / NINETEEN_IN_TWENTY
    return posts.Base(
        mark=mark,
        length=readings.gaps.get(mark, math.nan),
        sigma=math.hypot(reading, cut),
        sigma_gap=reading,
        is_measured=mark in readings.gaps,
    )


def _typed_lines(site: _Site, typed: PostsTyped) -> list[LogLine]:
    """Return what was typed as facts for the log: jacks before gaps, posts as cut before feet as seen."""
    bench, marks = site.bench, site.bare.frame.marks
    named = {m: m for m in marks} | {bench.speaker.mark(m): m for m in marks}

    def mark(text: str, where: str) -> str:
        if text not in named:
            allowed = ", ".join(bench.speaker.mark(m) for m in marks)
            raise JobFileError(Fault(where=where, code="post-unknown", found=text, allowed=allowed))
        return named[text]

    def read(what: str, where: str, pairs: Sequence[tuple[str, str]]) -> list[LogLine]:
        return [bench.line(what, mark(m, where), bench.length(text, f"{where} {m}")) for m, text in pairs]

    tape = _positive(bench, typed.tape, "--tape", "gap_reading")
    gaps = [replace(line, accuracy=tape) for line in read("post-gap", "--gap", typed.gaps)]
    return [
        *(bench.line("jack", mark(m, "--jack"), 0.0) for m in typed.jacks),
        *gaps,
        *read("post-length", "--cut", typed.cuts),
        *(bench.line("foot-gap", mark(m, "--stands"), 0.0) for m in typed.stands),
        *read("foot-gap", "--hangs", typed.hangs),
    ]


def _challenge(site: _Site, lines: Sequence[LogLine]) -> None:
    """Refuse typed readings that are far from what is expected, all at once, unless they are typed as sure."""
    if site.bench.asked.is_sure:
        return
    expected = {b.mark: b for b in site.bases}
    gaps = {line.mark: line.value for line in lines if line.what == "post-gap"}
    length, faults = site.bench.speaker.length, []
    for line in lines:
        base = expected[line.mark]
        if line.what == "foot-gap":
            wanted, within = 0.0, _WIDE
        elif line.what in {"post-gap", "post-length"}:
            wanted = gaps.get(line.mark, base.length) if line.what == "post-length" else base.length
            within = max(_GROSS, 3.0 * NINETEEN_IN_TWENTY * base.sigma)
        else:
            continue
        if math.isnan(wanted) or abs(line.value - wanted) <= within:
            continue
        slip = likely_slip(line.value, expected=wanted, within=within)
        nearest = wanted if slip is None else slip.value
        option = {"post-gap": "--gap", "post-length": "--cut", "foot-gap": "--hangs"}[line.what]
        where = f"{option} {site.bench.speaker.mark(line.mark)}"
        faults.append(doubtful(where, found=length(line.value), nearest=length(max(0.0, nearest))).fault)
    if faults:
        raise OutOfRangeError(*faults)


def _stand(site: _Site, typed: PostsTyped, known: posts.Known) -> Answer:
    if np.isnan(known.clearance).any():
        missing = [m for m, c in zip(site.bare.frame.marks, known.clearance, strict=True) if math.isnan(c)]
        raise OutOfRangeError(
            *(Fault(where=f"posts.{m}", code="post-gap-missing", found=m, allowed=f"--gap {m} …") for m in missing)
        )
    told = site.telling
    walked = posts.walk(site.whole, known.clearance, person=told.person)
    spread = np.ptp(known.clearance)
    goal = posts.Goal(
        rock=told.limit,
        step=told.step,
        most=told.step * (math.ceil((spread + 2.0 * site.bench.figure("level_within")) / told.step) + 1),
        share=site.bench.figure("load_share"),
        prefer=posts.Hand(typed.prefer),
    )
    remedy, has_level = _remedy(site, known, goal)
    return stand_answer(
        told,
        Stood(
            known=known,
            walked=walked,
            rest=site.whole.stand_once(known.clearance),
            remedy=remedy,
            rock_sure=_rock_sure(site, known, walked),
            has_level=has_level,
        ),
        site.needs(),
    )


def _remedy(site: _Site, known: posts.Known, goal: posts.Goal) -> tuple[posts.Remedy | None, bool]:
    """Return the smallest remedy, one that leaves the floor level where there is one, and whether levels are known."""
    if posts.Basis.SEEN in known.bases:
        now = site.whole if site.readings.has_boards else site.bare
        lies = posts.lies_above(now, known, site.readings.levels_on_feet)
    else:
        lies = np.zeros(len(known.clearance)) if site.bench.plan is not None else None
    levels = (None,) if lies is None else (site.bench.figure("level_within"), None)
    remedy = None
    for level in levels:
        aim = replace(goal, level=level)
        trial = posts.make_trial(site.whole, aim, person=site.telling.person, lies=lies)
        if trial is None:
            return None, False
        remedy = posts.find_remedy(trial, known.clearance, may_swap=_swaps(site, known))
        if remedy.is_found:
            break
    return remedy, lies is not None


def _swaps(site: _Site, known: posts.Known) -> np.ndarray | None:
    swapped = known.swapped
    if swapped is None or site.bench.plan is None:
        return swapped
    return posts.may_stand_in(site.bench.plan.posts, swapped)


def _rock_sure(site: _Site, known: posts.Known, walked: posts.Walk) -> float:
    """Return how sure the rock is: +- mm, 19 times in 20, from floors drawn as the readings may be off."""
    if not walked.stands_empty:
        return 0.0
    draws = _DRAWS if len(known.sigma) <= posts.EXACT_UP_TO else _DRAWS_BEYOND
    normals = np.random.default_rng(1).normal(size=(draws, len(known.sigma)))
    rock = posts.rocks(site.whole, known.clearance + known.sigma * normals, person=site.telling.person)
    low, high = np.nanquantile(rock, (0.025, 0.975))
    return float(max(walked.rock - low, high - walked.rock, 0.0))


def _odds(site: _Site, typed: PostsTyped) -> Answer:
    bench = site.bench
    if not 20 <= typed.samples <= 20_000:
        raise OutOfRangeError(
            Fault(where="--samples", code="too-large", found=str(typed.samples), allowed="20 … 20000")
        )
    cut = bench.length(typed.cutting, "--cutting") if typed.cutting else posts.cut_tolerance()
    errors = posts.Errors(
        gap=_positive(bench, typed.tape, "--tape", "gap_reading") / NINETEEN_IN_TWENTY, cut=cut / NINETEEN_IN_TWENTY
    )
    normals = np.random.default_rng(typed.seed).normal(size=(typed.samples, site.whole.frame.count))
    sample = posts.Sample(
        footing=site.whole, errors=errors, limit=site.telling.limit, person=site.telling.person, normals=normals
    )
    chance = posts.odds_of_rocking(sample)
    return odds_answer(
        site.telling,
        chance,
        posts.how_tight(sample),
        posts.best_order(sample, tuple(site.readings.lengths)),
        errors,
    )
