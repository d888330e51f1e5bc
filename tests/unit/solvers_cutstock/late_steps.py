"""Settings under which small problems go through the late steps of the solver, which large ones alone reach."""

from __future__ import annotations

from evenfoot.solvers.cutstock import descent, dive, master, solve


def one_piece_a_stick(problem, left):
    """The dearest of plans, so that nothing is settled before the last steps."""
    uses = []
    for item, demand in enumerate(left.demands):
        stocks = [j for j, n in enumerate(problem.limits) if n is None and problem.allows(item, j)]
        one = tuple(int(k == item) for k in range(len(problem.sizes)))
        stock = max(stocks, key=lambda j: problem.price(j, one))
        uses += [(stock, demand, one)] if demand else []
    return uses


def every_step(put):
    """Keep plans from being found early, and let every later step come into play, on problems however small.

    ``put(owner, name, value)`` sets an attribute (``setattr``, or a patch that is undone).
    """
    put(solve, "best_greedy", one_piece_a_stick)
    put(solve, "cut_from", lambda *_: None)
    put(solve._Work, "_dive", lambda *_: None)
    for name, value in (("GLANCED", 0), ("MANY_PLACES", 0), ("FEW_PATTERNS", 0), ("FIRST_TURN", 1), ("MORE", 2)):
        put(solve, name, value)
    put(solve, "FEW_COSTS", 10**4)
    put(descent, "LAST_PIECES", 4)
    put(dive, "FEW_PIECES", 0)
    put(master, "MANY", 3)
    put(master, "LIKELY", 2)
