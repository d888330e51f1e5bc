"""One-dimensional cutting in whole numbers: sizes from stock at the least price, with a proof. Knows no timber."""

from evenfoot.solvers.cutstock.gather import gather
from evenfoot.solvers.cutstock.model import CutItem, CutLimits, CutProof, CutResult, CutStock, CutUse
from evenfoot.solvers.cutstock.solve import solve_cutting

__all__ = [
    "CutItem",
    "CutLimits",
    "CutProof",
    "CutResult",
    "CutStock",
    "CutUse",
    "gather",
    "solve_cutting",
]
