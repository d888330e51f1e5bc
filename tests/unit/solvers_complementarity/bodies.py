"""Random bodies on one-sided contacts, and slow ways to settle them that share nothing with the solver."""

from __future__ import annotations

import itertools

import numpy as np

from evenfoot.solvers import complementarity


def body(rng, *, n, m=3, give=1e-4, two_way=()):
    """A body that gives a little between its contacts; the first three modes are lifting and tilting."""
    places = rng.uniform(0.0, 3000.0, (n, 2))
    shapes = np.c_[np.ones(n), places / 1000.0, places[:, 0] * places[:, 1] / 1e6][:, :m]
    modes = np.linalg.qr(shapes)[0] if m else np.zeros((n, 0))
    root = rng.normal(size=(n, n))
    is_two_way = np.zeros(n, dtype=bool)
    is_two_way[list(two_way)] = True
    flexibility = give * (root @ root.T / n + 0.1 * np.eye(n))
    return complementarity.Contacts(flexibility=flexibility, modes=modes, is_two_way=is_two_way)


def by_enumeration(contacts, offset, total):
    """Try every set of touching contacts; return (press, gap) of the one that obeys all laws, or None."""
    n, m = contacts.modes.shape
    for size in range(m, n + 1):
        for chosen in itertools.combinations(range(n), size):
            touch = np.array(chosen, dtype=int)
            if contacts.is_two_way[np.setdiff1d(np.arange(n), touch)].any():
                continue
            matrix = np.zeros((size + m, size + m))
            matrix[:size, :size] = contacts.flexibility[np.ix_(touch, touch)]
            matrix[:size, size:] = contacts.modes[touch]
            matrix[size:, :size] = contacts.modes[touch].T
            if np.linalg.cond(matrix) > 1e14:
                continue
            found = np.linalg.solve(matrix, np.r_[-offset[touch], total])
            press = np.zeros(n)
            press[touch] = found[:size]
            gap = offset + contacts.flexibility @ press + contacts.modes @ found[size:]
            gap[touch] = 0.0
            pushes = press[~contacts.is_two_way]
            if pushes.min(initial=0.0) >= -1e-9 * np.abs(press).max() and gap.min(initial=0.0) >= -1e-12:
                return press, gap
    return None


def by_quadratic_program(contacts, offset, total):
    """The same by a general interior-point solver; returns the forces, or None where it finds none."""
    import clarabel
    from scipy import sparse

    n, m = contacts.modes.shape
    one_way = np.flatnonzero(~contacts.is_two_way)
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.tol_gap_abs = settings.tol_gap_rel = settings.tol_feas = 1e-12
    unit = float(np.abs(contacts.flexibility).max())
    scale = max(np.abs(total).max(initial=0.0), np.abs(offset).max() / unit)
    left = np.vstack((contacts.modes.T, -np.eye(n)[one_way]))
    answer = clarabel.DefaultSolver(
        sparse.csc_matrix(np.triu(contacts.flexibility / unit)),
        offset / (unit * scale),
        sparse.csc_matrix(left),
        np.r_[total / scale, np.zeros(len(one_way))],
        [clarabel.ZeroConeT(m), clarabel.NonnegativeConeT(len(one_way))],
        settings,
    ).solve()
    return np.array(answer.x) * scale if str(answer.status) in {"Solved", "AlmostSolved"} else None
