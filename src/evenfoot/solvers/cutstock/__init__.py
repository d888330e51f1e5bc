"""One-dimensional cutting in whole numbers: sizes from stock at the least price, with a proof. Knows no timber."""

from evenfoot.solvers.cutstock.gather import gather
from evenfoot.solvers.cutstock.model import (
    CutGoal,
    CutItem,
    CutLimits,
    CutOffcut,
    CutProof,
    CutResult,
    CutStock,
    CutUse,
    CutWishes,
)
from evenfoot.solvers.cutstock.polish import polish
from evenfoot.solvers.cutstock.solve import solve_cutting

__all__ = [
    "CutGoal",
    "CutItem",
    "CutLimits",
    "CutOffcut",
    "CutProof",
    "CutResult",
    "CutStock",
    "CutUse",
    "CutWishes",
    "gather",
    "polish",
    "solve_cutting",
]
