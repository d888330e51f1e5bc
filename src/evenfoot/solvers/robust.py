"""Which half of the values agree best with one another, whatever the others say."""

from __future__ import annotations

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, OutOfRangeError

Array = NDArray[np.float64]

_TRIALS = 300


def steadiest_part(design: Array, values: Array, *, sigmas: Array) -> NDArray[np.bool_]:
    """Return which values lie nearest to the fit whose median squared misfit is least, shape (n,); just over half.

    Exact fits through p values each are tried: all of them up to 300, else 300 spread evenly. Up to nearly half of the
    values may be wrong by any amount.
    Source: P. Rousseeuw and A. Leroy, Robust Regression and Outlier Detection, 1987, chapter 3, sections 1 and 4 (the
    quantile is n/2 + (p + 1)/2); trial sets by the R-sequence of M. Roberts, 2018.
    Args: design, shape (n, p) [-]; values, shape (n,); sigmas, standard deviations, shape (n,), same unit.
    Raises: OutOfRangeError (``fit-underdetermined``) when no p values fix the unknowns.
    """
    rows, unknowns = design.shape
    half = min(rows, rows // 2 + (unknowns + 1) // 2)
    trials = _trials(rows, unknowns)
    matrices = design[trials]
    scale = np.linalg.norm(design, axis=0)
    bulk = np.abs(np.linalg.det(matrices / np.where(scale > 0, scale, 1.0)))
    usable = bulk > 1e-12
    if not bool(np.any(usable)):
        fault = Fault(where="design", code="fit-underdetermined", found=str(rows), allowed=f">= {unknowns}")
        raise OutOfRangeError(fault)
    solved = np.linalg.solve(matrices[usable], values[trials[usable]][..., None])[..., 0]
    misfits = np.abs(values - solved @ design.T) / sigmas
    best = misfits[int(np.argmin(np.partition(misfits, half - 1, axis=1)[:, half - 1]))]
    chosen = np.zeros(rows, dtype=np.bool_)
    chosen[np.argsort(best, kind="stable")[:half]] = True
    return chosen


def _trials(rows: int, unknowns: int) -> NDArray[np.intp]:
    """Return sets of ``unknowns`` different indices below ``rows``, shape (n_sets, unknowns)."""
    if rows < unknowns:
        return np.zeros((0, unknowns), dtype=np.intp)
    if math.comb(rows, unknowns) <= _TRIALS:
        return np.array(list(itertools.combinations(range(rows), unknowns)), dtype=np.intp).reshape(-1, unknowns)
    growth = _growth(unknowns)
    steps = np.array([growth ** -(k + 1) for k in range(unknowns)])
    spread = np.floor(np.mod(0.5 + np.outer(np.arange(2 * _TRIALS), steps), 1.0) * rows).astype(np.intp)
    ordered = np.sort(spread, axis=1)
    different: NDArray[np.intp] = spread[np.all(np.diff(ordered, axis=1) > 0, axis=1)][:_TRIALS]
    return different


def _growth(unknowns: int) -> float:
    """Return the root above one of g^(p+1) = g + 1, whose powers fill p dimensions evenly."""
    value = 1.5
    for _ in range(60):
        value = (1.0 + value) ** (1.0 / (unknowns + 1))
    return value
