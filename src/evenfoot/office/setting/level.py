"""Is the frame level: rod readings typed or from the log in, which foot to turn how often out."""

from __future__ import annotations

import math
import re
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenfoot.errors import Fault, NoSolutionError, OutOfRangeError, at
from evenfoot.job import LogLine
from evenfoot.office.setting.bench import Answer, Asked, Bench, doubtful, open_bench
from evenfoot.office.setting.level_words import Found, level_answer
from evenfoot.office.setting.square import within_of
from evenfoot.plan import Plan
from evenfoot.setting import level, likely_slip
from evenfoot.units import parse_ratio

KINDS = ("frame-rod", "frame-level")
_STAND = re.compile(r"(\d+)(?:/(\d+))?")
_FAR_OFF = 40.0
"""A reading this far off the middle of all is a slip or no frame that feet can level [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelTyped:
    """What was typed for a question about level; texts are lengths in any unit.

    ``rods``: marks with what the rod or tape read down from the line of sight; the first mark again at the end closes.
    ``levels``: marks with a height read upward. ``at``: where a mark is (x, y); ``origin``: where the instrument stood,
    else ``away`` from it for each mark. A mark read from a second stand is written ``A1@2``. ``free``: marks without a
    foot. ``fixed``: feet that cannot be turned.
    """

    rods: Sequence[tuple[str, str]] = ()
    levels: Sequence[tuple[str, str]] = ()
    at: Sequence[tuple[str, str, str]] = ()
    away: Sequence[tuple[str, str]] = ()
    origin: Sequence[str] = ()
    is_more: bool = False
    """Whether these readings are one more stand of the last survey, no new one."""
    free: Sequence[str] = ()
    fixed: Sequence[str] = ()
    pitch: str = ""
    per_turn: int = 4
    reading: str = ""
    tilt: str = ""
    """Error of the instrument's line for each length, as 0.3/1000."""
    within: str = ""


def ask_level(asked: Asked, typed: LevelTyped) -> Answer:
    """Return how the frame lies and which feet to turn, from what is typed and, beside a job, from its log.

    Readings typed with a job are added to its log first.
    Raises: OutOfRangeError (``reading-doubtful``) for a typed reading that looks like a slip, unless it is sure;
    (``level-nothing-read``) when there is none; (``sights-too-few``) when too few marks hang together.
    """
    bench = open_bench(asked)
    typed = _with_own_marks(bench, typed)
    places = _places(bench, typed)
    before = [line for line in bench.log.standing if line.what in KINDS]
    stand = _Stand.after(before, is_more=typed.is_more)
    new = [_line(bench, typed, places, ("frame-rod", mark, text), stand) for mark, text in typed.rods]
    new += [_line(bench, typed, places, ("frame-level", mark, text), stand) for mark, text in typed.levels]
    _challenge(bench, new)
    for line in new:
        _spot(bench, typed, places, line.mark)  # a mark that is none never gets into the log
    bench = bench.note(new)
    lines = [line for line in bench.log.standing if line.what in KINDS]
    if not lines:
        raise OutOfRangeError(Fault(where="level", code="level-nothing-read", allowed="--rod, --level"))
    last = max(_Stand.of(line).survey for line in lines)
    sights = _last_of_each([_sight(line) for line in lines if _Stand.of(line).survey == last])
    found = level.survey(sights, _instrument(bench, typed))
    spots = {mark: _spot(bench, typed, places, mark) for mark in found.marks}
    if not any(spot.is_foot for spot in spots.values()):
        raise OutOfRangeError(Fault(where="level", code="level-no-foot", found=", ".join(found.marks)))
    within = within_of(bench, typed.within, "level")
    lie = level.lie_of(found, spots, within=within)
    thread = _thread(bench, typed)
    off = {foot.mark: foot.off for foot in lie.feet}
    turns = level.best_turns(off, thread, within=within, fixed=frozenset(typed.fixed))
    posts = () if bench.plan is None else tuple(str(post.mark) for post in bench.plan.frame.posts)
    return level_answer(
        bench,
        Found(
            survey=found,
            lie=lie,
            turns=turns,
            visits=_order(bench.plan, turns, thread),
            thread=thread,
            unread=tuple(mark for mark in posts if mark not in off),
            has_own=bool(typed.reading and typed.tilt and typed.pitch),
        ),
    )


