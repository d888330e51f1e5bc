"""The outside program may find a plan; what it says is never taken for true."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import scipy.optimize

sys.path.insert(0, str(Path(__file__).parent))
from brute import cheapest, faults_of
from problems import middling, small

from evenfoot.solvers.cutstock import CutLimits, solve, solve_cutting
from evenfoot.solvers.cutstock.branch import is_plan
from evenfoot.solvers.cutstock.patterns import list_patterns
from evenfoot.solvers.cutstock.problem import prepare
from evenfoot.solvers.cutstock.program import plan_by_program


@pytest.mark.parametrize("seed", range(12))
def test_it_finds_the_cheapest_plan_over_all_patterns_and_none_below(seed):
    items, stocks = small(seed)
    problem = prepare(items, stocks)
    patterns = list_patterns(problem, None, 0, 5_000).patterns()
    least = cheapest(items, stocks) // problem.price_unit
    plan = plan_by_program(problem, patterns, most=least, nodes=100)
    assert is_plan(problem, plan)
    assert problem.cost(plan) == least
    assert plan_by_program(problem, patterns, most=least - 1, nodes=100) is None


def test_no_patterns_give_no_plan():
    assert plan_by_program(prepare(*small(1)), [], most=10, nodes=1) is None


LIES = (None, np.nan, 0.0, 0.4, 1e6)


@pytest.mark.parametrize("lie", LIES)
def test_a_false_answer_is_dropped(monkeypatch, lie):
    """Whatever vector comes back, called optimal or not: what is no plan, or too dear, is none."""

    def liar(costs, **_):
        x = None if lie is None else np.full(len(costs), lie)
        return SimpleNamespace(x=x, status=0, fun=0.0, mip_dual_bound=1e9)

    monkeypatch.setattr(scipy.optimize, "milp", liar)
    problem = prepare(*middling(3))
    patterns = list_patterns(problem, None, 0, 5_000).patterns()
    assert plan_by_program(problem, patterns, most=problem.cost([(0, 1, patterns[0][1])]), nodes=1) is None


def hurried(monkeypatch, program):
    """Let the whole work rest on the program: no dives of use, no branching of ours to speak of."""
    monkeypatch.setattr(solve, "plan_by_program", program)
    monkeypatch.setattr(solve._Work, "_dive", lambda *_: None)
    unproved = 0
    for seed in range(40):
        items, stocks = middling(seed)
        result = solve_cutting(items, stocks, CutLimits(work=1, tie_work=0))
        assert faults_of(items, stocks, result) == [], seed
        truth = solve_cutting(items, stocks, CutLimits(program_nodes=0))
        assert truth.is_proved, seed
        assert result.bound <= truth.cost <= result.cost, seed
        unproved += not result.is_proved
    return unproved


def test_a_plan_from_it_counts_and_silence_from_it_proves_nothing(monkeypatch):
    found, silent = hurried(monkeypatch, plan_by_program), hurried(monkeypatch, lambda *_, **__: None)
    assert found <= silent
    assert silent


def test_without_nodes_it_is_never_asked(monkeypatch):
    def never(*_, **__):
        raise AssertionError

    monkeypatch.setattr(solve, "plan_by_program", never)
    for seed in range(30):
        solve_cutting(*middling(seed), CutLimits(work=1, program_nodes=0))
