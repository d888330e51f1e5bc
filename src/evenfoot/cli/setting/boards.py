"""``evenfoot set boards``: edges, widths and bows in; spacers, marks and pushes out."""

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
        click.Option(["--edge"], nargs=2, multiple=True, metavar=f"7 {length}", help=text("edge")),
        click.Option(["--board"], nargs=2, multiple=True, metavar=f"7 {length}", help=text("board")),
        click.Option(["--moisture"], nargs=2, multiple=True, metavar="7 %", help=text("moisture")),
        click.Option(["--run"], default="", metavar=length, help=text("run")),
        click.Option(["--width"], default="", metavar=length, help=text("board-width")),
        click.Option(["--gap"], default="", metavar=length, help=text("gap")),
        click.Option(["--last-gap"], default="", metavar=length, help=text("last-gap")),
        click.Option(["--step"], default="", metavar=length, help=text("step")),
        click.Option(["--every"], type=click.IntRange(1, 100), default=1, help=text("every")),
        click.Option(["--bow"], nargs=2, multiple=True, metavar=f"b7.1 {length}", help=text("bow")),
        click.Option(["--bows"], is_flag=True, help=text("bows")),
        click.Option(["--length"], default="", metavar=length, help=text("board-length")),
        click.Option(["--thickness"], default="", metavar=length, help=text("thickness")),
        click.Option(["--spacing"], default="", metavar=length, help=text("spacing")),
        click.Option(["--stiffness"], default="", metavar="N/mm2", help=text("stiffness")),
        click.Option(["--within"], default="", metavar=length, help=text("within")),
        click.Option(["--tape"], default="", metavar=length, help=text("tape")),
    ]


def _act(asked: setting.Asked, given: Mapping[str, Any]) -> setting.Answer:
    from evenfoot.office import setting

    if given["bow"] or given["bows"]:
        own = {name: given[name] for name in ("length", "width", "thickness", "spacing", "stiffness")}
        return setting.ask_bows(asked, setting.BowsTyped(bows=given["bow"], **own))
    own = {name: given[name] for name in ("run", "width", "gap", "last_gap", "step", "within", "tape", "every")}
    return setting.ask_boards(
        asked, setting.BoardsTyped(edges=given["edge"], widths=given["board"], moisture=given["moisture"], **own)
    )


def _wants(asked: setting.Asked) -> tuple[tuple[str, str], ...]:
    from evenfoot.office import setting

    return setting.boards_questions(asked)


def _fill(answers: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Return what was answered as the options that it stands for."""
    given: dict[str, Any] = {name: texts[0] for name, texts in answers.items() if texts[0] != "?"}
    row, edge = given.pop("row", ""), given.pop("edge", "")
    return given | {"edge": ((row, edge),) if row and edge else ()}


PART = Part(
    name="boards",
    options=_options,
    act=_act,
    wants=_wants,
    fill=_fill,
    undoes=("board-edge", "board-width", "bow", "moisture"),
)
