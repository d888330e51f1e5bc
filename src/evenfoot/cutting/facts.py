"""What has come and what is sawn already: the sticks in hand, what is left of each, and the pieces that are done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from evenfoot.checks import Check, Verdict
from evenfoot.cutting.lengths import clear_runs, trims
from evenfoot.cutting.model import DonePiece, Piece, PlacedCut, Stretch
from evenfoot.job import Log, LogLine, Yard, kinds

KINDS = frozenset({"stick", "sawn", "stick-gone"})
TRUE = 1.0
"""A piece sawn this near to its length is that piece [mm]."""
SPECK = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class HandStick:
    """A stick that is here and was measured [mm]; stretches run from its cleaner end."""

    name: str
    species: str
    look: kinds.Look
    strength_grade: str
    width: float
    depth: float
    length: float
    bad: tuple[Stretch, ...]
    flaws: tuple[Stretch, ...]
    free: tuple[Stretch, ...]
    """What is still there between the trims."""
    done: tuple[PlacedCut, ...]
    """What is sawn from it already."""
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is in hand, what is done, and what of the wanted pieces is still to be cut."""

    sticks: tuple[HandStick, ...]
    done: tuple[DonePiece, ...]
    to_cut: tuple[Piece, ...]
    checks: tuple[Check, ...]


def timber_facts(log: Log) -> tuple[LogLine, ...]:
    """Return the standing lines of a log that are about sticks and sawn pieces, in their order."""
    return tuple(line for line in log.standing if line.what in KINDS)


def settle(lines: Sequence[LogLine], pieces: Sequence[Piece], yard: Yard) -> Facts:
    """Return what the facts make of the pieces wanted.

    A piece sawn to its length, give or take a millimetre, is done. One that is not is timber in hand under its own
    mark, both ends clean, and its piece is still wanted.
    """
    hall = _Hall(pieces, yard)
    for line in lines:
        hall.take(line)
    return Facts(
        sticks=tuple(hall.sticks.values()),
        done=tuple(hall.done),
        to_cut=hall.to_cut(),
        checks=tuple(hall.checks),
    )


class _Hall:
    """The timber as it stands after each fact."""

    def __init__(self, pieces: Sequence[Piece], yard: Yard) -> None:
        self.pieces, self.yard = pieces, yard
        self.wanted = {piece.mark: piece for piece in pieces}
        self.sticks: dict[str, HandStick] = {}
        self.done: list[DonePiece] = []
        self.checks: list[Check] = []

    def to_cut(self) -> tuple[Piece, ...]:
        """Return the pieces that are not done."""
        done = Counter(one.mark for one in self.done)
        left: list[Piece] = []
        for piece in self.pieces:
            if done[piece.mark]:
                done[piece.mark] -= 1
            else:
                left.append(piece)
        return tuple(left)

    def take(self, line: LogLine) -> None:
        """Take one fact in."""
        if line.what == "stick":
            self.sticks[line.mark] = self._came(line)
        elif line.what == "stick-gone":
            if self.sticks.pop(line.mark, None) is None:
                self._note(line, "cut-fact-stick-unknown", stick=line.mark)
        else:
            self._sawn(line)

    def _came(self, line: LogLine) -> HandStick:
        came = line.came
        assert came is not None, "a stick says what it is"
        first, far = trims(end_trim=self.yard.end_trim, clean_ends=came.clean_ends)
        return HandStick(
            name=line.mark,
            species=came.species,
            look=came.look,
            strength_grade=came.strength_grade,
            width=came.width,
            depth=came.depth,
            length=line.value,
            bad=came.bad,
            flaws=came.flaws,
            free=((first, line.value - far),) if line.value > first + far else (),
            done=(),
            where=line.where,
        )

    def _sawn(self, line: LogLine) -> None:
        piece = self.wanted.get(line.mark)
        if line.stick:
            self._take_off(line, piece)
        if piece is None:
            self._note(line, "cut-fact-piece-unknown")
            return
        is_new = line.mark not in {one.mark for one in self.done}
        if is_new and abs(line.value - piece.length) <= TRUE:
            self.done.append(DonePiece(mark=line.mark, length=line.value, stick=line.stick, where=line.where))
            return
        if is_new:
            rule = "cut-fact-short" if line.value < piece.length else "cut-fact-long"
            self._note(line, rule, wanted_mm=piece.length, by_mm=abs(line.value - piece.length))
        self.sticks[line.mark] = _loose(piece, line)

    def _take_off(self, line: LogLine, piece: Piece | None) -> None:
        """Take a piece off the stick that it came from."""
        stick = self.sticks.get(line.stick)
        if stick is None:
            self._note(line, "cut-fact-stick-unknown", stick=line.stick)
            return
        begin = self._begin(stick, line, piece)
        if begin is None:
            self._note(line, "cut-fact-no-room", stick=line.stick)
            del self.sticks[line.stick]
            return
        finish = begin + line.value
        cut = PlacedCut(mark=line.mark, begin=begin, finish=finish, is_done=True)
        free = [s for stretch in stick.free for s in _without(stretch, (begin, finish), self.yard.kerf)]
        self.sticks[line.stick] = replace(stick, free=tuple(free), done=(*stick.done, cut))

    def _begin(self, stick: HandStick, line: LogLine, piece: Piece | None) -> float | None:
        """Return where a piece began on its stick [mm]; None where there is no room for it."""
        kerf = self.yard.kerf
        around = clear_runs(stick.free, (*stick.bad, *stick.flaws), kerf=kerf)
        through = clear_runs(stick.free, stick.bad, kerf=kerf)
        if line.at is not None:
            fits = any(a - SPECK <= line.at and line.at + line.value <= b + SPECK for a, b in stick.free)
            return line.at if fits else None
        runs = around if piece is not None and piece.is_clear else (*around, *through)
        return next((a for a, b in runs if b - a >= line.value - SPECK), None)

    def _note(self, line: LogLine, rule: str, **facts: str | float) -> None:
        grave = rule in {"cut-fact-no-room", "cut-fact-stick-unknown"}
        self.checks.append(
            Check(
                subject=line.mark,
                rule=rule,
                verdict=Verdict.NOT_CHECKED if grave else Verdict.OK,
                demand=line.value,
                unit="mm",
                facts=(("length_mm", line.value), *facts.items()),
            )
        )


def _without(stretch: Stretch, taken: Stretch, kerf: float) -> list[Stretch]:
    """Return what is left of a stretch once a piece is off it, a saw cut at either side."""
    (begin, finish), (a, b) = stretch, taken
    if b <= begin or a >= finish:
        return [stretch]
    left = [(begin, a - kerf), (b + kerf, finish)]
    return [(x, y) for x, y in left if y - x > SPECK]


def _loose(piece: Piece, line: LogLine) -> HandStick:
    """Return a piece that came out at another length, as timber in hand with two clean ends."""
    return HandStick(
        name=line.mark,
        species=piece.species,
        look=piece.look,
        strength_grade=piece.strength_grade,
        width=piece.width,
        depth=piece.depth,
        length=line.value,
        bad=(),
        flaws=(),
        free=((0.0, line.value),),
        done=(),
        where=line.where,
    )
