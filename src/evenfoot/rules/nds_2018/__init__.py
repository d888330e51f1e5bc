"""Formulas of the National Design Specification for Wood Construction 2018, allowable stresses (here: NDS 2018).

Sizes in mm, forces in N, stresses in N/mm2. The formulas hold in any consistent units but where a clause names a length
in inches; there it stands as inches times 25.4. The temperature factor is 1.0 throughout (clause 2.3.3: outdoors).
"""
