"""geom."""
