"""What would make a plan pass: changes tried on the whole job, one at a time, with what each costs (note 099)."""

from evenfoot.options.changes import Change
from evenfoot.options.parts import Part, Shortfall
from evenfoot.options.remedies import Remedies, Trial, find_remedies

__all__ = ["Change", "Part", "Remedies", "Shortfall", "Trial", "find_remedies"]
