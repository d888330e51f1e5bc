"""What is on record: figures of standards, handbooks and the trade, each with its source and its flag."""

from evenfoot.tables import (
    boards,
    coating,
    fasteners,
    joinery,
    labour,
    levels,
    safety,
    steps,
    strength_eu,
    strength_jp,
    strength_us,
    wood,
)
from evenfoot.tables.sources import source_on_record
from evenfoot.tables.wood import species, species_ids

__all__ = [
    "boards",
    "coating",
    "fasteners",
    "joinery",
    "labour",
    "levels",
    "safety",
    "source_on_record",
    "species",
    "species_ids",
    "steps",
    "strength_eu",
    "strength_jp",
    "strength_us",
    "wood",
]
