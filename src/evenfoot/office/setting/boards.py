"""What next for the boards: which spacers, and where each is marked, from what is typed and from the log."""

from __future__ import annotations

import re
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenfoot.errors import Fault, JobFileError, OutOfRangeError, at
from evenfoot.office.setting.bench import Answer, Asked, Bench, doubtful, open_bench
from evenfoot.office.setting.boards_words import MEASURED_ENOUGH, End, Floor, Laid, boards_answer
from evenfoot.office.setting.square import within_of
from evenfoot.setting import NINETEEN_IN_TWENTY, boards, likely_slip
from evenfoot.units import parse_ratio

_ROW = re.compile(r"b?(\d+)(?:\.\d+)?\s*(l|r|left|right)?", re.IGNORECASE)
_SIDES = {"": "", "l": "left", "r": "right"}
Key = tuple[int, str]
"""A row and the end of it that was read: ``left``, ``right``, or empty where both are alike."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardsTyped:
    """What was typed for a question about boards; every text is a length in any unit, rows by their number.

    ``edges``: the far edge of a laid row from the starting edge, the row as ``7``, ``7l`` or ``7r`` where its ends
    differ. ``widths``: rows with their width as measured. Without a job ``run`` (from the starting edge to the line),
    ``width`` and ``gap`` are needed.
    """

    edges: Sequence[tuple[str, str]] = ()
    widths: Sequence[tuple[str, str]] = ()
    moisture: Sequence[tuple[str, str]] = ()
    """Rows with their moisture [%]."""
    run: str = ""
    width: str = ""
    gap: str = ""
    last_gap: str = ""
    step: str = ""
    within: str = ""
    tape: str = ""
    every: int = 1


def ask_boards(asked: Asked, typed: BoardsTyped) -> Answer:
    """Return the spacers for the boards to come and the marks on the beams.

    Readings typed with a job are added to its log first.
    Raises: OutOfRangeError (``reading-doubtful``) for a typed reading that looks like a slip, unless it is sure;
    (``run-missing``) without a job and a run; (``run-done``) when every row is laid.
    """
    bench = open_bench(asked)
    floor = _planned(bench) if bench.plan is not None else _typed_floor(bench, typed)
    edges = {_key(row, "--edge"): bench.length(text, f"--edge {row}") for row, text in typed.edges}
    widths = {_key(row, "--board"): bench.length(text, f"--board {row}") for row, text in typed.widths}
    _challenge(bench, floor, edges, widths)
    bench = bench.note(
        [bench.line("board-edge", _mark(key), value) for key, value in edges.items()]
        + [bench.line("board-width", _mark(key), value) for key, value in widths.items()]
        + [bench.line("moisture", _mark(_key(row, "--moisture")), _percent(row, text)) for row, text in typed.moisture]
    )
    read = _Read(
        edges=_logged(bench, "board-edge"),
        widths={row: value for (row, _), value in _logged(bench, "board-width").items()},
    )
    spacing = boards.Spacing(
        low=floor.gap_low,
        high=floor.gap_high,
        step=bench.length(typed.step, "--step") if typed.step else bench.figure("gap_step"),
        seen=max(bench.figure("gap_seen"), bench.length(typed.step, "--step") if typed.step else 0.0),
        within=within_of(bench, typed.within, "run"),
        rip_min=floor.rip_min,
    )
    last = bench.length(typed.last_gap, "--last-gap") if typed.last_gap else None
    tape = bench.length(typed.tape, "--tape") if typed.tape else bench.figure("tape_reading")
    ends = [
        _end(bench, floor, read, side, _Hand(spacing=spacing, last=last, tape=tape, every=typed.every))
        for side in read.sides
    ]
    moist = _moist(bench, floor, ends[0].gap)
    return boards_answer(bench, Laid(floor=floor, ends=tuple(ends), spacing=spacing, widths=read.widths, moist=moist))


def _percent(row: str, text: str) -> float:
    """Return the typed moisture of a row [%]."""
    where = f"--moisture {row}"
    with at(where):
        value = float(parse_ratio(text.replace("%", "").replace("％", "")))
    if not 2 <= value <= 150:
        raise OutOfRangeError(Fault(where=where, code="too-large", found=text, allowed="2 … 150 %"))
    return value


def _moist(bench: Bench, floor: Floor, gap: boards.RunningGap) -> boards.MoistGap | None:
    """Return what the next gap becomes over the year, by the moistures of boards in a job's log; None without."""
    if bench.plan is None:
        return None
    marks = {line.mark: line.value for line in bench.log.latest("moisture").values() if _ROW.fullmatch(line.mark)}
    if not marks:
        return None
    board, climate = bench.plan.job.floor.board, bench.plan.job.climate
    return boards.moist_gap(
        board.species,
        width=board.width,
        read=statistics.fmean(marks.values()),
        laid=gap.gaps[0] if gap.gaps else floor.gap,
        planned_gap=floor.gap,
        year=boards.Year(day=climate.fixing, dry=climate.dry, wet=climate.wet),
    )


def boards_questions(asked: Asked) -> tuple[tuple[str, str], ...]:
    """Return the readings to ask a person for: (option, question); without a job the run as well."""
    bench = open_bench(replace(asked, job=None))
    alone = () if asked.job is not None else ("run", "width", "gap")
    asks = (*alone, "row", "edge", "last_gap")
    return tuple((option, bench.speaker.say(f"setting.ask-board-{option}")) for option in asks)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hand:
    """What is in hand: spacers, the gap laid last as typed, the tape [+- mm], how many boards to a mark."""

    spacing: boards.Spacing
    last: float | None
    tape: float
    every: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """What was measured: far edges by row and end, widths by row [mm]."""

    edges: Mapping[Key, float]
    widths: Mapping[int, float]

    @property
    def laid(self) -> int:
        """The last row whose edge was read; 0 when none was."""
        return max((row for row, _ in self.edges), default=0)

    @property
    def sides(self) -> tuple[str, ...]:
        """The ends to answer for: both where the last row was read at each."""
        found = {side for row, side in self.edges if row == self.laid}
        return ("left", "right") if {"left", "right"} <= found else (max(found, default=""),)


