"""What is cut on every timber, and the order in which the frame goes together by hand."""

from evenfoot.joints.detail import detail_joints
from evenfoot.joints.model import Cut, CutKind, Face, Joinery, Step
from evenfoot.joints.solids import board_solid, timber_solids

__all__ = ["Cut", "CutKind", "Face", "Joinery", "Step", "board_solid", "detail_joints", "timber_solids"]
