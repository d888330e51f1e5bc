"""What to do next on site, from what was measured there: square, level, posts, boards.

Each part is a room within the room with a front door of its own: ``from evenfoot.setting import square``.
"""

from evenfoot.setting import boards, level, square
from evenfoot.tables import levels

setting_figure = levels.setting_figure

__all__ = ["boards", "level", "setting_figure", "square"]
