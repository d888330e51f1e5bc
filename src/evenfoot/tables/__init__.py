"""What is on record: figures of standards, handbooks and the trade, each with its source and its flag."""

from evenfoot.tables import boards, coating, fasteners, joinery, labour, levels, steps, strength_jp, wood
from evenfoot.tables.wood import Species, species, species_ids

__all__ = [
    "Species",
    "boards",
    "coating",
    "fasteners",
    "joinery",
    "labour",
    "levels",
    "species",
    "species_ids",
    "steps",
    "strength_jp",
    "wood",
]
