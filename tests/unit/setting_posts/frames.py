"""Frames for tests of the posts, made by hand: beams with closed forms, random grids, tables."""

from __future__ import annotations

import numpy as np

from evenfoot.setting import posts
from evenfoot.strength import CondensedFrame

PERSON = 80.0 * posts.GRAVITY
TABLE = {"A": (0.0, 0.0), "B": (3600.0, 0.0), "C": (3600.0, 2700.0), "D": (0.0, 2700.0)}


def condensed(*, at, stiffness, own, walked_at, walked_load):
    at = np.asarray(at, dtype=float)
    return CondensedFrame(
        posts=tuple(f"P{k}" for k in range(len(at))),
        x=at[:, 0],
        y=at[:, 1],
        stiffness=np.asarray(stiffness, dtype=float),
        post_stiffness=np.full(len(at), np.inf),
        timbers_weight=np.asarray(own, dtype=float),
        boards_weight=np.zeros(len(at)),
        walked=tuple(("B1", float(k)) for k in range(len(walked_at))),
        walked_at=np.asarray(walked_at, dtype=float),
        walked_load=np.asarray(walked_load, dtype=float),
        doubts=(),
    )


def two_span_beam(*, span, bending, weight):
    """A beam over three posts, both spans alike [mm], EI [N mm2], weight per length [N/mm].

    Person at the left post, the middle of the left span, the middle post. Source: end and middle reactions 3/8 and
    10/8 w L of two equal spans, 13/32, 22/32 and -3/32 P for a load in the middle of one (any beam table).
    """
    bend = np.array([-0.5, 1.0, -0.5])
    return posts.float_frame(
        condensed(
            at=[(0.0, 0.0), (span, 0.0), (2.0 * span, 0.0)],
            stiffness=6.0 * bending / span**3 * np.outer(bend, bend),
            own=weight * span * np.array([3.0, 10.0, 3.0]) / 8.0,
            walked_at=[(0.0, 0.0), (span / 2.0, 0.0), (span, 0.0)],
            walked_load=[(1.0, 0.0, 0.0), (13.0 / 32.0, 22.0 / 32.0, -3.0 / 32.0), (0.0, 1.0, 0.0)],
        ),
        has_boards=True,
    )


def random_grid(rng, *, n, stiffness=300.0):
    """A frame that resists everything but lifting and tilting, on n posts; the person stands over posts and between."""
    at = rng.uniform(0.0, 4000.0, (n, 2))
    planes = np.linalg.qr(np.c_[np.ones(n), at / 1000.0])[0]
    root = rng.normal(size=(n, n))
    held = np.eye(n) - planes @ planes.T
    shares = np.vstack((np.eye(n), rng.dirichlet(np.ones(n), 8)))
    return condensed(
        at=at,
        stiffness=stiffness * held @ (root @ root.T / n + 0.3 * np.eye(n)) @ held,
        own=rng.uniform(50.0, 250.0, n),
        walked_at=shares @ at,
        walked_load=shares,
    )
