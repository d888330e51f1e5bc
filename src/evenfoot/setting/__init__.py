"""What to do next on site, from what was measured there: square, level, posts, boards.

Each part is a room within the room with a front door of its own: ``from evenfoot.setting import square``.
"""

from evenfoot.setting import boards, level, posts, square
from evenfoot.setting.slips import likely_slip
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY
from evenfoot.tables import levels

setting_figure = levels.setting_figure

__all__ = ["NINETEEN_IN_TWENTY", "boards", "level", "likely_slip", "posts", "setting_figure", "square"]
