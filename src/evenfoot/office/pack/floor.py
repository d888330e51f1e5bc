"""The floor as its posts feel it, as plain data: from it the phone finds what rocks and what to shave or pack."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenfoot.plan import Plan
from evenfoot.setting import NINETEEN_IN_TWENTY, posts, setting_figure

_LONGER = 1000.0
"""How much longer posts are taken to see how they give and weigh then [mm]; both grow in a straight line."""
_DRAWS, _DRAWS_BEYOND = 150, 40
"""Floors drawn to say how sure a rock is, as ``evenfoot set posts`` draws them."""
_NINETEEN_IN_TWENTY = 1.96
"""The room of posts counts 19 in 20 by this rounded figure."""
_FIGURES = {
    "gap_reading_mm": "gap_reading",
    "feeler_mm": "feeler",
    "rock_limit_mm": "rock_limit",
    "post_step_mm": "post_step",
    "level_within_mm": "level_within",
    "load_share": "load_share",
    "walker_kg": "walker",
}


def posts_record(plan: Plan) -> dict[str, Any]:
    """Return the posts of a plan whose log holds no gap yet: what each needs, and the frame over them."""
    frame = plan.frame
    kinds: dict[object, int] = {}
    cuts = []
    for cut, place in zip(plan.posts.cuts, frame.posts, strict=True):
        slopes = [abs(slope) for slope in place.underside_slope]
        falls = cut.head_falls_toward_deg
        kind = (cut.width, cut.depth, cut.species, round(cut.head_angle_deg, 1), falls)
        cuts.append(
            {
                "mark": cut.mark,
                "x_mm": cut.x,
                "y_mm": cut.y,
                "width_mm": cut.width,
                "depth_mm": cut.depth,
                "kind": kinds.setdefault(kind, len(kinds)),
                "length_mm": cut.length,
                "surface_length_mm": cut.length,
                "surface_sigma_mm": cut.sigma,
                "rough_mm": cut.rough_length,
                "head_rise_mm": (slopes[0] * cut.width + slopes[1] * cut.depth) / 2,
                "top_mm": frame.top_at_wall - frame.fall * cut.y,
                "foot_angle_deg": cut.foot_angle_deg,
                "foot_gap_mm": cut.foot_gap,
            }
        )
    return {
        "cuts": cuts,
        "hands": {
            "gap_sigma_mm": plan.job.site.accuracy / _NINETEEN_IN_TWENTY,
            "cut_sigma_mm": posts.cut_tolerance() / _NINETEEN_IN_TWENTY,
            "rough_allowance_mm": plan.job.frame.rough_allowance,
            "rough_step_mm": posts.rough_step(),
        },
        "figures": {key: setting_figure(name).value for key, name in _FIGURES.items()},
        "frame": _frame_record(plan),
        "normals": _normals(len(cuts)),
        "nineteen_in_twenty": NINETEEN_IN_TWENTY,
    }


def _frame_record(plan: Plan) -> dict[str, Any]:
    """Return the frame without feet; how a post gives and weighs grows with its length."""
    longer = replace(
        plan.posts,
        cuts=tuple(replace(cut, length=cut.length + _LONGER) if cut.is_cut else cut for cut in plan.posts.cuts),
    )
    bare, whole = (posts.float_floor(plan.job, plan.frame, plan.posts, has_boards=b) for b in (False, True))
    later = posts.float_floor(plan.job, plan.frame, longer, has_boards=False)
    return {
        "marks": list(bare.marks),
        "x_mm": bare.x.tolist(),
        "y_mm": bare.y.tolist(),
        "give_mm_per_n": bare.give.tolist(),
        "shapes": bare.shapes.tolist(),
        "seat_mm_per_n": bare.seat.tolist(),
        "seat_per_mm": ((later.seat - bare.seat) / _LONGER).tolist(),
        "own_bare_n": bare.own.tolist(),
        "own_with_boards_n": whole.own.tolist(),
        "own_n_per_mm": ((later.own - bare.own) / _LONGER).tolist(),
        "walked_at_mm": bare.walked_at.tolist(),
        "walked_load": bare.walked_load.tolist(),
        "pairs": [list(pair) for pair in posts.neighbours(bare)],
    }


def _normals(count: int) -> list[list[float]]:
    """Return the draws by which the engine says how sure a rock is, so that the phone says the same."""
    draws = _DRAWS if count <= posts.EXACT_UP_TO else _DRAWS_BEYOND
    drawn: list[list[float]] = np.random.default_rng(1).normal(size=(draws, count)).tolist()
    return drawn
