"""The command ``cut``: the cutting plan of a job, or of two plain lists; and facts from the saw."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from evenfoot.cli.progress import Progress
from evenfoot.words import Speaker

FINE, SHORTFALLS = 0, 1
UNITS = ("mm", "cm", "m", "in", "ft", "shaku")
GOALS = ("fewer-patterns", "longer-offcuts", "fewer-sticks", "together")
PARTS = ("board", "beam", "joist", "block", "post")
MOST_NODES = 100_000
OF_LISTS = ("kerf", "trim", "keep", "worth", "goal", "together", "spare")
"""Options that a job takes from its own files."""
OF_JOBS = ("log", "came", "sawn", "gone", "undo")


def build_cut(speaker: Speaker, shared: Sequence[click.Parameter]) -> click.Command:
    """Return the command with its help in the speaker's language."""

    def text(name: str) -> str:
        return speaker.say(f"cli.cut-{name}")

    path = click.Path(path_type=Path)
    options: list[click.Parameter] = [
        click.Argument(["files"], type=path, nargs=-1, metavar="JOB | PIECES STICKS"),
        click.Option(["--unit"], type=click.Choice(UNITS), default=None, help=text("unit")),
        click.Option(["--kerf"], default="", help=text("kerf")),
        click.Option(["--trim"], default="", help=text("trim")),
        click.Option(["--keep"], default="", help=text("keep")),
        click.Option(["--worth"], default="", help=text("worth")),
        click.Option(["--goal"], type=click.Choice(GOALS), multiple=True, help=text("goal")),
        click.Option(["--together"], type=click.Choice(PARTS), multiple=True, help=text("together")),
        click.Option(["--spare"], multiple=True, help=text("spare")),
        click.Option(["--nodes"], type=click.IntRange(0, MOST_NODES), default=None, help=text("nodes")),
        click.Option(["--came"], type=path, default=None, help=text("came")),
        click.Option(["--sawn"], multiple=True, help=text("sawn")),
        click.Option(["--gone"], multiple=True, help=text("gone")),
        click.Option(["--undo"], is_flag=True, help=text("undo")),
    ]

    def callback(**given: Any) -> int:  # noqa: ANN401 - one keyword per option
        return _run(speaker, given)

    return click.Command("cut", callback=callback, help=text("help"), params=[*options, *shared])


def _run(speaker: Speaker, given: dict[str, Any]) -> int:
    from evenfoot.office import cutting, setting

    files, is_json, undoes = given.pop("files"), given.pop("as_json"), given["undo"]
    if len(files) not in {1, 2}:
        raise click.UsageError(speaker.say("cli.cut-which-files"))
    foreign = [f"--{name}" for name in (OF_LISTS if len(files) == 1 else OF_JOBS) if given[name]]
    if foreign:
        code = "cli.cut-not-for-job" if len(files) == 1 else "cli.cut-not-for-lists"
        raise click.UsageError(speaker.say(code, options=", ".join(foreign)))
    job = files[0] if len(files) == 1 else None
    if undoes:
        asked = setting.Asked(job=job, log=given["log"], language=speaker.language)
        return _show(setting.undo_last(asked, ("stick", "sawn", "stick-gone")), is_json=is_json)
    pieces, sticks = files if len(files) == 2 else (None, None)
    question = _asked(given, speaker, cutting.CutAsked(job=job, pieces=pieces, sticks=sticks))
    progress = Progress(speaker)
    answer = cutting.cut(question, on_stage=progress)
    progress.done()
    return _show(answer, is_json=is_json)


def _asked(given: dict[str, Any], speaker: Speaker, asked: Any) -> Any:  # noqa: ANN401 - the office is imported late
    """Return the question with what was typed."""
    from dataclasses import replace

    return replace(
        asked,
        shop=given["shop"],
        log=given["log"],
        unit=given["unit"] or "",
        language=speaker.language,
        kerf=given["kerf"],
        trim=given["trim"],
        keep=given["keep"],
        worth=given["worth"],
        goals=given["goal"],
        together=given["together"],
        spares=given["spare"],
        nodes=given["nodes"],
        came=given["came"],
        sawn=given["sawn"],
        gone=given["gone"],
    )


def _show(answer: Any, *, is_json: bool) -> int:  # noqa: ANN401 - the office is imported late
    if is_json:
        plain = {key: value for key, value in answer.plain.items() if key != "detail"}  # its text is for people
        click.echo(json.dumps(plain, ensure_ascii=False, indent=1))
    else:
        click.echo("\n".join([*answer.lines, *([""] if answer.detail else []), *answer.detail]))
    return FINE if answer.is_fine else SHORTFALLS
