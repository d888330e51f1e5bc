"""Is the frame square: readings typed or from the log in, three lines and the detail out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenfoot.errors import Fault, JobFileError, OutOfRangeError
from evenfoot.office.setting.bench import Answer, Asked, Bench, doubtful, open_bench
from evenfoot.office.setting.square_words import mark, square_answer
from evenfoot.setting import square

SIDES = ((0, 1), (1, 2), (2, 3), (3, 0))
DIAGONALS = ((0, 2), (1, 3))
Point = tuple[float, float]
UNREAD = "?"
SAME = "="


@dataclass(frozen=True, slots=True, kw_only=True)
class SquareTyped:
    """What was typed for a question about squareness; every text is a length in any unit.

    ``sides`` (from the house round by the right) and ``diagonals`` (1-3, 2-4) may hold ``?`` for not measured, and a
    side ``=`` for alike with the one opposite. ``between`` are pairs of corners with their distance.
    """

    sides: Sequence[str] = ()
    diagonals: Sequence[str] = ()
    between: Sequence[tuple[str, str]] = ()
    size: Sequence[str] = ()
    """Width and depth that the frame should have; empty = only squareness is asked for."""
    corners: Sequence[tuple[str, str]] = ()
    """x and y of each corner as it should be, for a frame of another shape."""
    within: str = ""
    tape: str = ""


def ask_square(asked: Asked, typed: SquareTyped) -> Answer:
    """Return whether the frame is square and what to do, from what is typed and, beside a job, from its log.

    Typed readings are added to the job's log once they are known to be distances of this frame.
    Raises: OutOfRangeError (``reading-doubtful``) for a typed reading that looks like a slip, unless it is sure.
    """
    bench = open_bench(asked)
    new, same = _typed_distances(bench, typed)
    old = _logged(bench)
    distances = _merged(old, new)
    if not distances:
        raise OutOfRangeError(Fault(where="square", code="square-nothing-read", allowed="--sides, --diagonals"))
    corners, is_size_known = _corners(bench, typed, distances)
    _challenge(bench, new, distances, corners)
    wanted = square.Wanted(
        corners=corners, is_size_known=is_size_known, within=within_of(bench, typed.within, "square"), same=same
    )
    tape = tape_of(bench, typed.tape)
    result = square.square_up(wanted, distances, tape)
    without = None
    if len(result.suspects) == 1:
        kept = [d for d in distances if square.ordered(d.pair) != square.ordered(result.suspects[0].pair)]
        without = square.square_up(wanted, kept, tape)
    bench.note([bench.line("distance", mark(d.pair), d.value) for d in new])
    return square_answer(bench, result, without, is_own_tape=bool(typed.tape))


def square_questions(asked: Asked) -> tuple[tuple[str, str], ...]:
    """Return the readings to ask a person for, in the order that one walks round: (option, question)."""
    speaker = open_bench(replace(asked, job=None)).speaker
    return tuple(
        (option, speaker.say(f"setting.ask-{option}", first=a + 1, second=b + 1, place_code=f"setting.line-{a}{b}"))
        for option, pairs in (("sides", SIDES), ("diagonals", DIAGONALS))
        for a, b in pairs
    )


def tape_of(bench: Bench, typed: str) -> square.Tape:
    """Return how sure the tape is: as typed, or as on record."""
    reading = bench.length(typed, "--tape") if typed else bench.figure("tape_reading")
    if not 0 < reading <= 100:
        raise OutOfRangeError(Fault(where="--tape", code="too-large", found=typed, allowed="> 0 … 100 mm"))
    return square.Tape(reading=reading, scale=bench.figure("tape_scale") / 1000)


def within_of(bench: Bench, typed: str, about: str) -> float:
    """Return how far off is still right [mm]: as typed, or as on record."""
    within = bench.length(typed, "--within") if typed else bench.figure(f"{about}_within")
    if not 0 < within <= 1000:
        raise OutOfRangeError(Fault(where="--within", code="too-large", found=typed, allowed="> 0 … 1000 mm"))
    return within


def _typed_distances(
    bench: Bench, typed: SquareTyped
) -> tuple[list[square.Distance], tuple[tuple[tuple[int, int], tuple[int, int]], ...]]:
    found: list[square.Distance] = []
    same = []
    named = [*zip(SIDES, typed.sides, strict=False), *zip(DIAGONALS, typed.diagonals, strict=False)]
    for pair, text in named:
        if text.strip() == SAME and pair in SIDES:
            number = SIDES.index(pair)
            same.append((SIDES[number % 2], SIDES[number % 2 + 2]))
        elif text.strip() not in {UNREAD, ""}:
            found.append(_distance(bench, pair, text))
    found += [_distance(bench, _pair(corners, "--between"), text) for corners, text in typed.between]
    return found, tuple(dict.fromkeys(same))


def _distance(bench: Bench, pair: tuple[int, int], text: str) -> square.Distance:
    where = mark(pair)
    value = bench.length(text, where)
    if not 0 < value <= 100_000:
        raise OutOfRangeError(Fault(where=where, code="too-small", found=text, allowed="> 0 mm … 100 m", nearest=""))
    return square.Distance(pair=pair, value=value, where=where)


def _pair(text: str, where: str) -> tuple[int, int]:
    first, _, second = text.partition("-")
    if not (first.strip().isdecimal() and second.strip().isdecimal() and int(first) != int(second)):
        raise JobFileError(Fault(where=where, code="corners-unread", found=text, allowed="1-2, 1-3 …"))
    return int(first) - 1, int(second) - 1


def _logged(bench: Bench) -> list[square.Distance]:
    return [
        square.Distance(pair=_pair(line.mark, line.where), value=line.value, accuracy=line.accuracy, where=line.where)
        for line in bench.log.latest("distance").values()
    ]


def _merged(old: Sequence[square.Distance], new: Sequence[square.Distance]) -> list[square.Distance]:
    """Return the last reading of each distance."""
    last: Mapping[tuple[int, int], square.Distance] = {square.ordered(d.pair): d for d in (*old, *new)}
    return list(last.values())


def _corners(bench: Bench, typed: SquareTyped, distances: Sequence[square.Distance]) -> tuple[tuple[Point, ...], bool]:
    """Return the corners as they should be, and whether their distances are wanted too, not their squareness alone."""
    if typed.corners:
        texts = [(x, y, f"--corner {n}") for n, (x, y) in enumerate(typed.corners, start=1)]
        return tuple((bench.length(x, where), bench.length(y, where)) for x, y, where in texts), True
    if typed.size:
        width, depth = (bench.length(text, "--size") for text in typed.size)
        return _box(width, depth), True
    if bench.plan is not None:
        layout = bench.plan.layout
        depth = (layout.frame_y[1] - layout.frame_y[0]) * math.hypot(1.0, bench.plan.job.floor.fall)
        return _box(layout.frame_x[1] - layout.frame_x[0], depth), True
    size = square.likely_box(distances)
    if size is None:
        raise OutOfRangeError(Fault(where="square", code="square-too-little", allowed="--sides, --diagonals, --size"))
    return _box(*size), False


def _box(width: float, depth: float) -> tuple[Point, ...]:
    return (0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)


def _challenge(
    bench: Bench,
    new: Sequence[square.Distance],
    distances: Sequence[square.Distance],
    corners: tuple[Point, ...],
) -> None:
    """Refuse typed distances that are far from what the rest says, all at once, unless they are typed as sure."""
    if bench.asked.is_sure:
        return
    pairs = {square.ordered(d.pair) for d in new}
    inside = [d for d in distances if max(d.pair) < len(corners)]
    slips = [s for s in square.gross_slips(inside, corners) if square.ordered(s.pair) in pairs]
    length = bench.said
    faults = [
        doubtful(mark(s.pair), found=length(s.found), nearest=length(s.expected if s.slip is None else s.slip.value))
        for s in slips
    ]
    if faults:
        raise OutOfRangeError(*(one.fault for one in faults))