def _with_own_marks(bench: Bench, typed: LevelTyped) -> LevelTyped:
    """Return what was typed with every mark as it is kept: i-ro-ha and full width are read too."""
    own = bench.speaker.typed_mark
    return replace(
        typed,
        rods=[(own(mark), value) for mark, value in typed.rods],
        levels=[(own(mark), value) for mark, value in typed.levels],
        at=[(own(mark), x, y) for mark, x, y in typed.at],
        away=[(own(mark), value) for mark, value in typed.away],
        free=[own(mark) for mark in typed.free],
        fixed=[own(mark) for mark in typed.fixed],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stand:
    """A standing of the instrument within a survey, written ``3/2``: the second one of the third survey.

    Feet are turned between surveys, so that only the last one tells how the frame lies.
    """

    survey: int
    number: int

    @staticmethod
    def of(line: LogLine) -> _Stand:
        """Return the stand of a line; one without a number belongs to the first survey."""
        found = _STAND.fullmatch(line.stand)
        return _Stand(survey=int(found[1]), number=int(found[2] or 1)) if found else _Stand(survey=0, number=1)

    @staticmethod
    def after(lines: Sequence[LogLine], *, is_more: bool) -> _Stand:
        """Return the stand of new readings: a new survey, or one more stand of the last one."""
        last = max((_Stand.of(line) for line in lines), key=lambda s: (s.survey, s.number), default=None)
        if last is None:
            return _Stand(survey=1, number=1)
        if is_more:
            return _Stand(survey=last.survey, number=last.number + 1)
        return _Stand(survey=last.survey + 1, number=1)

    def at(self, number: int) -> str:
        """Return the name of a stand of the same survey, counted on from this one."""
        return f"{self.survey}/{self.number + number - 1}"


def _line(
    bench: Bench,
    typed: LevelTyped,
    places: Mapping[str, tuple[float, float]],
    reading: tuple[str, str, str],
    stand: _Stand,
) -> LogLine:
    """Return a typed reading (kind, mark, value) as a fact; a mark may carry its stand behind an at-sign."""
    what, typed_mark, text = reading
    mark, _, number = typed_mark.partition("@")
    away = next((bench.length(d, f"--away {m}") for m, d in typed.away if m == typed_mark), None)
    if away is None and typed.origin and mark in places:
        x, y = (bench.length(value, "--from") for value in typed.origin)
        away = math.dist(places[mark], (x, y))
    option = "--rod" if what == "frame-rod" else "--level"
    value = bench.length(text, f"{option} {typed_mark}")
    if number and not (number.isdecimal() and 1 <= int(number) <= 99):
        raise OutOfRangeError(Fault(where=option, code="stand-unread", found=typed_mark, allowed="A1@2"))
    return replace(bench.line(what, mark, value), stand=stand.at(int(number or 1)), away=away)


def _sight(line: LogLine) -> level.Sight:
    return level.Sight(
        stand=f"{line.what} {line.stand}",
        mark=line.mark,
        value=line.value,
        is_down=line.what == "frame-rod",
        away=line.away,
        accuracy=line.accuracy,
        where=line.where,
    )


def _last_of_each(sights: Sequence[level.Sight]) -> list[level.Sight]:
    """Return the readings that count: in each stand the last of each mark, but its first mark twice when it closed."""
    out: list[level.Sight] = []
    for stand in dict.fromkeys(s.stand for s in sights):
        own = [s for s in sights if s.stand == stand]
        closes = len(own) > 2 and own[0].mark == own[-1].mark
        latest = {s.mark: s for s in (own[:-1] if closes else own)}
        out += [*latest.values(), *([own[-1]] if closes else [])]
    return out


def _places(bench: Bench, typed: LevelTyped) -> dict[str, tuple[float, float]]:
    """Return where marks are [mm]: posts, crossings of the grid and corners of a job's frame, then what was typed."""
    found: dict[str, tuple[float, float]] = {}
    if bench.plan is not None:
        frame, layout = bench.plan.frame, bench.plan.layout
        letters = [line for line in frame.grid if line.axis.value == "x"]
        numbers = [line for line in frame.grid if line.axis.value == "y"]
        found |= {f"{a.label}{b.label}": (a.position, b.position) for a in letters for b in numbers}
        (x0, x1), (y0, y1) = layout.frame_x, layout.frame_y
        found |= {"1": (x0, y0), "2": (x1, y0), "3": (x1, y1), "4": (x0, y1)}
        found |= {str(post.mark): (post.x, post.y) for post in frame.posts}
    for mark, x, y in typed.at:
        found[mark] = bench.length(x, f"--at {mark}"), bench.length(y, f"--at {mark}")
    return found


def _spot(bench: Bench, typed: LevelTyped, places: Mapping[str, tuple[float, float]], mark: str) -> level.Spot:
    place = places.get(mark)
    plan = bench.plan
    if plan is None:
        return level.Spot(mark=mark, at=place, planned=0.0, is_foot=mark not in typed.free)
    if place is None:
        some = ", ".join(str(post.mark) for post in plan.frame.posts[:3])
        raise OutOfRangeError(Fault(where=mark, code="level-mark-unknown", found=mark, allowed=f"{some} … 1, 2, 3, 4"))
    is_foot = mark in {str(post.mark) for post in plan.frame.posts} and mark not in typed.free
    return level.Spot(mark=mark, at=place, planned=-plan.frame.fall * place[1], is_foot=is_foot)


def _challenge(bench: Bench, new: Sequence[LogLine]) -> None:
    """Refuse typed readings that are far from the others of their stand, unless typed as sure."""
    faults = []
    for line in new:
        others = [o.value for o in new if o.stand == line.stand and o.what == line.what and o is not line]
        if bench.asked.is_sure or len(others) < 2:
            continue
        middle = statistics.median(others)
        if abs(line.value - middle) > _FAR_OFF:
            slip = likely_slip(line.value, expected=middle, within=_FAR_OFF / 2)
            nearest = middle if slip is None else slip.value
            length = bench.said
            faults.append(doubtful(line.mark, found=length(line.value), nearest=length(nearest)).fault)
    if faults:
        raise OutOfRangeError(*faults)


def _instrument(bench: Bench, typed: LevelTyped) -> level.Instrument:
    reading = bench.length(typed.reading, "--reading") if typed.reading else bench.figure("rod_reading")
    with at("--tilt"):
        tilt = float(parse_ratio(typed.tilt)) if typed.tilt else bench.figure("laser_tilt") / 1000
    if not (0 < reading <= 100 and 0 <= tilt <= 0.1):
        found = f"{typed.reading} {typed.tilt}".strip()
        raise OutOfRangeError(Fault(where="--reading", code="too-large", found=found, allowed="> 0 … 100 mm, 0 … 0.1"))
    return level.Instrument(reading=reading, tilt=tilt)


def _thread(bench: Bench, typed: LevelTyped) -> level.Thread:
    pitch = bench.length(typed.pitch, "--pitch") if typed.pitch else bench.figure("foot_pitch")
    if not 0 < pitch <= 50:
        raise OutOfRangeError(Fault(where="--pitch", code="too-large", found=typed.pitch, allowed="> 0 … 50 mm"))
    return level.Thread(pitch=pitch, per_turn=typed.per_turn)


def _order(plan: Plan | None, turns: level.Turns, thread: level.Thread) -> tuple[level.Visit, ...]:
    """Return the order of visits: by the frame's stiffness beside a job that has one, else going round."""
    press = None
    if plan is not None and any(turns.steps.values()):
        heights = {cut.mark: cut.length for cut in plan.posts.cuts}
        try:
            press = level.press_of(plan.job, plan.frame, heights)
        except NoSolutionError:  # such a frame is a finding of the plan itself
            press = None
    return level.order_visits(turns, thread, press)


def level_questions(asked: Asked) -> tuple[tuple[str, str], ...]:
    """Return the readings to ask a person for: each post of a job, else four corners; then the first one again."""
    bench = open_bench(asked)
    plan = bench.plan
    marks = ["1", "2", "3", "4"] if plan is None else [str(post.mark) for post in plan.frame.posts]
    say = bench.speaker.say
    asks = [(mark, say("setting.ask-rod", mark=bench.speaker.mark(mark))) for mark in marks]
    return (*asks, (marks[0], say("setting.ask-rod-again", mark=bench.speaker.mark(marks[0]))))
