"""``evenfoot set posts``: gaps, lengths and hanging feet in; what to cut, shave, pack or leave alone out."""

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
        return speaker.say(f"cli.set-posts-{code}")

    length = speaker.say("cli.set-length-word")
    return [
        click.Option(["--at"], nargs=3, multiple=True, metavar="A X Y", help=text("at")),
        click.Option(["--gap"], nargs=2, multiple=True, metavar=f"A {length}", help=text("gap")),
        click.Option(["--cut"], nargs=2, multiple=True, metavar=f"A {length}", help=text("cut")),
        click.Option(["--hangs"], nargs=2, multiple=True, metavar=f"A {length}", help=text("hangs")),
        click.Option(["--stands"], multiple=True, metavar="A", help=text("stands")),
        click.Option(["--jack"], multiple=True, metavar="A", help=text("jack")),
        click.Option(["--anchored"], multiple=True, metavar="A", help=text("anchored")),
        click.Option(["--person"], type=float, default=None, metavar="KG", help=text("person")),
        click.Option(["--weight"], type=float, default=None, metavar="KG", help=text("weight")),
        click.Option(["--limit"], default="", metavar=length, help=text("limit")),
        click.Option(["--step"], default="", metavar=length, help=text("step")),
        click.Option(["--prefer"], type=click.Choice(("shave", "pack")), default="shave", help=text("prefer")),
        click.Option(["--boards"], is_flag=True, help=text("boards-on")),
        click.Option(["--odds"], is_flag=True, help=text("odds")),
        click.Option(["--tape"], default="", metavar=length, help=speaker.say("cli.set-tape")),
        click.Option(["--cutting"], default="", metavar=length, help=text("cutting")),
        click.Option(["--samples"], type=int, default=400, help=text("samples")),
        click.Option(["--seed"], type=click.IntRange(0), default=1, help=text("seed")),
    ]


def _act(asked: setting.Asked, given: Mapping[str, Any]) -> setting.Answer:
    from evenfoot.office import setting

    names = ("at", "stands", "anchored", "person", "weight", "limit", "step", "prefer", "tape", "cutting", "samples")
    typed = setting.PostsTyped(
        gaps=given["gap"],
        cuts=given["cut"],
        hangs=given["hangs"],
        jacks=given["jack"],
        has_boards=given["boards"],
        asks_odds=given["odds"],
        seed=given["seed"],
        **{name: given[name] for name in names},
    )
    return setting.ask_posts(asked, typed)


def _wants(asked: setting.Asked) -> tuple[tuple[str, str], ...]:
    from evenfoot.office import setting

    return setting.posts_questions(asked)


def _fill(answers: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Return what was answered as the options that it stands for: figures in one line, parted by commas."""

    def rows(name: str, size: int) -> tuple[tuple[str, ...], ...]:
        parts = [part.split() for text in answers.get(name, ()) if text != "?" for part in text.split(",")]
        return tuple(tuple(part) for part in parts if len(part) == size)

    return {"at": rows("at", 3), "hangs": rows("hangs", 2), "stands": tuple(r[0] for r in rows("stands", 1))}


PART = Part(
    name="posts",
    options=_options,
    act=_act,
    wants=_wants,
    fill=_fill,
    undoes=("post-gap", "post-length", "foot-gap", "jack"),
)
