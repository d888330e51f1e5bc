"""How job, shop and log files are written: their keys, ranges, defaults, and where each value stands."""
