"""Which bowed boards are pushed straight and which are swapped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from evenfoot.errors import Fault, JobFileError, OutOfRangeError
from evenfoot.office.setting.bench import Answer, Asked, Bench, doubtful, open_bench
from evenfoot.setting import boards, likely_slip
from evenfoot.units import parse_ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class BowsTyped:
    """Boards with their bow under a string line; ``length``, ``width``, ``thickness``, ``spacing`` when no job tells.

    ``stiffness`` is the wood's modulus of elasticity [N/mm2].
    """

    bows: Sequence[tuple[str, str]] = ()
    length: str = ""
    width: str = ""
    thickness: str = ""
    spacing: str = ""
    stiffness: str = ""


def ask_bows(asked: Asked, typed: BowsTyped) -> Answer:
    """Return what to do with each bowed board, those typed and, beside a job, those of its log.

    Raises: OutOfRangeError (``reading-doubtful``) for a bow that looks like a slip, unless it is sure;
    (``bow-missing``) without sizes; JobFileError (``board-unknown``) for a board that the plan does not have.
    """
    bench = open_bench(asked)
    new = {mark: bench.length(text, f"--bow {mark}") for mark, text in typed.bows}
    sizes = {mark: _size(bench, typed, mark) for mark in new}
    _challenge(bench, new, sizes)
    bench = bench.note([bench.line("bow", mark, value) for mark, value in new.items()])
    read = {line.mark: line.value for line in bench.log.latest("bow").values()}
    done = {
        mark: boards.straighten(
            _bowed(bench, typed, _size(bench, typed, mark), bow),
            push_most=bench.figure("bow_push"),
            seen=bench.figure("gap_seen"),
        )
        for mark, bow in read.items()
    }
    return _answer(bench, done, is_own=bool(typed.stiffness))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Size:
    length: float
    width: float
    thickness: float
    spacing: float


def _size(bench: Bench, typed: BowsTyped, mark: str) -> _Size:
    texts = {"length": typed.length, "width": typed.width, "thickness": typed.thickness, "spacing": typed.spacing}
    given = {name: bench.length(text, f"--{name}") for name, text in texts.items() if text}
    if bench.plan is not None and len(given) < len(texts):
        piece = next((p for p in bench.plan.layout.pieces if p.mark == mark), None)
        if piece is None:
            marks = ", ".join(p.mark for p in bench.plan.layout.pieces[:3])
            raise JobFileError(Fault(where="--bow", code="board-unknown", found=mark, allowed=f"{marks} …"))
        planned = {
            "length": piece.length,
            "width": piece.width,
            "thickness": bench.plan.job.floor.board.thickness,
            "spacing": bench.plan.layout.board_span,
        }
        given = planned | given
    if len(given) < len(texts):
        allowed = ", ".join(f"--{name}" for name in texts if name not in given)
        raise OutOfRangeError(Fault(where="--bow", code="bow-missing", allowed=allowed))
    return _Size(**given)


def _bowed(bench: Bench, typed: BowsTyped, size: _Size, bow: float) -> boards.Bowed:
    own = float(parse_ratio(typed.stiffness)) if typed.stiffness else bench.figure("board_stiffness")
    return boards.Bowed(
        bow=bow,
        length=size.length,
        width=size.width,
        thickness=size.thickness,
        stiffness=own,
        spacing=size.spacing,
    )


def _challenge(bench: Bench, new: Mapping[str, float], sizes: Mapping[str, _Size]) -> None:
    """Refuse bows of more than a fiftieth of the length: no board that anyone would carry to the site has one."""
    if bench.asked.is_sure:
        return
    faults = []
    for mark, bow in new.items():
        most = sizes[mark].length / 50
        if abs(bow) > most:
            slip = likely_slip(abs(bow), expected=most / 4, within=most / 4)
            nearest = most / 4 if slip is None else slip.value
            length = bench.said
            faults.append(doubtful(f"--bow {mark}", found=length(bow), nearest=length(nearest)).fault)
    if faults:
        raise OutOfRangeError(*faults)


def _answer(bench: Bench, done: Mapping[str, boards.Straightening], *, is_own: bool) -> Answer:
    if not done:
        raise OutOfRangeError(Fault(where="boards", code="bow-nothing-read", allowed="--bow"))
    by_advice: dict[boards.BowAdvice, list[str]] = {advice: [] for advice in boards.BowAdvice}
    for mark, found in done.items():
        by_advice[found.advice].append(mark)
    say = bench.speaker.say
    swap, push = by_advice[boards.BowAdvice.SWAP], by_advice[boards.BowAdvice.PUSH]
    hardest = max(done.items(), key=lambda item: item[1].push)
    first = say("setting.bow.swap", marks=", ".join(swap)) if swap else say("setting.bow.no-swap")
    second = say("setting.bow.push", marks=", ".join(push)) if push else say("setting.bow.no-push")
    third = say("setting.bow.sure", mark=hardest[0], push=_kilos(hardest[1].push), newtons=f"{hardest[1].push:.0f}")
    detail = list(_details(bench, done))
    figures = ["bow_push", "gap_seen"] if is_own else ["board_stiffness", "bow_push", "gap_seen"]
    detail.append(bench.unconfirmed(figures, option="--stiffness"))
    return Answer(
        what="bow",
        lines=(first, second, third),
        detail=tuple(detail),
        record={"boards": [_record(mark, found) for mark, found in done.items()]},
        is_fine=not swap,
    )


def _details(bench: Bench, done: Mapping[str, boards.Straightening]) -> Iterator[str]:
    for mark, found in done.items():
        way = "setting.bow.in" if found.bowed.bow > 0 else "setting.bow.out"
        yield bench.speaker.say(
            f"setting.bow.{found.advice.value}-one",
            mark=mark,
            bow=bench.small(abs(found.bowed.bow)),
            way_code=way,
            push=_kilos(found.push),
            newtons=f"{found.push:.0f}",
            held=f"{found.held:.0f}",
            left=bench.plus(found.left),
            straight=bench.said(found.straight_length),
        )


def _kilos(newtons: float) -> str:
    """Return a force as the weight that hands know [kg]."""
    return f"{newtons / 9.80665:.0f}"


def _record(mark: str, found: boards.Straightening) -> dict[str, object]:
    return {
        "board": mark,
        "bow_mm": found.bowed.bow,
        "push_n": found.push,
        "held_n": found.held,
        "left_mm": found.left,
        "straight_length_mm": found.straight_length,
        "advice": found.advice.value,
    }
