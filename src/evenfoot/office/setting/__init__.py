"""What is asked on site while building: is it square, is it level, what next for the boards."""

from evenfoot.office.setting.bench import Answer, Asked, undo_last

__all__ = ["Answer", "Asked", "undo_last"]
