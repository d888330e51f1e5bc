"""The commands: new, plan, check."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import click

from evenfoot.cli.show import check_lines, plan_lines, record_of
from evenfoot.words import Language, Speaker

STANDARDS = ("japan", "europe", "north-america")
_QUIET_SECONDS = 1.0
"""Work longer than this tells which stage it is at [s]."""


def build(speaker: Speaker) -> click.Group:
    """Return the command group with its help in the speaker's language."""

    def text(code: str) -> str:
        return speaker.say(f"cli.{code}")

    lang = click.Option(
        ["--lang"], type=click.Choice([x.value for x in Language]), help=text("lang"), expose_value=False
    )
    group = click.Group(name="evenfoot", help=text("help"), epilog=text("exit-codes"), params=[lang])
    as_json = click.Option(["--json", "as_json"], is_flag=True, help=text("json"))
    job = click.Argument(["job"], type=click.Path(path_type=Path))
    shop = click.Option(["--shop"], type=click.Path(path_type=Path), help=text("shop"))
    log = click.Option(["--log"], type=click.Path(path_type=Path), help=text("log"))
    standard = click.Option(["--standard"], type=click.Choice(STANDARDS), default="", help=text("standard"))
    group.add_command(
        click.Command(
            "new",
            callback=lambda **given: _new(speaker, **given),
            help=text("new"),
            params=[
                click.Argument(["file"], type=click.Path(path_type=Path), default=Path("job.toml")),
                click.Option(
                    ["--standard"],
                    type=click.Choice(STANDARDS),
                    default="japan",
                    help=text("new-standard"),
                    show_default=True,
                ),
                as_json,
                lang,
            ],
        )
    )
    out = click.Option(["--out"], type=click.Path(path_type=Path), help=text("out"))
    only = click.Option(["--only"], type=click.Choice(("pdf", "svg", "xlsx", "json")), multiple=True, help=text("only"))
    group.add_command(
        click.Command(
            "plan",
            callback=lambda **given: _plan(speaker, **given),
            help=text("plan"),
            params=[job, out, only, shop, log, as_json, lang],
        )
    )
    group.add_command(
        click.Command(
            "check",
            callback=lambda **given: _check(speaker, **given),
            help=text("check"),
            params=[job, standard, shop, log, as_json, lang],
        )
    )
    return group


def _new(speaker: Speaker, *, file: Path, standard: str, as_json: bool) -> int:
    from evenfoot.office import start_job

    path = start_job(file, standard=standard, language=speaker.language)
    _answer({"file": str(path)}, [speaker.say("cli.new-written", path=str(path))], as_json=as_json)
    return 0


def _plan(  # noqa: PLR0913 - one keyword per option of the command
    speaker: Speaker,
    *,
    job: Path,
    out: Path | None,
    only: tuple[str, ...],
    shop: Path | None,
    log: Path | None,
    as_json: bool,
) -> int:
    from evenfoot.office import PARTS, Request, draw_sheets, falls_short, findings_of, reckon, speaker_for, summarise

    progress = _Progress(speaker)
    plan = reckon(Request(job=job, shop=shop, log=log), on_stage=progress)
    progress("sheets")
    folder = out if out is not None else job.parent / "out"
    paths = draw_sheets(plan, folder, speaker.language, parts=only or PARTS)
    progress.done()
    own = speaker_for(plan, speaker.language)
    summary, findings = summarise(plan), findings_of(plan, own)
    record = record_of(summary) | {
        "files": [str(p) for p in paths],
        "shortfalls": [record_of(f) for f in findings if f.verdict != "ok"],
    }
    _answer(record, plan_lines(summary, findings, own, folder), as_json=as_json)
    return int(falls_short(findings))


def _check(  # noqa: PLR0913 - one keyword per option of the command
    speaker: Speaker, *, job: Path, standard: str, shop: Path | None, log: Path | None, as_json: bool
) -> int:
    from evenfoot.office import Request, falls_short, findings_of, reckon, speaker_for

    progress = _Progress(speaker)
    plan = reckon(Request(job=job, shop=shop, log=log, standard=standard), on_stage=progress)
    progress.done()
    own = speaker_for(plan, speaker.language)
    findings = findings_of(plan, own)
    record = {
        "name": plan.job.name,
        "standard": plan.strength.standard.value,
        "verdict": plan.verdict.value,
        "findings": [record_of(f) for f in findings],
    }
    _answer(record, check_lines(findings, own, name=plan.job.name), as_json=as_json)
    return int(falls_short(findings))


def _answer(record: dict[str, Any], lines: list[str], *, as_json: bool) -> None:
    click.echo(json.dumps(record, ensure_ascii=False, indent=1) if as_json else "\n".join(lines))


class _Progress:
    """Names the stage at work on standard error, once the work has taken longer than a second."""

    def __init__(self, speaker: Speaker) -> None:
        self._speaker = speaker
        self._begun = time.monotonic()
        self._has_spoken = False

    def __call__(self, stage: str) -> None:
        if time.monotonic() - self._begun > _QUIET_SECONDS:
            self._has_spoken = True
            click.echo(self._speaker.say(f"stage.{stage}"), err=True)

    def done(self) -> None:
        """End the progress lines with the time taken."""
        if self._has_spoken:
            seconds = time.monotonic() - self._begun
            click.echo(self._speaker.say("cli.took", seconds=f"{seconds:.1f}"), err=True)
