"""How stiff the timbers of a frame are, also where the job's standard does not know the wood."""

from __future__ import annotations

from evenfoot.errors import OutOfRangeError
from evenfoot.frame import Frame, Role
from evenfoot.strength.standards import Figure, Practice, Wood
from evenfoot.tables import strength_jp

MODULUS = 8000.0
"""Mean modulus along the grain where none is known [N/mm2]. Source: EN 338:2016, table 1, class C16."""
SHEAR_MODULUS = 500.0
"""Mean shear modulus where none is known [N/mm2]. Source: EN 338:2016, table 1, class C16."""


def woods_of(practice: Practice | None, frame: Frame) -> dict[tuple[str, str], Wood]:
    """Return the wood of each species and grade in the frame's timbers and posts.

    Where there is no practice, or it does not know the wood, the stiffness is that of common softwood (``MODULUS``)
    and ``doubts`` says so.
    """
    used = {(m.species, m.strength_grade) for m in frame.members if m.role is not Role.BLOCK}
    used |= {(p.species, p.strength_grade) for p in frame.posts}
    return {(species, grade): _wood(practice, species, grade) for species, grade in sorted(used)}


def _wood(practice: Practice | None, species: str, grade: str) -> Wood:
    if practice is not None:
        try:
            return practice.wood(species=species, grade=grade)
        except OutOfRangeError:
            pass
    doubts = (f"{species} {grade} E_0",)
    return Wood(species=species, grade=grade, modulus=MODULUS, shear_modulus=SHEAR_MODULUS, doubts=doubts)


def unit_weight_of(practice: Practice | None) -> Figure:
    """Return the weight of wet timber [N/mm3]; where there is no practice, the trade's 6 kN/m3."""
    if practice is not None:
        return practice.unit_weight
    wet = strength_jp.factor("dead.wet-timber")
    return Figure(value=wet.value * 1e-6, doubts=(wet.name,))
