"""How long every post is cut, and whether everything fits between sill and ground."""

from evenfoot.posts.build import cut_posts
from evenfoot.posts.model import Basis, Layer, PostCut, Posts
from evenfoot.posts.sill import door_drop, ledger_lines, slab_rows
from evenfoot.posts.stack import Cure, Room, StackFit, count_supports, cures, height_stack

__all__ = [
    "Basis",
    "Cure",
    "Layer",
    "PostCut",
    "Posts",
    "Room",
    "StackFit",
    "count_supports",
    "cures",
    "cut_posts",
    "door_drop",
    "height_stack",
    "ledger_lines",
    "slab_rows",
]
