"""What every command of ``evenfoot set`` shares: its options, its questions, how its answer is shown."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.core import ParameterSource

from evenfoot.errors import OutOfRangeError
from evenfoot.words import Speaker

if TYPE_CHECKING:
    from evenfoot.office import setting

FINE, SHORTFALLS = 0, 1
UNITS = ("mm", "cm", "m", "in", "ft", "shaku")

Act = Callable[["setting.Asked", Mapping[str, Any]], "setting.Answer"]
Wants = Callable[["setting.Asked"], Sequence[tuple[str, str]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One command of the group."""

    name: str
    options: Callable[[Speaker], list[click.Parameter]]
    """Its own options; each stands for readings that may also be asked for."""
    act: Act
    """Answers from what was asked and the options given."""
    wants: Wants | None = None
    """The readings that a person is asked for: (option, question); None = it never asks."""
    fill: Callable[[Mapping[str, tuple[str, ...]]], Mapping[str, Any]] = dict
    """Turns the answers to the questions into options."""
    undoes: tuple[str, ...] = ()
    """Kinds of log lines that ``--undo`` takes back."""

    def command(self, speaker: Speaker, shared: Sequence[click.Parameter]) -> click.Command:
        """Return the command with its help in the speaker's language."""

        def callback(**given: Any) -> int:  # noqa: ANN401 - one keyword per option
            return _run(self, speaker, given)

        own = self.options(speaker)
        return click.Command(
            name=self.name,
            callback=callback,
            help=speaker.say(f"cli.set-{self.name}"),
            params=[*own, *_common(speaker), *shared],
        )


def _common(speaker: Speaker) -> list[click.Parameter]:
    def text(code: str) -> str:
        return speaker.say(f"cli.{code}")

    return [
        click.Option(["--unit"], type=click.Choice(UNITS), default=None, help=text("set-unit")),
        click.Option(["--log"], type=click.Path(path_type=Path), help=text("log")),
        click.Option(["--who"], default="", help=text("set-who")),
        click.Option(["--instrument"], default="", help=text("set-instrument")),
        click.Option(["--sure"], is_flag=True, help=text("set-sure")),
        click.Option(["--ask"], is_flag=True, help=text("set-ask")),
        click.Option(["--undo"], is_flag=True, help=text("set-undo")),
    ]


def _run(part: Part, speaker: Speaker, given: dict[str, Any]) -> int:
    from evenfoot.office import setting

    is_json, asks, undoes = (given.pop(name) for name in ("as_json", "ask", "undo"))
    asked = setting.Asked(
        job=click.get_current_context().obj,
        log=given.pop("log"),
        language=speaker.language,
        unit=given.pop("unit") or "",
        who=given.pop("who"),
        instrument=given.pop("instrument"),
        is_sure=given.pop("sure"),
    )
    if undoes:
        if asked.job is None:
            raise click.UsageError(speaker.say("cli.set-undo-without-job"))
        return _show(setting.undo_last(asked, part.undoes), is_json=is_json)
    context = click.get_current_context()
    typed = [name for name in given if context.get_parameter_source(name) is ParameterSource.COMMANDLINE]
    is_asked = part.wants is not None and (asks or (not typed and asked.job is None and sys.stdin.isatty()))
    if is_asked and part.wants is not None:
        given |= part.fill(_answers(part.wants(asked), speaker))
    try:
        answer = part.act(asked, given)
    except OutOfRangeError as error:
        if not (is_asked and _is_taken(error, speaker)):
            raise
        answer = part.act(replace(asked, is_sure=True), given)
    return _show(answer, is_json=is_json)


def _is_taken(error: OutOfRangeError, speaker: Speaker) -> bool:
    """Return whether a person at the prompt says that readings which look like slips are as typed."""
    if any(fault.code != "reading-doubtful" for fault in error.faults):
        return False
    for fault in error.faults:
        click.echo(speaker.fault(fault), err=True)
    return click.confirm(speaker.say("cli.set-keep"), err=True)


def _answers(questions: Sequence[tuple[str, str]], speaker: Speaker) -> dict[str, tuple[str, ...]]:
    """Ask each question in turn; an empty answer means not measured."""
    click.echo(speaker.say("cli.set-ask-how"), err=True)
    out: dict[str, tuple[str, ...]] = {}
    for option, question in questions:
        typed = click.prompt(question, default="", show_default=False, err=True)
        out[option] = (*out.get(option, ()), typed.strip() or "?")
    return out


def _show(answer: setting.Answer, *, is_json: bool) -> int:
    if is_json:
        click.echo(json.dumps(answer.plain, ensure_ascii=False, indent=1))
    else:
        click.echo("\n".join([*answer.lines, *([""] if answer.detail else []), *answer.detail]))
    return FINE if answer.is_fine else SHORTFALLS
