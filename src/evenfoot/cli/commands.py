"""The commands: new, plan, check, pack, bring, cut, serve, people, and the group set."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from evenfoot.cli.checking import check_lines
from evenfoot.cli.cut import build_cut
from evenfoot.cli.pack import bring_readings, pack_job
from evenfoot.cli.people import build_people
from evenfoot.cli.progress import Progress
from evenfoot.cli.serve import build_serve
from evenfoot.cli.setting import build_set
from evenfoot.cli.show import plan_lines
from evenfoot.words import Language, Speaker

STANDARDS = ("japan", "europe", "north-america")
PARTS = ("pdf", "svg", "dxf", "labels", "strips", "xlsx", "csv", "ics", "glb", "ifc", "json")


def build(speaker: Speaker) -> click.Group:
    """Return the command group with its help in the speaker's language."""

    def text(code: str) -> str:
        return speaker.say(f"cli.{code}")

    lang = click.Option(
        ["--lang"], type=click.Choice([x.value for x in Language]), help=text("lang"), expose_value=False
    )
    as_json = click.Option(["--json", "as_json"], is_flag=True, help=text("json"))
    group = click.Group(name="evenfoot", help=text("help"), epilog=text("exit-codes"), params=[lang])
    files = [click.Option([f"--{name}"], type=click.Path(path_type=Path), help=text(name)) for name in ("shop", "log")]
    job = click.Argument(["job"], type=click.Path(path_type=Path))

    def add(name: str, act: Callable[..., int], *params: click.Parameter) -> None:
        group.add_command(
            click.Command(
                name, callback=lambda **given: act(speaker, **given), help=text(name), params=[*params, as_json, lang]
            )
        )

    place = click.Argument(["file"], type=click.Path(path_type=Path), default=Path("job.toml"))
    add("new", _new, place, _standard(text("new-standard"), default=STANDARDS[0]))
    out = click.Option(["--out"], type=click.Path(path_type=Path), help=text("out"))
    only = click.Option(["--only"], type=click.Choice(PARTS), multiple=True, help=text("only"))
    add("plan", _plan, job, out, only, *files)
    cure = click.Option(["--remedies"], is_flag=True, help=text("remedies"))
    add("check", _check, job, _standard(text("standard"), default=None), cure, *files)
    file = click.Option(["--out"], type=click.Path(path_type=Path), help=text("pack-out"))
    address = click.Option(["--send-to"], default="", metavar="URL", help=text("pack-send-to"))
    add("pack", pack_job, job, file, address, *files)
    brought = click.Argument(["brought"], type=click.Path(path_type=Path), nargs=-1, required=True)
    add("bring", bring_readings, job, brought, files[1])
    group.add_command(build_set(speaker, [as_json, lang]))
    group.add_command(build_cut(speaker, [*files, as_json, lang]))
    group.add_command(build_serve(speaker, [as_json, lang]))
    group.add_command(build_people(speaker, [as_json, lang]))
    return group


def _standard(help_text: str, *, default: str | None) -> click.Option:
    return click.Option(
        ["--standard"], type=click.Choice(STANDARDS), default=default, help=help_text, show_default=bool(default)
    )


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
    from evenfoot.office import Request, answers, draw_sheets, reckon, record_of, speaker_for, summary

    progress = Progress(speaker)
    plan = reckon(Request(job=job, shop=shop, log=log), on_stage=progress)
    progress("sheets")
    folder = out if out is not None else job.parent / "out"
    paths = draw_sheets(plan, folder, speaker.language, parts=only or PARTS)
    progress.done()
    own = speaker_for(plan, speaker.language)
    brief, findings = summary.summarise(plan), answers.findings_of(plan, own)
    record = record_of(brief) | {
        "files": [str(p) for p in paths],
        "shortfalls": [record_of(f) for f in findings if f.verdict != "ok"],
    }
    _answer(record, plan_lines(brief, findings, own, folder), as_json=as_json)
    return int(answers.falls_short(findings))


def _check(  # noqa: PLR0913 - one keyword per option of the command
    speaker: Speaker,
    *,
    job: Path,
    standard: str | None,
    remedies: bool,
    shop: Path | None,
    log: Path | None,
    as_json: bool,
) -> int:
    from evenfoot.office import Request, answers, reckon, record_of, speaker_for
    from evenfoot.office import remedies as cures

    progress = Progress(speaker)
    plan = reckon(Request(job=job, shop=shop, log=log, standard=standard or ""), on_stage=progress)
    own = speaker_for(plan, speaker.language)
    tried = None
    if remedies:
        progress("remedies")
        tried = cures.remedies_for(plan, own)
    progress.done()
    findings = answers.findings_of(plan, own)
    record: dict[str, Any] = {
        "name": plan.job.name,
        "standard": plan.strength.standard.value,
        "verdict": plan.verdict.value,
        "findings": [record_of(f) for f in findings],
    }
    if tried is not None:
        record["remedies"] = [record_of(one) for one in tried]
    _answer(record, check_lines(findings, own, name=plan.job.name, tried=tried), as_json=as_json)
    return int(answers.falls_short(findings))


def _answer(record: dict[str, Any], lines: list[str], *, as_json: bool) -> None:
    click.echo(json.dumps(record, ensure_ascii=False, indent=1) if as_json else "\n".join(lines))
