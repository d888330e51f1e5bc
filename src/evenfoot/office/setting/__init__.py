"""What is asked on site while building: is it square, is it level, what next for posts and boards."""

from evenfoot.office.setting.bench import Answer, Asked, undo_last
from evenfoot.office.setting.boards import BoardsTyped, ask_boards, boards_questions
from evenfoot.office.setting.bows import BowsTyped, ask_bows
from evenfoot.office.setting.level import LevelTyped, ask_level, level_questions
from evenfoot.office.setting.lines import LinesTyped, ask_lines
from evenfoot.office.setting.posts import PostsTyped, ask_posts, posts_questions
from evenfoot.office.setting.square import SquareTyped, ask_square, square_questions

__all__ = [
    "Answer",
    "Asked",
    "BoardsTyped",
    "BowsTyped",
    "LevelTyped",
    "LinesTyped",
    "PostsTyped",
    "SquareTyped",
    "ask_boards",
    "ask_bows",
    "ask_level",
    "ask_lines",
    "ask_posts",
    "ask_square",
    "boards_questions",
    "level_questions",
    "posts_questions",
    "square_questions",
    "undo_last",
]
