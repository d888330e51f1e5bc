"""What is on record: figures from standards, handbooks and the trade, each with its source and whether it is confirmed."""

from evenfoot.tables import wood
from evenfoot.tables.wood import Species, species, species_ids

__all__ = ["Species", "species", "species_ids", "wood"]
