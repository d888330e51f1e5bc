"""What carries the boards: timbers, joints with who bears on whom, post places and the grid."""

from evenfoot.frame.build import build_frame
from evenfoot.frame.model import (
    Entry,
    Frame,
    GridLine,
    Joint,
    JointKind,
    Mark,
    Member,
    PostPlace,
    Role,
    Splice,
)

__all__ = [
    "Entry",
    "Frame",
    "GridLine",
    "Joint",
    "JointKind",
    "Mark",
    "Member",
    "PostPlace",
    "Role",
    "Splice",
    "build_frame",
]
