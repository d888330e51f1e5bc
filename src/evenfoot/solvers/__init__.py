"""solvers."""
