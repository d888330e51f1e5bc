"""What is asked on site while building: is it square, is it level, what next for the boards."""

from evenfoot.office.setting.bench import Answer, Asked, undo_last
from evenfoot.office.setting.lines import LinesTyped, ask_lines
from evenfoot.office.setting.square import SquareTyped, ask_square, square_questions

__all__ = ["Answer", "Asked", "LinesTyped", "SquareTyped", "ask_lines", "ask_square", "square_questions", "undo_last"]
