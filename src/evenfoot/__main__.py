"""``python -m evenfoot`` is the command line."""

from evenfoot.cli import main

main()
