"""The dual active set method of Goldfarb and Idnani for one-sided contacts, run on many cases side by side.

Source: D. Goldfarb and A. Idnani, A numerically stable dual method for solving strictly convex quadratic programs,
Mathematical Programming 27 (1983), 1-33: algorithm 3.2. The forces minimise 1/2 p.M.p + offset.p with
modes^T p = total and p >= 0; the gaps are the multipliers of p >= 0. The method begins with all contacts held and
lets the one that pulls most rise; a contact that would be crushed on the way is taken up again. Each full step makes
the dual function grow, so it ends after finitely many steps in degenerate cases too, and it ends without a step
exactly where no forces hold the body.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.solvers.complementarity.model import BoolArray, Contacts, FloatArray, Settled

IntArray = npt.NDArray[np.int64]

_PULL = 1e-10
"""A pull of less than this share of the case's greatest force, all contacts held, is none."""
_LEAST_PIVOT = 1e-10
"""A contact whose lift meets less than this share of its own stiffness is needed to hold the body."""
_SKETCHES = 5
_CHUNK = 4096
_CACHE = 12_000_000
"""Numbers kept in inverses of contact sets; above that all are forgotten."""
_FEW = 64
"""Contact sets that there is always room for."""
_MOST_STEPS = 40
"""Steps per contact after which a case that has not ended is a broken invariant."""


class Settler:
    """Settles one set of contacts under any number of cases; what it learns of one case serves the next."""

    def __init__(self, contacts: Contacts) -> None:
        self.contacts = contacts
        self._inverses = _Inverses(contacts)

    def settle(self, offset: FloatArray, total: FloatArray, guess: BoolArray | None = None) -> Settled:
        """Return how the body rests in k cases.

        Args: offset, shape (k, n), gaps without forces; total, shape (k, m), what the forces must add up to;
        guess, shape (k, n), contacts that probably touch (it changes the time taken, never the answer).
        """
        k, n = offset.shape
        touching = np.ones((k, n), dtype=bool)
        press, gap = np.full((k, n), np.nan), np.full((k, n), np.nan)
        modes, is_held = np.full(total.shape, np.nan), np.zeros(k, dtype=bool)
        for at in range(0, k, _CHUNK):
            part = slice(at, at + _CHUNK)
            run = _Run(self.contacts, self._inverses, offset[part], total[part])
            run.begin(None if guess is None else guess[part])
            run.finish()
            touching[part], is_held[part] = run.touching, run.is_held
            press[part], gap[part], modes[part] = run.press, run.gap, run.modes
        return Settled(press=press, gap=gap, modes=modes, is_touching=touching, is_held=is_held)


