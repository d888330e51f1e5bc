"""What long work tells while it goes on."""

from __future__ import annotations

import time

import click

from evenfoot.words import Speaker

_QUIET_SECONDS = 1.0
"""Work longer than this tells which stage it is at [s]."""


class Progress:
    """Names the stage at work on standard error, once the work has taken longer than a second."""

    def __init__(self, speaker: Speaker) -> None:
        self._speaker = speaker
        self._begun = time.monotonic()
        self._has_spoken = False

    def __call__(self, stage: str) -> None:
        """Name a stage that begins."""
        if time.monotonic() - self._begun > _QUIET_SECONDS:
            self._has_spoken = True
            click.echo(self._speaker.say(f"stage.{stage}"), err=True)

    def done(self) -> None:
        """End the progress lines with the time taken."""
        if self._has_spoken:
            seconds = time.monotonic() - self._begun
            click.echo(self._speaker.say("cli.took", seconds=f"{seconds:.1f}"), err=True)
