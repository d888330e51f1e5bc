"""The straight beam element that bends and shears in its own plane, exact for even loads.

Each end has w, down positive, and slope t of its section (t = dw/dx where shear is left out). Forces are taken at the
same freedoms: down, and turning as t. Moments are positive when the underside is in tension.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


def shear_ratio(*, length: FloatArray, ei: FloatArray, ga: FloatArray) -> FloatArray:
    """Return phi = 12 EI / (GA L^2) [-] of each element; 0 where ``ga`` is infinite.

    Args: length [mm]; ei, bending stiffness [N mm2]; ga, shear stiffness [N]; each of shape (n,).
    """
    return 12.0 * ei / (ga * length**2)


def stiffness(*, length: FloatArray, ei: FloatArray, ga: FloatArray) -> FloatArray:
    """Return the stiffness matrices, shape (n, 4, 4), for freedoms (w, t) of the first and second end.

    Args: length [mm]; ei [N mm2]; ga [N]; each of shape (n,).
    """
    phi = shear_ratio(length=length, ei=ei, ga=ga)
    k = ei / (length**3 * (1.0 + phi))
    a, b = 12.0 * k, 6.0 * k * length
    near, far = (4.0 + phi) * k * length**2, (2.0 - phi) * k * length**2
    out = np.empty((len(length), 4, 4))
    out[:, 0] = np.stack((a, b, -a, b), axis=1)
    out[:, 1] = np.stack((b, near, -b, far), axis=1)
    out[:, 2] = np.stack((-a, -b, a, -b), axis=1)
    out[:, 3] = np.stack((b, far, -b, near), axis=1)
    return out


def end_forces(*, stiffness: FloatArray, moved: FloatArray) -> FloatArray:
    """Return the forces that hold elements in a moved shape, without any load on them, shape (n, 4, n_cases).

    The same as the stiffness matrices times the end freedoms, written out because it is done for every load case.

    Args: stiffness, the matrices as ``stiffness`` gives them, shape (n, 4, 4); moved, the four end freedoms, shape
    (n, 4, n_cases).
    """
    k = stiffness[:, :, :, None]
    step, first, last = moved[:, 0] - moved[:, 2], moved[:, 1], moved[:, 3]
    out = np.empty_like(moved)
    out[:, 0] = k[:, 0, 0] * step + k[:, 0, 1] * (first + last)
    np.negative(out[:, 0], out=out[:, 2])
    out[:, 1] = k[:, 0, 1] * step + k[:, 1, 1] * first + k[:, 1, 3] * last
    out[:, 3] = k[:, 0, 1] * step + k[:, 1, 3] * first + k[:, 1, 1] * last
    return out


def even_load(*, length: FloatArray) -> FloatArray:
    """Return the nodal forces of an even load of 1 N/mm, shape (n, 4).

    Args: length [mm], shape (n,).
    """
    half, turn = length / 2.0, length**2 / 12.0
    return np.stack((half, turn, half, -turn), axis=1)


def point_load(*, at: FloatArray, length: FloatArray, ei: FloatArray, ga: FloatArray) -> FloatArray:
    """Return the nodal forces of a load of 1 N at ``at`` mm from the first end, shape (n, 4).

    By Betti's theorem they are how far that place goes down when each end freedom is moved by one.

    Args: at, length [mm]; ei [N mm2]; ga [N]; each of shape (n,).
    """
    phi = shear_ratio(length=length, ei=ei, ga=ga)
    s = at / length
    c = 1.0 / (1.0 + phi)
    rise = (3.0 * s**2 - 2.0 * s**3 + phi * s) * c
    first = length * (s - 2.0 * s**2 + s**3 + phi * (s - s**2) / 2.0) * c
    last = length * (s**3 - s**2 - phi * (s - s**2) / 2.0) * c
    return np.stack((1.0 - rise, first, rise, last), axis=1)


def point_give(*, at: FloatArray, length: FloatArray, ei: FloatArray, ga: FloatArray) -> FloatArray:
    """Return how far a load of 1 N sinks at ``at`` mm from the first end of an element whose ends are held [mm/N].

    The two parts of the element are stiffnesses at the load: how far it sinks when it may turn too is what is left.

    Args: as for ``point_load``.
    """
    out = np.zeros_like(at)
    inside = np.flatnonzero((at > 0.0) & (at < length))
    a, b = at[inside], (length - at)[inside]
    k = stiffness(length=a, ei=ei[inside], ga=ga[inside])[:, 2:, 2:]
    k += stiffness(length=b, ei=ei[inside], ga=ga[inside])[:, :2, :2]
    out[inside] = k[:, 1, 1] / (k[:, 0, 0] * k[:, 1, 1] - k[:, 0, 1] ** 2)
    return out


def twist_constant(*, width: float, depth: float) -> float:
    """Return the torsion constant of a rectangle [mm4].

    Source: de Saint-Venant 1855; Timoshenko and Goodier, Theory of Elasticity, 3rd ed. 1970, art. 109, eq. (160): the
    series, cut where its terms fall below the last digit. For a square 0.1406 a4.

    Args: width, depth [mm], either way round.
    """
    short, long = sorted((width, depth))
    odd = np.arange(1, 40, 2, dtype=float)
    series = float(np.sum(np.tanh(odd * math.pi * long / (2.0 * short)) / odd**5))
    return long * short**3 * (1.0 / 3.0 - 64.0 / math.pi**5 * short / long * series)


def moment(*, ends: FloatArray, x: FloatArray, q: FloatArray) -> FloatArray:
    """Return the bending moment [N mm] at distance x from the first end, underside in tension positive.

    Args: ends, forces on the element at its four freedoms, shape (n, 4, n_cases); x [mm] and q, even load [N/mm],
    shapes that broadcast to (n, n_cases).
    """
    out: FloatArray = ends[:, 1] - ends[:, 0] * x - q * x * x / 2.0
    return out


def shear(*, ends: FloatArray, x: FloatArray, q: FloatArray) -> FloatArray:
    """Return the shear force dM/dx [N] at distance x from the first end.

    Args: as for ``moment``.
    """
    out: FloatArray = -ends[:, 0] - q * x
    return out


def peak(*, ends: FloatArray, q: FloatArray) -> FloatArray:
    """Return where the moment has its peak [mm from the first end], nan where an element bears no even load.

    Args: ends, shape (n, 4, n_cases); q [N/mm], shape (n, n_cases).
    """
    loaded = np.where(q == 0.0, np.nan, q)
    out: FloatArray = -ends[:, 0] / loaded
    return out


def sag(  # noqa: PLR0913 - a field is its place, its ends and its stiffness; all are keyword-only
    *, x: FloatArray, moved: FloatArray, q: FloatArray, length: FloatArray, ei: FloatArray, ga: FloatArray
) -> FloatArray:
    """Return how far elements go down at distance x from the first end [mm], shape (n, k, n_cases).

    Args: x [mm], shape (n, k, n_cases), or (n, k, 1) for the same places in all cases; moved, the four end freedoms,
    shape (n, 4, n_cases); q, even load [N/mm], shape (n, n_cases); length [mm], ei [N mm2], ga [N], shape (n,).
    """
    size, phi = length[:, None, None], shear_ratio(length=length, ei=ei, ga=ga)[:, None, None]
    s, c, rest = x / size, 1.0 / (1.0 + phi), size - x
    square = s * s
    cube, hump = square * s, phi * (s - square) / 2.0
    w1, t1, w2, t2 = (moved[:, k, None] for k in range(4))
    rise = (3.0 * square - 2.0 * cube + phi * s) * c
    first = size * (s - 2.0 * square + cube + hump) * c
    last = size * (cube - square - hump) * c
    bend, give = (q / (24.0 * ei)[:, None])[:, None], (q / (2.0 * ga)[:, None])[:, None]
    own = bend * (x * rest) ** 2 + give * x * rest
    out: FloatArray = w1 + (w2 - w1) * rise + t1 * first + t2 * last + own
    return out


def tilt(  # noqa: PLR0913 - as for ``sag``
    *, x: FloatArray, moved: FloatArray, q: FloatArray, length: FloatArray, ei: FloatArray, ga: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return dw/dx [-] and d2w/dx2 [1/mm] of ``sag`` at distance x from the first end, shapes (n, k, n_cases).

    Args: as for ``sag``.
    """
    size, phi = length[:, None, None], shear_ratio(length=length, ei=ei, ga=ga)[:, None, None]
    s, c, rest = x / size, 1.0 / (1.0 + phi), size - x
    square, skew = s * s, phi * (0.5 - s)
    w1, t1, w2, t2 = (moved[:, k, None] for k in range(4))
    rise_1 = (6.0 * s - 6.0 * square + phi) * c / size
    rise_2 = (6.0 - 12.0 * s) * c / size**2
    first_1 = (1.0 - 4.0 * s + 3.0 * square + skew) * c
    first_2 = (6.0 * s - 4.0 - phi) * c / size
    last_1 = (3.0 * square - 2.0 * s - skew) * c
    last_2 = (6.0 * s - 2.0 + phi) * c / size
    bend, give = (q / (24.0 * ei)[:, None])[:, None], (q / (2.0 * ga)[:, None])[:, None]
    own_1 = 2.0 * bend * x * rest * (rest - x) + give * (rest - x)
    own_2 = 2.0 * bend * (size**2 - 6.0 * x * size + 6.0 * x**2) - 2.0 * give
    step = w2 - w1
    return (step * rise_1 + t1 * first_1 + t2 * last_1 + own_1, step * rise_2 + t1 * first_2 + t2 * last_2 + own_2)
