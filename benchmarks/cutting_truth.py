"""Small cutting problems held against trying everything: as they come, and with every late step of the solver at work.

Run: python benchmarks/cutting_truth.py [--seeds N] [--first SEED]

Each seed gives two problems of up to nine pieces (several stocks, grades, limited supply; the second with ends of
value and clear runs besides). Every plan is checked piece by piece, must be proved and must cost what the cheapest of
all plans costs; the first that does not ends the run with its seed. The same problems run in the test suite, for fewer
seeds.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "unit" / "solvers_cutstock"))

from brute import cheapest, faults_of
from late_steps import every_step
from problems import featured, small

from evenfoot.solvers.cutstock import solve_cutting


def run(seeds: range) -> int:
    count = 0
    for seed in seeds:
        for kind in (small, featured):
            items, stocks = kind(seed)
            result = solve_cutting(items, stocks)
            assert faults_of(items, stocks, result) == [], (kind.__name__, seed)
            assert result.is_proved, (kind.__name__, seed)
            assert result.cost == cheapest(items, stocks), (kind.__name__, seed)
            count += 1
    return count


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=3000)
    parser.add_argument("--first", type=int, default=10_000)
    given = parser.parse_args()
    seeds = range(given.first, given.first + given.seeds)
    begun = time.process_time()
    print(f"as they come: {run(seeds)} problems, all proved and right ({time.process_time() - begun:.0f} s)")
    every_step(setattr)
    begun = time.process_time()
    print(f"late steps at work: {run(seeds)} problems, all proved and right ({time.process_time() - begun:.0f} s)")


if __name__ == "__main__":
    main()
