"""How boards shrink and swell with moisture, and what that does to the gap between them."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.rules.ranges import within


@dataclass(frozen=True, slots=True, kw_only=True)
class MovingBoard:
    """A board as far as its movement goes: width [mm], coefficient [per %], fibre saturation [%]."""

    width: float
    coefficient: float
    fsp: float

    def __post_init__(self) -> None:
        """Refuse figures that no timber has."""
        within("width", self.width, low=1.0, high=1000.0, unit="mm")
        within("coefficient", self.coefficient, low=0.0, high=0.006, unit="per %")
        within("fsp", self.fsp, low=15.0, high=40.0, unit="%")


def total_shrinkage_to(*, total: float, moisture: float, fsp: float) -> float:
    """Return the shrinkage [%] of the green size once dried to a moisture; nothing at or above fibre saturation.

    S_M = S_0 (1 - M/f).
    Source: Wood Handbook, chapter on moisture relations (id wh190_t13_5).   Valid: 0 <= S_0 <= 20 %; 0 <= M <= 250 %.
    Args: total, S_0 from green to oven-dry [%]; moisture, M [%]; fsp, f [%].
    Raises: OutOfRangeError outside the valid range.
    """
    within("total", total, low=0.0, high=20.0, unit="%")
    within("moisture", moisture, low=0.0, high=250.0, unit="%")
    within("fsp", fsp, low=15.0, high=40.0, unit="%")
    return total * (1.0 - min(moisture, fsp) / fsp)


def coefficient_from_total(*, total: float, fsp: float) -> float:
    """Return the dimensional change coefficient [per %] that belongs to a total shrinkage.

    C = (S/100/f) / (1 - (S/100)(f - 10)/f): the straight line of shrinkage, counted from the width at 10 % moisture.
    Source: our reconstruction; reproduces handbook table 13-5 from table 4-3 (ids wh190_t4_3, wh190_t13_5) and made
    the coefficients of the wood table that its notes call derived.
    Valid: 0 <= S <= 20 %; 15 <= f <= 40 %.
    Args: total, S from green to oven-dry [%]; fsp, f [%].
    Raises: OutOfRangeError outside the valid range.
    """
    share = within("total", total, low=0.0, high=20.0, unit="%") / 100.0
    f = within("fsp", fsp, low=15.0, high=40.0, unit="%")
    return (share / f) / (1.0 - share * (f - 10.0) / f)


def width_change(board: MovingBoard, *, start: float, finish: float) -> float:
    """Return how much wider [mm] (negative: narrower) a board is at ``finish`` than at ``start``.

    dD = D C (M_f - M_i), with both moistures held at fibre saturation, above which wood does not move.
    Source: Wood Handbook, dimensional change coefficients (id wh190_t13_5).
    Valid: printed for 6 to 14 %; straight-line extension to fibre saturation is ours and errs by less than a tenth.
    Args: board; start, M_i [%]; finish, M_f [%].
    Raises: OutOfRangeError outside 0 to 250 %.
    """
    within("start", start, low=0.0, high=250.0, unit="%")
    within("finish", finish, low=0.0, high=250.0, unit="%")
    return board.width * board.coefficient * (min(finish, board.fsp) - min(start, board.fsp))


def width_change_wide(*, width: float, total: float, start: float, finish: float) -> float:
    """Return the change of a width [mm] over a wide range of moisture, fibre saturation taken as 30 %.

    dD = D (M_f - M_i) / (3000/S_0 - 30 + M_i).
    Source: Wood Handbook, chapter on moisture relations, recalled (id wh_memory).
    Valid: 0 < S_0 <= 20 %; 0 <= M <= 30 %.
    Args: width, D [mm]; total, S_0 [%]; start, M_i [%]; finish, M_f [%].
    Raises: OutOfRangeError outside the valid range.
    """
    within("total", total, low=0.1, high=20.0, unit="%")
    within("start", start, low=0.0, high=30.0, unit="%")
    within("finish", finish, low=0.0, high=30.0, unit="%")
    return width * (finish - start) / (3000.0 / total - 30.0 + start)


def gap_at(board: MovingBoard, *, gap: float, fixing: float, moisture: float) -> float:
    """Return the clear gap [mm] at a moisture; negative when the boards would press on each other.

    g(m) = g_fix - w C (m* - m_fix*), m* = min(m, f): boards keep their pitch, so each gap takes one board's movement.
    Source: our derivation from ``width_change`` at fixed pitch (id gap_se_pitch).   Valid: gap >= 0.
    Args: board; gap, clear gap when fixed [mm]; fixing, moisture then [%]; moisture, now [%].
    Raises: OutOfRangeError outside the valid range.
    """
    within("gap", gap, low=0.0, high=100.0, unit="mm")
    return gap - width_change(board, start=fixing, finish=moisture)


def gap_to_set(board: MovingBoard, *, fixing: float, wet: float, gap_min: float) -> float:
    """Return the least gap [mm] to set when fixing so that the wet gap keeps its minimum.

    g_fix = g_min + max(0, w C (m_wet* - m_fix*)).
    Source: our derivation, as ``gap_at``.   Valid: gap_min >= 0.
    Args: board; fixing, moisture when fixed [%]; wet, after a wet spell [%]; gap_min [mm].
    Raises: OutOfRangeError outside the valid range.
    """
    within("gap_min", gap_min, low=0.0, high=100.0, unit="mm")
    return gap_min + max(0.0, width_change(board, start=fixing, finish=wet))


def gap_to_allow(board: MovingBoard, *, fixing: float, dry: float, gap_max: float) -> float:
    """Return the greatest gap [mm] to set when fixing so that the dry gap keeps its maximum; may be negative.

    g_fix = g_max - max(0, w C (m_fix* - m_dry*)).
    Source: our derivation, as ``gap_at``.   Valid: gap_max >= 0.
    Args: board; fixing, moisture when fixed [%]; dry, after a dry spell [%]; gap_max [mm].
    Raises: OutOfRangeError outside the valid range.
    """
    within("gap_max", gap_max, low=0.0, high=100.0, unit="mm")
    return gap_max - max(0.0, -width_change(board, start=fixing, finish=dry))
