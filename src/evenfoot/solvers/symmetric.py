"""Solves large symmetric positive systems: banded Cholesky after reordering, sparse factors where the band is wide."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from evenfoot.errors import Fault, NoSolutionError

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

_WIDEST_BAND = 20
"""Half bandwidth from which sparse factors are quicker."""
_LEAST_PIVOT = 1e-11
"""Smallest pivot over its diagonal entry that still counts as stiff; less is a part that nothing holds."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Factors:
    """A factorised matrix; ``solve`` works on many right-hand sides at once."""

    order: IntArray
    band: FloatArray | None
    sparse: Any

    def solve(self, right: FloatArray) -> FloatArray:
        """Return the solution [as the matrix has it] for ``right``, shape (n, n_cases)."""
        from scipy.linalg import cho_solve_banded

        if right.shape[1] == 0:
            return right
        if self.band is None:
            found: FloatArray = self.sparse.solve(np.ascontiguousarray(right))
            return found
        out = np.empty_like(right)
        out[self.order] = cho_solve_banded((self.band, True), right[self.order], check_finite=False)
        return out


def factorise(rows: IntArray, columns: IntArray, values: FloatArray, size: int) -> Factors:
    """Return the factors of the symmetric matrix given by its entries (equal places add up).

    Raises: NoSolutionError (``mechanism``) when the matrix is not positive: ``found`` is the number of a freedom that
    nothing holds.
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    matrix = csr_array((values, (rows, columns)), shape=(size, size))
    matrix.sum_duplicates()
    order = np.asarray(reverse_cuthill_mckee(matrix, symmetric_mode=True), dtype=np.int64)
    place = np.empty(size, dtype=np.int64)
    place[order] = np.arange(size)
    entries = matrix.tocoo()
    across, down = place[entries.col], place[entries.row]
    width = int(np.max(np.abs(down - across), initial=0))
    if width > _WIDEST_BAND:
        return _sparse(matrix, order)
    keep = down >= across
    band = np.zeros((width + 1, size))
    band[down[keep] - across[keep], across[keep]] = entries.data[keep]
    return _banded(band, order)


def _banded(band: FloatArray, order: IntArray) -> Factors:
    from scipy.linalg import LinAlgError, cholesky_banded

    diagonal = band[0].copy()
    _refuse_loose(diagonal, np.where(diagonal > 0.0, 1.0, 0.0), order)
    try:
        factor = cholesky_banded(band, lower=True, overwrite_ab=True, check_finite=False)
    except LinAlgError as error:
        # LAPACK names the first leading minor that is not positive: "12-th leading minor ..."
        step = int(str(error).split("-")[0]) - 1
        raise _mechanism(int(order[step])) from error
    _refuse_loose(diagonal, factor[0] ** 2 / diagonal, order)
    return Factors(order=order, band=factor, sparse=None)


def _sparse(matrix: Any, order: IntArray) -> Factors:  # noqa: ANN401 - scipy's sparse arrays carry no types
    from scipy.sparse.linalg import splu

    options = {"SymmetricMode": True}
    try:
        factor = splu(matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=options)
    except RuntimeError as error:  # SuperLU: "Factor is exactly singular"
        raise _mechanism(_loosest(matrix)) from error
    pivots = np.abs(factor.U.diagonal())[factor.perm_c]
    _refuse_loose(matrix.diagonal(), pivots / matrix.diagonal(), np.arange(len(pivots)))
    return Factors(order=order, band=None, sparse=factor)


def _loosest(matrix: Any) -> int:  # noqa: ANN401 - scipy's sparse arrays carry no types
    """Return the freedom that moves most when a singular matrix is held by a trace of its own diagonal."""
    from scipy.sparse import diags_array
    from scipy.sparse.linalg import splu

    diagonal = matrix.diagonal()
    trace = 1e-8 * np.where(diagonal > 0.0, diagonal, 1.0)
    moved = splu((matrix + diags_array(trace)).tocsc()).solve(np.cos(np.arange(len(diagonal))))
    return int(np.argmax(np.abs(moved) * np.sqrt(np.abs(diagonal))))


def _refuse_loose(diagonal: FloatArray, share: FloatArray, order: IntArray) -> None:
    loose = np.flatnonzero(~(share > _LEAST_PIVOT) | ~(diagonal > 0.0))
    if len(loose):
        raise _mechanism(int(order[loose[0]]))


def _mechanism(freedom: int) -> NoSolutionError:
    return NoSolutionError(Fault(where="supports", code="mechanism", found=str(freedom)))
