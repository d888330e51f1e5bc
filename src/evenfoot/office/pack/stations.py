"""What the phone's other stations start from: squaring targets, marks to level, the run of the boards."""

from __future__ import annotations

import math
from typing import Any

from evenfoot.errors import NoSolutionError
from evenfoot.plan import Plan
from evenfoot.setting import boards, level, setting_figure


def square_record(plan: Plan) -> dict[str, Any]:
    """Return the corners as they should be, in the plane of the frame, and how sure a tape is."""
    layout = plan.layout
    width = layout.frame_x[1] - layout.frame_x[0]
    depth = (layout.frame_y[1] - layout.frame_y[0]) * math.hypot(1.0, plan.job.floor.fall)
    return {
        "corners_mm": [[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]],
        "within_mm": _figure("square_within"),
        "tape_reading_mm": _figure("tape_reading"),
        "tape_scale": _figure("tape_scale") / 1000,
    }


def level_record(plan: Plan) -> dict[str, Any]:
    """Return the marks that a rod is held on, how high each should lie, and what the feet of the bare frame press."""
    frame, layout = plan.frame, plan.layout
    (x0, x1), (y0, y1) = layout.frame_x, layout.frame_y
    corners = {"1": (x0, y0), "2": (x1, y0), "3": (x1, y1), "4": (x0, y1)}
    spots = [(p.mark, p.x, p.y, True) for p in frame.posts] + [(m, x, y, False) for m, (x, y) in corners.items()]
    return {
        "spots": [
            {"mark": mark, "x_mm": x, "y_mm": y, "planned_mm": -frame.fall * y, "is_foot": is_foot}
            for mark, x, y, is_foot in spots
        ],
        "within_mm": _figure("level_within"),
        "rod_reading_mm": _figure("rod_reading"),
        "laser_tilt": _figure("laser_tilt") / 1000,
        "foot_pitch_mm": _figure("foot_pitch"),
        "steps_per_turn": 4,
        "press": _press_record(plan),
    }


def _press_record(plan: Plan) -> dict[str, Any] | None:
    """Return what the feet press with, None for a frame that would fall: that is a finding of the plan itself."""
    try:
        press = level.press_of(plan.job, plan.frame, {cut.mark: cut.length for cut in plan.posts.cuts})
    except NoSolutionError:
        return None
    return {"marks": list(press.marks), "level_n": press.level.tolist(), "stiffness": press.stiffness.tolist()}


def boards_record(plan: Plan) -> dict[str, Any]:
    """Return the rows as planned, where the last edge belongs, and which gaps may be laid."""
    layout, board, climate = plan.layout, plan.job.floor.board, plan.job.climate
    share, saturation = boards.movement_of(board.species)
    return {
        "rows": [[row.number, row.near, row.far] for row in layout.rows],
        "pieces_mm": [
            [[piece.mark, piece.length] for piece in layout.pieces if piece.row == row.number] for row in layout.rows
        ],
        "line_mm": layout.rows[-1].far,
        "board_mm": board.width,
        "gap_mm": layout.gap,
        "gap_low_mm": min(board.gap_min, layout.gap),
        "gap_high_mm": max(board.gap_max, layout.gap),
        "rip_min_mm": board.rip_min,
        "start": "left" if abs(board.direction_deg) > 45 else "outer",
        "gap_step_mm": _figure("gap_step"),
        "gap_seen_mm": _figure("gap_seen"),
        "within_mm": _figure("run_within"),
        "tape_reading_mm": _figure("tape_reading"),
        "board_width_mm": _figure("board_width"),
        "board_batch_mm": _figure("board_batch"),
        "moist": {
            "c_tangential": share,
            "fsp_pct": saturation,
            "day_pct": climate.fixing,
            "dry_pct": climate.dry,
            "wet_pct": climate.wet,
        },
    }


def _figure(name: str) -> float:
    return setting_figure(name).value
