"""How often a misread of 10 to 100 mm among the six distances of a frame is seen and named; 200 seeded frames each."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np

from evenfoot.setting.square import Distance, Tape, Wanted, square_up

PAIRS = tuple(combinations(range(4), 2))
SIDES, DIAGONALS = ((0, 1), (1, 2), (2, 3), (0, 3)), ((0, 2), (1, 3))
ERRORS = (10, 20, 30, 50, 100)
TAPE = Tape(reading=1.5, scale=0.0002)
FRAMES = 200


def outcome(chance: np.random.Generator, kinds: tuple[tuple[int, int], ...]) -> str:
    """Return what is said of one frame, a little crooked, with one distance misread."""
    width, depth, lean = chance.uniform(2000, 8000), chance.uniform(1500, 5000), chance.normal(0, 4)
    off = chance.normal(0, 1, 2)
    away = math.sqrt(depth**2 - lean**2)
    corners = ((0.0, 0.0), (width, 0.0), (width + lean + off[0], away + off[1]), (lean, away))
    bad = kinds[chance.integers(len(kinds))]
    error = float(chance.choice(ERRORS) * chance.choice((-1, 1)))
    readings = [
        Distance(
            pair=pair,
            value=math.dist(corners[pair[0]], corners[pair[1]])
            + chance.normal(0, TAPE.reading / 1.96)
            + (error if pair == bad else 0.0),
        )
        for pair in PAIRS
    ]
    wanted = Wanted(corners=((0, 0), (width, 0), (width, depth), (0, depth)), is_size_known=False, within=3.0)
    found = {(min(s.pair), max(s.pair)) for s in square_up(wanted, readings, TAPE).suspects}
    return "unseen" if not found else "named" if found == {bad} else "among several" if bad in found else "wrong"


def main() -> None:
    for name, kinds in (("a side", SIDES), ("a diagonal", DIAGONALS)):
        chance = np.random.default_rng(5)
        said = [outcome(chance, kinds) for _ in range(FRAMES)]
        print(f"{name} misread:", {word: said.count(word) for word in ("named", "among several", "unseen", "wrong")})


if __name__ == "__main__":
    main()
