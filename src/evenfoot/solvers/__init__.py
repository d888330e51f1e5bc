"""Maths that knows no timber."""

from evenfoot.solvers.fit import LinearFit, chi_squared_limit, excess_sigma, fit_linear, students_t_limit

__all__ = ["LinearFit", "chi_squared_limit", "excess_sigma", "fit_linear", "students_t_limit"]
