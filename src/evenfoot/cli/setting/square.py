"""``evenfoot set square``: sides and diagonals in, which corner to push out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import click

from evenfoot.cli.setting.shared import Part
from evenfoot.words import Speaker

if TYPE_CHECKING:
    from evenfoot.office import setting


def _options(speaker: Speaker) -> list[click.Parameter]:
    def text(code: str) -> str:
        return speaker.say(f"cli.set-{code}")

    length = speaker.say("cli.set-length-word")
    return [
        click.Option(["--sides"], nargs=4, metavar=f"{length}x4", help=text("sides")),
        click.Option(["--diagonals"], nargs=2, metavar=f"{length}x2", help=text("diagonals")),
        click.Option(["--between"], nargs=2, multiple=True, metavar=f"1-3 {length}", help=text("between")),
        click.Option(["--size"], nargs=2, metavar=f"{length}x2", help=text("size")),
        click.Option(["--corner"], nargs=2, multiple=True, metavar="X Y", help=text("corner")),
        click.Option(["--lines"], is_flag=True, help=text("lines")),
        click.Option(["--wall"], nargs=2, multiple=True, metavar="X OUT", help=text("wall")),
        click.Option(["--within"], default="", metavar=length, help=text("within")),
        click.Option(["--tape"], default="", metavar=length, help=text("tape")),
    ]


def _act(asked: setting.Asked, given: Mapping[str, Any]) -> setting.Answer:
    from evenfoot.office import setting

    if given["lines"] or given["wall"]:
        lines = setting.LinesTyped(
            size=given["size"] or (), wall=given["wall"], within=given["within"], tape=given["tape"]
        )
        return setting.ask_lines(asked, lines)
    typed = setting.SquareTyped(
        sides=given["sides"] or (),
        diagonals=given["diagonals"] or (),
        between=given["between"],
        size=given["size"] or (),
        corners=given["corner"],
        within=given["within"],
        tape=given["tape"],
    )
    return setting.ask_square(asked, typed)


def _wants(asked: setting.Asked) -> tuple[tuple[str, str], ...]:
    from evenfoot.office import setting

    return setting.square_questions(asked)


PART = Part(name="square", options=_options, act=_act, wants=_wants, undoes=("distance",))
