"""``evenfoot set level``: rod readings in, turns of the feet out."""

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
        click.Option(["--rod"], nargs=2, multiple=True, metavar=f"B2 {length}", help=text("rod")),
        click.Option(["--level"], nargs=2, multiple=True, metavar=f"B2 {length}", help=text("level-up")),
        click.Option(["--at"], nargs=3, multiple=True, metavar="B2 X Y", help=text("at")),
        click.Option(["--from", "origin"], nargs=2, metavar="X Y", help=text("from")),
        click.Option(["--away"], nargs=2, multiple=True, metavar=f"B2 {length}", help=text("away")),
        click.Option(["--more"], is_flag=True, help=text("more")),
        click.Option(["--free"], multiple=True, metavar="B2", help=text("free")),
        click.Option(["--fixed"], multiple=True, metavar="B2", help=text("fixed")),
        click.Option(["--pitch"], default="", metavar=length, help=text("pitch")),
        click.Option(["--per-turn"], type=click.IntRange(1, 24), default=4, help=text("per-turn")),
        click.Option(["--reading"], default="", metavar=length, help=text("reading")),
        click.Option(["--tilt"], default="", metavar="0.3/1000", help=text("tilt")),
        click.Option(["--within"], default="", metavar=length, help=text("within")),
    ]


def _act(asked: setting.Asked, given: Mapping[str, Any]) -> setting.Answer:
    from evenfoot.office import setting

    own = {
        name: given[name] for name in ("at", "away", "free", "fixed", "pitch", "per_turn", "reading", "tilt", "within")
    }
    typed = setting.LevelTyped(
        rods=given["rod"], levels=given["level"], origin=given["origin"] or (), is_more=given["more"], **own
    )
    return setting.ask_level(asked, typed)


def _wants(asked: setting.Asked) -> tuple[tuple[str, str], ...]:
    from evenfoot.office import setting

    return setting.level_questions(asked)


def _fill(answers: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Return the rods that were read; the first mark, asked for twice, closes the survey."""
    first = {mark: texts[0] for mark, texts in answers.items()}
    again = [(mark, texts[1]) for mark, texts in answers.items() if len(texts) > 1]
    return {"rod": tuple((mark, text) for mark, text in (*first.items(), *again) if text != "?")}


PART = Part(name="level", options=_options, act=_act, wants=_wants, fill=_fill, undoes=("frame-rod", "frame-level"))
