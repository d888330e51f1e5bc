"""The commands of ``evenfoot set``: what to do next on site, from what was measured there."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from evenfoot.cli.setting import boards, level, posts, square
from evenfoot.cli.setting.shared import Part
from evenfoot.words import Speaker

PARTS: tuple[Part, ...] = (square.PART, level.PART, posts.PART, boards.PART)
"""One for each command, each from a module of its own."""


class SetGroup(click.Group):
    """A group whose JOB may be left out: ``evenfoot set square ...`` asks about typed numbers alone."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put ``-`` in the place of a JOB that was left out."""
        return super().parse_args(ctx, ["-", *args] if args and args[0] in self.commands else args)


def build_set(speaker: Speaker, shared: Sequence[click.Parameter]) -> click.Group:
    """Return the group ``set`` with every command; ``shared`` are the options that all commands of Evenfoot take."""
    job = click.Argument(["job"], type=click.Path(path_type=Path, allow_dash=True))
    group = SetGroup(name="set", help=speaker.say("cli.set"), params=[job], callback=_keep_job)
    for part in PARTS:
        group.add_command(part.command(speaker, shared))
    return group


@click.pass_context
def _keep_job(ctx: click.Context, job: Path) -> None:
    ctx.obj = None if str(job) == "-" else job
