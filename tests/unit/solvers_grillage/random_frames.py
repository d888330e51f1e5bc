"""Random frames of joists on beams on posts, for tests of the grillage."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenfoot.solvers import grillage


@dataclass(frozen=True)
class RandomFrame:
    grid: grillage.Grillage
    x: np.ndarray
    y: np.ndarray
    joist: np.ndarray
    """Whether each element is of a joist."""


def frame(rng, *, joists=5, beams=3, posts=2, over=0.0, gj=False, hold=0.0, tied=0.0, rigid=0.0):
    """Joists along y lie on beams along x, beams on posts; unequal spacings, sections, springs and overhangs.

    ``posts``: a post at every so many-th joist, and at the last. ``over``: overhang as a share of the spacing. With
    ``gj`` timbers twist and every joint holds with stiffness ``hold``. ``tied``, ``rigid``: shares of contacts that
    also pull and of posts that are rigid ground.
    """
    xs = np.cumsum(rng.uniform(300.0, 700.0, joists))
    ys = np.cumsum(rng.uniform(700.0, 1500.0, beams))
    tip = over * rng.uniform(0.4, 1.0, 4) * np.array([xs[1] - xs[0], xs[-1] - xs[-2], ys[1] - ys[0], ys[-1] - ys[-2]])
    lines = [_stops(ys, tip[2:]) for _ in xs] + [_stops(xs, tip[:2]) for _ in ys]
    at_joist = [np.searchsorted(line, ys) for line in lines[:joists]]
    at_beam = [np.searchsorted(line, xs) for line in lines[joists:]]
    counts = np.array([len(one) for one in lines])
    first = np.concatenate(([0], np.cumsum(counts)))
    n_nodes = int(first[-1])
    x = np.concatenate([np.full(len(one), xs[k]) for k, one in enumerate(lines[:joists])] + lines[joists:])
    y = np.concatenate(lines[:joists] + [np.full(len(one), ys[k]) for k, one in enumerate(lines[joists:])])
    ends = np.concatenate(
        [np.stack((a + np.arange(n - 1), a + np.arange(1, n)), 1) for a, n in zip(first[:-1], counts, strict=True)]
    )
    stands = sorted({*range(0, joists, posts), joists - 1})
    crossings = [
        (first[i] + at_joist[i][j], first[joists + j] + at_beam[j][i]) for i in range(joists) for j in range(beams)
    ]
    heads = [first[joists + j] + at_beam[j][i] for j in range(beams) for i in stands]
    post_level = n_nodes + np.arange(len(heads))
    is_rigid = rng.uniform(size=len(heads)) < rigid
    upper = np.array([a for a, _ in crossings] + heads)
    lower = np.array([b for _, b in crossings] + np.where(is_rigid, grillage.GROUND, post_level).tolist())
    per_line = rng.uniform(0.4, 2.5, len(lines))
    of = np.repeat(np.arange(len(lines)), counts - 1)
    scale = per_line[of] * np.where(of < joists, 1.0, 4.0)
    joints = np.array(crossings)
    slope, twist = n_nodes + len(heads), 2 * n_nodes + len(heads)
    pairs = [(slope + a, twist + b) for a, b in joints] + [(slope + b, twist + a) for a, b in joints]
    links = grillage.Links(freedoms=np.array(pairs), stiffness=hold * rng.uniform(0.5, 2.0, len(pairs)))
    used = ~is_rigid
    grid = grillage.Grillage(
        ends=ends,
        length=np.abs(x[ends[:, 1]] - x[ends[:, 0]]) + np.abs(y[ends[:, 1]] - y[ends[:, 0]]),
        ei=2.4e10 * scale,
        ga=2.0e6 * scale**0.4,
        level=np.arange(n_nodes),
        n_levels=n_nodes + len(heads),
        spring_level=post_level[used],
        spring=rng.uniform(2e3, 2e4, len(heads))[used],
        upper=upper,
        lower=lower,
        gj=0.9e9 * scale if gj else None,
        links=links if gj else grillage.Links.none(),
        is_tied=rng.uniform(size=len(upper)) < tied,
    )
    return RandomFrame(grid=grid, x=x, y=y, joist=of < joists)


def _stops(at, tips):
    out = list(at)
    if tips[0] > 20.0:
        out = [at[0] - tips[0], *out]
    if tips[1] > 20.0:
        out = [*out, at[-1] + tips[1]]
    return np.array(out)


def scattered(rng, built, count):
    """Loads of 700 to 1300 N at random places on joists: element, distance, force."""
    joist = np.flatnonzero(built.joist)
    element = joist[rng.integers(0, len(joist), count)]
    at = rng.uniform(0.0, 1.0, count) * built.grid.length[element]
    return element, at, rng.uniform(700.0, 1300.0, count)
