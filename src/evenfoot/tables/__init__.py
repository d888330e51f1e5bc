"""What is on record: figures of standards, handbooks and the trade, each with its source and its flag."""

from evenfoot.tables import boards, coating, fasteners, joinery, labour, levels, steps, strength_jp, wood
from evenfoot.tables.sources import Source, source_on_record
from evenfoot.tables.wood import Species, species, species_ids

__all__ = [
    "Source",
    "Species",
    "boards",
    "coating",
    "fasteners",
    "joinery",
    "labour",
    "levels",
    "source_on_record",
    "species",
    "species_ids",
    "steps",
    "strength_jp",
    "wood",
]