def _end(bench: Bench, floor: Floor, read: _Read, side: str, hand: _Hand) -> End:
    laid = read.laid
    edge = read.edges.get((laid, side)) if laid else None
    to_come = floor.rows[laid:]
    nominal = [row.far - row.near for row in to_come]
    off = [value - (floor.rows[row - 1].far - floor.rows[row - 1].near) for row, value in read.widths.items()]
    is_known = len(off) >= MEASURED_ENOUGH
    common, spread = (statistics.fmean(off), statistics.stdev(off)) if is_known else (0.0, 0.0)
    widths = tuple(read.widths.get(row.number, w + common) for row, w in zip(to_come, nominal, strict=True))
    run = boards.OpenRun(
        left=floor.line - (edge or 0.0),
        widths=widths,
        last_gap=None if edge is None else _last_gap(floor, read, side, hand),
        left_sigma=hand.tape / NINETEEN_IN_TWENTY,
        width_sigma=spread if is_known else bench.figure("board_width") / NINETEEN_IN_TWENTY,
        common_sigma=spread / len(off) ** 0.5 if is_known else bench.figure("board_batch") / NINETEEN_IN_TWENTY,
    )
    gap = boards.running_gap(run, hand.spacing)
    marks = boards.board_marks(to_come, laid_to=edge, gaps=gap.gaps, widths=widths, every=hand.every)
    return End(side=side, laid=laid, at=edge, gap=gap, marks=marks)


def _last_gap(floor: Floor, read: _Read, side: str, hand: _Hand) -> float:
    """Return the gap laid last [mm]: as typed, as the last two edges say, else as planned."""
    laid = read.laid
    if hand.last is not None:
        return hand.last
    before = read.edges.get((laid - 1, side))
    if before is None or laid not in read.widths:
        return floor.gap
    return read.edges[laid, side] - before - read.widths[laid]


def _planned(bench: Bench) -> Floor:
    assert bench.plan is not None
    layout, board = bench.plan.layout, bench.plan.job.floor.board
    rows = tuple(boards.PlannedRow(number=r.number, near=r.near, far=r.far) for r in layout.rows)
    return Floor(
        rows=rows,
        line=rows[-1].far,
        gap=layout.gap,
        gap_low=min(board.gap_min, layout.gap),
        gap_high=max(board.gap_max, layout.gap),
        rip_min=board.rip_min,
        start="left" if abs(board.direction_deg) > 45 else "outer",
    )


def _typed_floor(bench: Bench, typed: BoardsTyped) -> Floor:
    """Return the rows of a typed run: as many as bring the gap nearest to the one that is wanted."""
    if not (typed.run and typed.width and typed.gap):
        raise OutOfRangeError(Fault(where="boards", code="run-missing", allowed="--run, --width, --gap"))
    run, width, gap = (
        bench.length(text, option)
        for text, option in ((typed.run, "--run"), (typed.width, "--width"), (typed.gap, "--gap"))
    )
    if not (0 < width < run <= 1_000_000 and 0 <= gap < width and run / width < 20_000):
        raise OutOfRangeError(Fault(where="--run", code="run-unfit", found=f"{typed.run}, {typed.width}, {typed.gap}"))
    count = max(2, round((run + gap) / (width + gap)))
    even = (run - count * width) / (count - 1)
    pitch = width + even
    rows = [boards.PlannedRow(number=n + 1, near=n * pitch, far=n * pitch + width) for n in range(count)]
    return Floor(
        rows=tuple(rows),
        line=run,
        gap=even,
        gap_low=gap / 2,
        gap_high=gap * 1.5,
        rip_min=width / 2,
        start="typed",
    )


def _challenge(bench: Bench, floor: Floor, edges: Mapping[Key, float], widths: Mapping[Key, float]) -> None:
    """Refuse typed readings that are far from the plan, unless typed as sure; rows that there are not, always."""
    faults = []
    for option, readings in (("--edge", edges), ("--board", widths)):
        for (row, side), value in readings.items():
            if not 1 <= row <= len(floor.rows):
                raise JobFileError(
                    Fault(where=f"{option} {row}", code="row-unknown", found=str(row), allowed=f"1 … {len(floor.rows)}")
                )
            planned = floor.rows[row - 1]
            width = planned.far - planned.near
            expected, free = (planned.far, 0.6 * width) if option == "--edge" else (width, 0.15 * width)
            if abs(value - expected) <= free or bench.asked.is_sure:
                continue
            slip = likely_slip(value, expected=expected, within=free / 4)
            nearest = expected if slip is None else slip.value
            length = bench.said
            where = f"{option} {row}{side[:1]}"
            faults.append(doubtful(where, found=length(value), nearest=length(nearest)).fault)
    if faults:
        raise OutOfRangeError(*faults)


def _logged(bench: Bench, what: str) -> dict[Key, float]:
    return {_key(line.mark, line.where): line.value for line in bench.log.latest(what).values()}


def _key(text: str, where: str) -> Key:
    found = _ROW.fullmatch(text.strip())
    if found is None:
        raise JobFileError(Fault(where=where, code="row-unread", found=text, allowed="7, 7l, 7r"))
    return int(found[1]), _SIDES[(found[2] or "")[:1].lower()]


def _mark(key: Key) -> str:
    row, side = key
    return f"b{row} {side}".strip()
