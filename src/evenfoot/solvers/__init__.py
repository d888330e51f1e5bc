"""Maths that knows no timber."""

from evenfoot.solvers import beam_element, complementarity, cutstock, grillage, nearby, network
from evenfoot.solvers.fit import LinearFit, chi_squared_limit, excess_sigma, fit_linear, students_t_limit
from evenfoot.solvers.robust import steadiest_part

__all__ = [
    "LinearFit",
    "beam_element",
    "chi_squared_limit",
    "complementarity",
    "cutstock",
    "excess_sigma",
    "fit_linear",
    "grillage",
    "nearby",
    "network",
    "steadiest_part",
    "students_t_limit",
]