class _Inverses:
    """Inverses of the bordered matrix of each set of touching contacts, worked out when first met."""

    def __init__(self, contacts: Contacts) -> None:
        self._contacts = contacts
        self._known: dict[bytes, int] = {}
        size = sum(contacts.modes.shape)
        self._most = max(_FEW, _CACHE // max(1, size * size))
        self._kept = np.empty((_FEW, size, size))

    def of(self, touching: BoolArray) -> FloatArray:
        """Return one inverse per row of ``touching``, shape (k, n + m, n + m)."""
        packed = np.packbits(touching, axis=1)
        rows = packed.view(np.dtype((np.void, packed.shape[1]))).reshape(-1)
        _, first, which = np.unique(rows, return_index=True, return_inverse=True)
        keys = [rows[i].tobytes() for i in first]
        if len(self._known) + len(keys) > self._most:
            self._known = {}
        new = [i for i, key in zip(first, keys, strict=True) if key not in self._known]
        if new:
            start = len(self._known)
            self._known.update({rows[i].tobytes(): start + place for place, i in enumerate(new)})
            self._make_room(len(self._known))
            self._kept[start : start + len(new)] = self._invert(touching[new])
        places = np.array([self._known[key] for key in keys])
        return np.asarray(self._kept[places[which]])

    def _make_room(self, count: int) -> None:
        if count > len(self._kept):
            more = np.empty((max(count, 2 * len(self._kept)), *self._kept.shape[1:]))
            more[: len(self._kept)] = self._kept
            self._kept = more

    def _invert(self, touching: BoolArray) -> FloatArray:
        """Contacts that do not touch get a force of nothing: their row and column are those of the unit matrix."""
        n, m = self._contacts.modes.shape
        matrix = np.zeros((len(touching), n + m, n + m))
        both = touching[:, :, None] & touching[:, None, :]
        matrix[:, :n, :n] = np.where(both, self._contacts.flexibility, np.eye(n))
        border = np.where(touching[:, :, None], self._contacts.modes, 0.0)
        matrix[:, :n, n:] = border
        matrix[:, n:, :n] = border.transpose(0, 2, 1)
        return np.asarray(np.linalg.inv(matrix))


@dataclass(slots=True, kw_only=True, eq=False)
class _Step:
    """The running cases as they are now: forces, modes and gaps, and which contact is on its way up."""

    inverse: FloatArray
    press: FloatArray
    modes: FloatArray
    gap: FloatArray
    rising: IntArray
    """Number of the contact that rises; -1 where the case has ended."""


class _Run:
    """One run of the method over a handful of cases; the arrays hold the answers when it is finished."""

    def __init__(self, contacts: Contacts, inverses: _Inverses, offset: FloatArray, total: FloatArray) -> None:
        self._contacts, self._inverses = contacts, inverses
        self._give = np.vstack((contacts.flexibility, contacts.modes.T))
        self._offset, self._total = offset, total
        k, n = offset.shape
        self.touching = np.ones((k, n), dtype=bool)
        self.press, self.gap = np.full((k, n), np.nan), np.full((k, n), np.nan)
        self.modes = np.full(total.shape, np.nan)
        self.is_held = np.zeros(k, dtype=bool)
        self._rising = np.full(k, -1)
        self._lift = np.zeros(k)
        self._least = np.zeros(k)

    def begin(self, guess: BoolArray | None) -> None:
        """Set how small a pull counts, and take the guesses that the method may begin from.

        It may begin from any set whose other contacts all stand clear, whatever the forces are.
        """
        held = self._state(np.arange(len(self._offset)), self.touching)
        self._least = _PULL * np.max(np.abs(held.press), axis=1, initial=0.0)
        tried = self.touching.copy()
        if guess is not None:
            wanted = guess | self._contacts.is_two_way
            is_enough = self._hold(wanted)
            tried[is_enough] = wanted[is_enough]
        self._sketch(tried)

    def _sketch(self, tried: BoolArray) -> None:
        """Let go all that pull and take up all that are crushed, a few rounds long; begin where all others are clear.

        This mostly finds the answer, and proves nothing: the method itself has the last word.
        """
        rows = np.arange(len(tried))
        for turn in range(_SKETCHES + 1):
            now = self._state(rows, tried)
            pulls = tried & (now.press < -self._least[rows, None]) & ~self._contacts.is_two_way
            crushed = ~tried & (now.gap < 0.0)
            is_clear = ~crushed.any(axis=1)
            self.touching[rows[is_clear]] = tried[is_clear]
            is_open = pulls.any(axis=1) | ~is_clear
            rows, tried = rows[is_open], ((tried & ~pulls) | crushed)[is_open]
            is_enough = self._hold(tried)
            rows, tried = rows[is_enough], tried[is_enough]
            if turn == _SKETCHES or not len(rows):
                return

    def finish(self) -> None:
        """Run all cases to their ends."""
        open_rows = np.arange(len(self._offset))
        for _ in range(_MOST_STEPS * self._contacts.count):
            if not len(open_rows):
                return
            open_rows = self._advance(open_rows)
        raise AssertionError("a finite method did not end")

    def _hold(self, touching: BoolArray) -> BoolArray:
        """Whether each set of contacts holds every mode."""
        part = np.where(touching[:, :, None], self._contacts.modes, 0.0)
        squares = part.transpose(0, 2, 1) @ part
        if not squares.shape[1]:
            return np.ones(len(touching), dtype=bool)
        return np.asarray(np.linalg.eigvalsh(squares)[:, 0] > _LEAST_PIVOT)

    def _state(self, rows: IntArray, touching: BoolArray) -> _Step:
        n = self._contacts.count
        rising = self._rising[rows]
        inverse = self._inverses.of(touching)
        right = np.hstack((np.where(touching, -self._offset[rows], 0.0), self._total[rows]))
        is_rising = rising >= 0
        right[np.flatnonzero(is_rising), rising[is_rising]] += self._lift[rows][is_rising]
        found = (inverse @ right[:, :, None])[:, :, 0]
        press, modes = found[:, :n], found[:, n:]
        gap = self._offset[rows] + found @ self._give
        return _Step(inverse=inverse, press=press, modes=modes, gap=gap, rising=rising)

    def _advance(self, rows: IntArray) -> IntArray:
        """Take every open case one step on and return those that are still open."""
        now = self._state(rows, self.touching[rows])
        is_new = now.rising < 0
        push = np.where(self._contacts.is_two_way, np.inf, now.press)
        lowest = np.argmin(push, axis=1)
        is_done = is_new & (push[np.arange(len(rows)), lowest] >= -self._least[rows])
        self._end(rows[is_done], now, is_done)
        now.rising = np.where(is_new, lowest, now.rising)
        self._lift[rows[is_new]] = 0.0
        is_lost = np.zeros(len(rows), dtype=bool)
        is_open = ~is_done
        is_lost[is_open] = self._raise(rows[is_open], _take(now, is_open))
        return np.asarray(rows[is_open & ~is_lost])

    def _end(self, rows: IntArray, now: _Step, which: BoolArray) -> None:
        touching = self.touching[rows]
        self.press[rows] = np.where(touching, now.press[which], 0.0)
        self.gap[rows] = np.where(touching, 0.0, np.maximum(now.gap[which], 0.0))
        self.modes[rows] = now.modes[which]
        self.is_held[rows] = True

    def _raise(self, rows: IntArray, now: _Step) -> BoolArray:
        """Lift the rising contacts as far as they go and return which cases no forces can hold."""
        contacts = self._contacts
        at = np.arange(len(rows))
        way = now.inverse[at, :, now.rising]
        opening = way @ self._give
        pivot = way[at, now.rising]
        is_free = pivot * contacts.flexibility[now.rising, now.rising] > _LEAST_PIVOT
        whole = np.divide(-now.press[at, now.rising], pivot, out=np.full(len(rows), np.inf), where=is_free)
        least = 1e-12 * np.max(np.abs(opening), axis=1, initial=0.0)
        closes = ~self.touching[rows] & (opening < -least[:, None])
        room = np.divide(np.maximum(now.gap, 0.0), -opening, out=np.full(opening.shape, np.inf), where=closes)
        nearest = np.argmin(room, axis=1)
        part = room[at, nearest]
        is_lost = ~np.isfinite(whole) & ~np.isfinite(part)
        is_whole = (whole <= part) & ~is_lost
        is_part = ~is_whole & ~is_lost
        self.touching[rows[is_whole], now.rising[is_whole]] = False
        self._rising[rows] = np.where(is_part, now.rising, -1)
        self._lift[rows[is_part]] += part[is_part]
        self.touching[rows[is_part], nearest[is_part]] = True
        return np.asarray(is_lost)


def _take(now: _Step, which: BoolArray) -> _Step:
    return _Step(
        inverse=now.inverse[which],
        press=now.press[which],
        modes=now.modes[which],
        gap=now.gap[which],
        rising=now.rising[which],
    )
