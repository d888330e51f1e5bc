"""What to do next on site, from what was measured there: square, level, posts, boards.

Each part is a room within the room with a front door of its own: ``from evenfoot.setting import square``.
"""

from evenfoot.setting import boards, level, square

__all__ = ["boards", "level", "square"]
