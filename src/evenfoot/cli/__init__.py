"""The command line: parse, call one office function, show the answer."""

from evenfoot.cli.main import main

__all__ = ["main"]
