"""From standard deviations to what is said on sheets: plus or minus, 19 times in 20."""

NINETEEN_IN_TWENTY = 1.959963984540054
"""Half width of the middle 95 % of a normal spread, in standard deviations."""
