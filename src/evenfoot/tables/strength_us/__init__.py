"""What North American practice puts on record: lumber values, sizes, factors, and the published tables for decks."""

from evenfoot.tables.figures import Figure
from evenfoot.tables.strength_us.deck import (
    DeckRow,
    beam_row,
    big_post_row,
    decking_row,
    footing_row,
    joist_rows,
    post_row,
)
from evenfoot.tables.strength_us.factors import factor
from evenfoot.tables.strength_us.lumber import Lumber, Name, lumber, name_of, nominal_of, size_row

__all__ = [
    "DeckRow",
    "Figure",
    "Lumber",
    "Name",
    "beam_row",
    "big_post_row",
    "decking_row",
    "factor",
    "footing_row",
    "joist_rows",
    "lumber",
    "name_of",
    "nominal_of",
    "post_row",
    "size_row",
]
